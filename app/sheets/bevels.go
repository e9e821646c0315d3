package sheets

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// bevelSheets gives the bevel of both edges of every strake at every planked frame, in
// degrees off square and as the rise in 10 mm, and then the hood ends. Of square edges
// those at the limits alone have rows. There must be such a layer.
func bevelSheets(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	l := k.Layers[layer-1]
	told := bevelled(l)
	text := answer.EdgesText(&k.Plan.Hull, l)
	if len(told) > 0 {
		text += " Each edge is planed off square by the bevel. Positive: the hull is convex there and the strake widens outwards, so wood goes from the inner corner; negative: hollow, and from the outer corner."
	}
	pieces := []*piece{note("", text, s.Room.Width)}
	const nameWidth = 13.0
	each := bevelWidth(l, told)
	n := max(int((s.Room.Width-nameWidth)/(2*each)), 1)
	first, last := l.Surface.Planked()
	for from := first; from <= last && len(told) > 0; from += n {
		to := min(from+n, last+1)
		for _, unit := range bevelUnits {
			t := bevelTable(l, from, to, nameWidth, each)
			t.title = fmt.Sprintf("Bevels, layer %d, frames %s to %s: %s", layer, l.Surface.FrameName(from), l.Surface.FrameName(to-1), unit.name)
			for _, st := range told {
				t.rows = append(t.rows, bevelRow(l, st, from, to, unit.write))
			}
			pieces = append(pieces, t.pieces(s.Room.Height)...)
		}
	}
	return flow(kind{
		section: "Bevels",
		name:    fmt.Sprintf("bevels-layer-%d", layer),
		title:   fmt.Sprintf("Bevels, layer %d, both sides", layer),
	}, append(pieces, hoodPieces(l, s)...), s.Room)
}

// bevelWidth is the width of a column that keeps every bevel, minus and all, clear of
// the rules beside it.
func bevelWidth(l *loft.Layer, told []*loft.Strake) float64 {
	width := 10.0
	for _, unit := range bevelUnits {
		for _, st := range told {
			for _, text := range bevelRow(l, st, 0, l.Surface.Frames(), unit.write)[1:] {
				width = max(width, draw.TextWidth(text, small)+2*cellPad)
			}
		}
	}
	return width
}

// bevelled are the strakes of a layer whose bevels are told.
func bevelled(l *loft.Layer) []*loft.Strake {
	var out []*loft.Strake
	for _, st := range l.Strakes {
		if tellsBevel(l, st, true) || tellsBevel(l, st, false) {
			out = append(out, st)
		}
	}
	return out
}

// tellsBevel tells whether the bevels of an edge of a strake are told: those of square
// edges are only where it is planed at a limit.
func tellsBevel(l *loft.Layer, st *loft.Strake, upper bool) bool {
	return !l.SquareEdges() || st.Planes(upper)
}

// bevelRow is the row of a strake at the frames from..to-1.
func bevelRow(l *loft.Layer, st *loft.Strake, from, to int, write func(hull.Angle) string) []string {
	row := []string{short(st.ID)}
	for i := from; i < to; i++ {
		c := st.At[i]
		for _, e := range []struct {
			upper bool
			angle hull.Angle
		}{{true, c.BevelUpper}, {false, c.BevelLower}} {
			text := ""
			if c.Laid && tellsBevel(l, st, e.upper) {
				text = write(e.angle)
			}
			row = append(row, text)
		}
	}
	return row
}

// hoodPieces is the table of the hood ends of a layer, with how they are meant; none
// where no end comes to the centre plane and none ends off it.
func hoodPieces(l *loft.Layer, s Settings) []*piece {
	t := &table{
		title: fmt.Sprintf("Hood ends, layer %d: degrees", l.Number),
		columns: []column{{"strake", 13, false}, {"at frame", 16, false}, {"off centre, mm", 16, true}, {"to centre", 14, true},
			{"rake", 12, true}, {"bevel", 13, true}},
	}
	along, unsure := false, false
	for _, h := range l.HoodEnds() {
		if h.Lies == loft.HoodOff {
			continue
		}
		along = along || h.Lies == loft.HoodAlong
		unsure = unsure || h.Lies == loft.HoodUnsure
		centre, rake, bevel := answer.HoodWords(h)
		t.rows = append(t.rows, []string{short(h.Strake), l.Surface.FrameName(h.Frame), fmt.Sprintf("%.1f", h.Breadth),
			centre, rake, bevel})
	}
	var out []*piece
	text := ""
	if len(t.rows) > 0 {
		text = answer.HoodNote + " "
		out = t.pieces(s.Room.Height)
	}
	if along {
		text += answer.HoodAlongNote + " "
	}
	if unsure {
		text += answer.HoodUnsureNote + " "
	}
	if text += answer.HoodsOff(l, answer.MM{}); text == "" {
		return nil
	}
	return append([]*piece{note("Hood ends", text, s.Room.Width)}, out...)
}

// bevelUnits are the two ways to set a bevel: by a protractor, and by a rise
// over 10 mm of edge, 10·tan of the angle.
var bevelUnits = []struct {
	name  string
	write func(hull.Angle) string
}{
	{"degrees off square", func(a hull.Angle) string { return plain("%.1f", a.Degrees(), 0.05) }},
	{"mm of rise in 10 mm", func(a hull.Angle) string { return plain("%.2f", 10*math.Tan(float64(a)), 0.005) }},
}

// plain writes a number that rounds to zero without a sign.
func plain(format string, v, half float64) string {
	if math.Abs(v) < half {
		v = 0
	}
	return fmt.Sprintf(format, v)
}

// bevelTable is the empty table of the frames from..to-1.
func bevelTable(l *loft.Layer, from, to int, nameWidth, each float64) *table {
	t := &table{
		columns: []column{{"strake", nameWidth, false}},
		spans:   []column{{"", nameWidth, false}},
	}
	for i := from; i < to; i++ {
		t.spans = append(t.spans, column{l.Surface.FrameName(i), 2 * each, false})
		t.columns = append(t.columns, column{"up", each, true}, column{"low", each, true})
	}
	return t
}
