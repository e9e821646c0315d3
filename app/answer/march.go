package answer

import (
	"context"
	"io"
	"strconv"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// March is the answer of the command strakes with --march: what strips of constant
// width come to that are laid edge to edge outwards from the free line of each band.
type March struct {
	Rule    float64     `json:"edge_strain_rule"` // up to which a strip is sprung sideways, a ratio
	Marches []MarchBand `json:"marches"`
}

// MarchBand is the way of the strips into one band.
type MarchBand struct {
	Layer  int          `json:"layer,omitempty"` // from 1; left out where there is but one
	Band   int          `json:"band"`
	Line   int          `json:"line"` // that they set out from: 0 the upper limit, then the line under the band of that number
	Up     bool         `json:"up"`
	Free   bool         `json:"free"`   // that line is a free one
	Forced *int         `json:"forced"` // number of the first strip that is forced; nil for none
	Folds  *int         `json:"folds"`  // number of the first strip for which there is no place somewhere; nil for none
	Told   string       `json:"told"`   // what it means, in a sentence
	Strips []MarchStrip `json:"strips"` // outwards
}

// MarchStrip is one strip.
type MarchStrip struct {
	Strip  int       `json:"strip"`  // from 1, outwards
	Middle float64   `json:"middle"` // from the line to its middle
	Width  float64   `json:"width"`
	Strain float64   `json:"edge_strain_max"` // a ratio
	Frame  string    `json:"frame"`           // nearest to where that is
	Forced []string  `json:"forced_at"`       // the frames at which it is strained by more than the rule allows
	Mend   string    `json:"mend"`            // "wedge" or "taper" where it is forced, else empty
	At     []MarchAt `json:"at"`              // the frames that it comes to

	where string // the frames at which it is forced
}

// MarchAt is a strip at a frame.
type MarchAt struct {
	Frame   string  `json:"frame"`
	Down    float64 `json:"down"` // of its middle
	EdgeSet float64 `json:"edge_set_per_m"`
	Strain  float64 `json:"edge_strain"`
}

// MarchOf marches strips out into every band of every layer.
func MarchOf(ctx context.Context, k *loft.Planking) (March, error) {
	out := March{Rule: k.Plan.Rules().EdgeStrain, Marches: []MarchBand{}}
	for i, l := range k.Layers {
		marches, err := k.March(ctx, i)
		if err != nil {
			return out, err
		}
		for n := range marches {
			b := marchBand(k, l, &marches[n])
			b.Layer = layerKey(k, l)
			out.Marches = append(out.Marches, b)
		}
	}
	return out, nil
}

func marchBand(k *loft.Planking, l *loft.Layer, m *loft.March) MarchBand {
	out := MarchBand{Band: m.Band, Line: m.Line, Up: m.Up, Free: m.Free, Forced: numbered(m.Forced), Folds: numbered(m.Folds),
		Told: MarchText(k, l, m, MM{}), Strips: []MarchStrip{}}
	name := l.Surface.FrameName
	for n := range m.Strips {
		s := &m.Strips[n]
		row := MarchStrip{Strip: n + 1, Middle: tidy(s.Middle), Width: tidy(s.Width), Strain: tidy(s.Strain), Frame: name(s.Frame), Forced: []string{}, At: []MarchAt{}}
		over := s.Over(l.Rules.EdgeStrain)
		for _, f := range over {
			row.Forced = append(row.Forced, name(f))
		}
		if len(over) > 0 {
			row.Mend, row.where = mend(s), framesCalled(l, over)
		}
		for f, at := range s.At {
			if at.Laid {
				row.At = append(row.At, MarchAt{name(f), tidy(at.Down), tidy(at.EdgeSet.PerMetre()), tidy(at.Strain)})
			}
		}
		out.Strips = append(out.Strips, row)
	}
	return out
}

// numbered counts an index from 1; nil for none.
func numbered(index int) *int {
	if index < 0 {
		return nil
	}
	index++
	return &index
}

// mend is what a forced strip asks for: where strips of constant width run onto each
// other towards their ends they are tapered, where they part a wedge goes between.
func mend(s *loft.MarchStrip) string {
	if s.Gapes {
		return "wedge"
	}
	return "taper"
}

// MarchText foretells, in a sentence or two, which strip of a march is the first
// to be forced, where, and what to do.
func MarchText(k *loft.Planking, l *loft.Layer, m *loft.March, u Units) string {
	way := tongue.T("Band %d, %s", m.Band, marchStart(k, l, m))
	if len(m.Strips) == 0 {
		return tongue.T("%s: it has no room for a strip.", way)
	}
	text := way + ": " + marchVerdict(l, m, u)
	if m.Folds >= 0 {
		text += tongue.T(" From strip %d on, strips of constant width have no room near frame %s: plan tapered or spiled strakes there.", m.Folds+1, l.Surface.FrameName(m.FoldsAt))
	}
	return text
}

// marchStart tells where a march sets out, and which way: "down from free line 1".
func marchStart(k *loft.Planking, l *loft.Layer, m *loft.March) string {
	var from string
	switch lines := k.Plan.Layers[l.Number-1].Lines; {
	case m.Line == 0:
		from = tongue.In("from", "the upper limit")
	case m.Line > len(lines):
		from = tongue.In("from", "the lower limit")
	default:
		from = lineOf(lines[m.Line-1].LineType, m.Line)
	}
	if m.Up {
		return tongue.T("up from %s", from)
	}
	return tongue.T("down from %s", from)
}

// lineOf names a line from which strips march out.
func lineOf(t hull.LineType, number int) string {
	switch t {
	case hull.Free:
		return tongue.In("from", "free line %d", number)
	case hull.Least:
		return tongue.In("from", "least-edge-set line %d", number)
	}
	return tongue.In("from", "drawn line %d", number)
}

func marchVerdict(l *loft.Layer, m *loft.March, u Units) string {
	rule := strainOf(l.Rules.EdgeStrain)
	name := l.Surface.FrameName
	if m.Forced < 0 {
		most := 0
		for n := range m.Strips {
			if m.Strips[n].Strain > m.Strips[most].Strain {
				most = n
			}
		}
		s := &m.Strips[most]
		if strainOf(s.Strain) == strainOf(0) {
			return tongue.T("whole strips lie unforced all the way, %s side by side.", strips(len(m.Strips)))
		}
		return tongue.T("no whole strip is forced, %s side by side; the greatest edge strain is %s, in strip %d near frame %s, and the plan's rule allows %s.",
			strips(len(m.Strips)), strainOf(s.Strain), most+1, name(s.Frame), rule)
	}
	s := &m.Strips[m.Forced]
	where := framesCalled(l, s.Over(l.Rules.EdgeStrain))
	what := tongue.T("strip %d, its middle %s from the line, is the first to be forced, at %s, with up to %s of edge strain where the plan's rule allows %s",
		m.Forced+1, told(u, s.Middle, 1), where, strainOf(s.Strain), rule)
	if m.Forced == 0 && !m.Free {
		return tongue.T("%s: the line itself is bent there. Ease the line, or cut the strakes beside it to shape.", what)
	}
	if s.Gapes {
		return tongue.T("%s; unforced it would part from the strip before. Fit a wedge from here.", what)
	}
	return tongue.T("%s; unforced it would run onto the strip before. Taper from here.", what)
}

// strainOf tells a strain in percent.
func strainOf(x float64) string { return decimals(100*x, 2) + " %" }

// Text writes the sentence and a table a band.
func (a March) Text(w io.Writer) error {
	p := &page{w: w}
	for _, bands := range byLayer(a.Marches, func(b MarchBand) int { return b.Layer }) {
		p.layer(bands[0].Layer)
		for _, b := range bands {
			b.text(p)
		}
	}
	p.gap()
	p.line("Lengths in mm. Edge strain is the edge-set times half the strip's width; over %s a strip is forced sideways, by the plan's rule edge_strain.", strainOf(a.Rule))
	return p.err
}

func (b MarchBand) text(p *page) {
	p.gap()
	p.line("%s", b.Told)
	t := table{head: heads("strip", "middle", "from frame", tongue.In("frame", "to"), "edge strain", "at frame", "forced at", "mend")}
	for _, s := range b.Strips {
		from, to := "-", "-"
		if n := len(s.At); n > 0 {
			from, to = s.At[0].Frame, s.At[n-1].Frame
		}
		t.rows = append(t.rows, []string{strconv.Itoa(s.Strip), mm(s.Middle), from, to, strainOf(s.Strain), s.Frame, s.where, said(mendWords, s.Mend)})
	}
	p.table(t)
}
