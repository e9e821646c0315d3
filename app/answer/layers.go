package answer

import (
	"fmt"
	"io"
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// Layers is the answer of the command layers: where each is laid, its blocks, and
// where the next cannot lie on its full thickness.
type Layers struct {
	Layers  []LayerLaid `json:"layers"`
	Written string      `json:"written,omitempty"`
}

// LayerLaid is one layer of them.
type LayerLaid struct {
	Layer     int         `json:"layer"` // from 1, outwards
	Thickness float64     `json:"thickness"`
	From      string      `json:"from"` // the frames between which it is laid
	To        string      `json:"to"`
	Blocks    []BlockLaid `json:"blocks"`
	Folds     []Fold      `json:"folds"`
	Notes     []string    `json:"notes"` // of its frames, blocks and folds

}

// BlockLaid is a place of solid wood.
type BlockLaid struct {
	From  string   `json:"from"`
	To    string   `json:"to"`
	Upper float64  `json:"upper"`           // mm below the upper limit
	Lower *float64 `json:"lower,omitempty"` // left out where it goes all the way down
}

// Fold is a place where the outer face of a layer would fold.
type Fold struct {
	From      string   `json:"from"` // the frames that it reaches
	To        string   `json:"to"`
	Upper     float64  `json:"upper"` // mm below the upper limit
	Lower     float64  `json:"lower"`
	At        string   `json:"at"` // the frame where least is left, and mm down it
	Down      float64  `json:"down"`
	Radius    *float64 `json:"radius,omitempty"` // of the hollow; left out where it is something else
	Left      float64  `json:"left"`             // mm of the thickness
	ThinTo    *float64 `json:"thin_to,omitempty"`
	EndFrom   string   `json:"end_from,omitempty"` // the frames to lay the layer between
	EndTo     string   `json:"end_to,omitempty"`
	BlockFrom string   `json:"block_from"` // the frames that a block reaches
	BlockTo   string   `json:"block_to"`
}

// LayersOf tells the layers of a planking.
func LayersOf(k *loft.Planking) Layers {
	out := Layers{Layers: []LayerLaid{}}
	for i, l := range k.Layers {
		name := l.Surface.FrameName
		first, last := l.Surface.Planked()
		row := LayerLaid{
			Layer: l.Number, Thickness: k.Plan.Layers[i].Stock.Thickness, From: name(first), To: name(last),
			Blocks: []BlockLaid{}, Folds: []Fold{}, Notes: []string{},
		}
		for _, n := range l.Notes {
			switch n := n.(type) {
			case loft.MadeBlock:
				b := BlockLaid{From: name(n.From), To: name(n.To), Upper: tidy(n.Upper)}
				if !math.IsInf(n.Lower, 1) {
					b.Lower = figure(n.Lower)
				}
				row.Blocks = append(row.Blocks, b)
			case loft.Folds:
				row.Folds = append(row.Folds, foldOf(l, n))
			case loft.LaidBetween:
			default:
				continue
			}
			row.Notes = append(row.Notes, NoteText(l, n, MM{}))
		}
		out.Layers = append(out.Layers, row)
	}
	return out
}

func foldOf(l *loft.Layer, n loft.Folds) Fold {
	name := l.Surface.FrameName
	f := Fold{
		From: name(n.From), To: name(n.To), Upper: tidy(n.Upper), Lower: tidy(n.Lower), At: name(n.At), Down: tidy(n.Down),
		Left: tidy(n.Left), BlockFrom: name(n.BlockFrom), BlockTo: name(n.BlockTo),
	}
	if n.Why == loft.HollowFold {
		f.Radius = figure(n.Radius)
	}
	if n.Thin > 0 {
		f.ThinTo = figure(n.Thin)
	}
	if n.EndFrom < n.EndTo {
		f.EndFrom, f.EndTo = name(n.EndFrom), name(n.EndTo)
	}
	return f
}

// figure is a number that may be left out.
func figure(x float64) *float64 {
	x = tidy(x)
	return &x
}

// Text writes a table, and what is to be known of each layer.
func (a Layers) Text(w io.Writer) error {
	p := &page{w: w}
	t := table{head: heads("layer", "thickness", tongue.In("frame", "from"), tongue.In("frame", "to"), "blocks", "folds")}
	for _, l := range a.Layers {
		t.rows = append(t.rows, []string{fmt.Sprint(l.Layer), mm(l.Thickness), l.From, l.To, fmt.Sprint(len(l.Blocks)), fmt.Sprint(len(l.Folds))})
	}
	p.table(t)
	for _, l := range a.Layers {
		p.list(tongue.T("Layer %d", l.Layer), l.Notes)
	}
	if a.Written != "" {
		p.gap()
		p.line("Written to %s.", a.Written)
	}
	return p.err
}
