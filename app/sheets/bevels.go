package sheets

import (
	"fmt"
	"math"
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
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
		text += tongue.T(" Each edge is planed off square by the bevel. Positive: the hull is convex there and the strake widens outwards, so wood goes from the inner corner; negative: hollow, and from the outer corner.")
	}
	pieces := []*piece{note("", text, s.Column)}
	first, last := l.Surface.Planked()
	for from := first; from <= last && len(told) > 0; {
		to := bevelsAbreast(l, told, from, last, s.Wide)
		for _, unit := range bevelUnits {
			t := bevelTable(l, told, from, to, s.Wide)
			t.title = tongue.T("Bevels, layer %d, frames %s to %s: %s", layer, l.Surface.FrameName(from), l.Surface.FrameName(to-1), tongue.T(unit.name))
			for _, st := range told {
				t.rows = append(t.rows, bevelRow(l, st, from, to, unit.write))
			}
			pieces = append(pieces, t.piece())
		}
		from = to
	}
	return flow(kind{
		section: tongue.T("Bevels"),
		name:    fmt.Sprintf("bevels-layer-%d", layer),
		title:   tongue.T("Bevels, layer %d, both sides", layer),
	}, append(pieces, hoodPieces(l, s)...), s.Room)
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
		title: tongue.T("Hood ends, layer %d: degrees", l.Number),
		columns: []column{{head: tongue.T("strake")}, {head: tongue.T("at frame")}, {head: tongue.T("off centre, mm"), number: true}, {head: tongue.T("to centre"), number: true},
			{head: tongue.T("rake"), number: true}, {head: tongue.T("bevel"), number: true}},
	}
	along, unsure := false, false
	for _, h := range l.HoodEnds() {
		if h.Lies == loft.HoodOff {
			continue
		}
		along = along || h.Lies == loft.HoodAlong
		unsure = unsure || h.Lies == loft.HoodUnsure
		centre, rake, bevel := answer.HoodWords(h)
		t.rows = append(t.rows, []string{short(h.Strake), l.Surface.FrameName(h.Frame), figure("%.1f", h.Breadth),
			tongue.Figure(centre), tongue.Figure(rake), tongue.Figure(bevel)})
	}
	var out []*piece
	text := ""
	if len(t.rows) > 0 {
		text = tongue.T(answer.HoodNote) + " "
		t.fit(0)
		out = []*piece{t.piece()}
	}
	if along {
		text += tongue.T(answer.HoodAlongNote) + " "
	}
	if unsure {
		text += tongue.T(answer.HoodUnsureNote) + " "
	}
	if text += answer.HoodsOff(l, answer.MM{}); text == "" {
		return nil
	}
	return append([]*piece{note(tongue.T("Hood ends"), text, s.Column)}, out...)
}

// bevelUnits are the two ways to set a bevel: by a protractor, and by a rise
// over 10 mm of edge, 10·tan of the angle.
var bevelUnits = []struct {
	name  string
	write func(hull.Angle) string
}{
	{tongue.Mark("degrees off square"), func(a hull.Angle) string { return plain("%.1f", a.Degrees(), 0.05) }},
	{tongue.Mark("mm of rise in 10 mm"), func(a hull.Angle) string { return plain("%.2f", 10*math.Tan(float64(a)), 0.005) }},
}

// plain writes a number that rounds to zero without a sign.
func plain(format string, v, half float64) string {
	if math.Abs(v) < half {
		v = 0
	}
	return figure(format, v)
}

// figure writes a number with the language's decimal sign.
func figure(format string, v float64) string { return tongue.Figure(fmt.Sprintf(format, v)) }

// bevelTable is the empty table of the frames from..to-1, each column as wide as it needs
// in either unit.
func bevelTable(l *loft.Layer, told []*loft.Strake, from, to int, wide float64) *table {
	name := bevelNames(told)
	spare := wide - name
	for i := from; i < to; i++ {
		spare -= 2 * bevelWidth(l, told, i)
	}
	airy := min(max(spare/float64(2*(to-from)), 0), 0.6) // where there is room, figures keep off the rules
	t := &table{
		columns: []column{{head: tongue.T("strake"), width: name}},
		spans:   []column{{width: name}},
	}
	for i := from; i < to; i++ {
		each := bevelWidth(l, told, i) + airy
		t.spans = append(t.spans, column{head: l.Surface.FrameName(i), width: 2 * each})
		t.columns = append(t.columns, column{head: tongue.T("up"), width: each, number: true}, column{head: tongue.T("low"), width: each, number: true})
	}
	return t
}

// bevelsAbreast gives the frame before which a table of bevels ends that begins at one
// and is no wider than that: where it takes more than one, all are of some width.
func bevelsAbreast(l *loft.Layer, told []*loft.Strake, from, last int, wide float64) int {
	sum := 0.0
	for i := from; i <= last; i++ {
		sum += 2 * bevelWidth(l, told, i)
	}
	room := max(wide-bevelNames(told), 1)
	share := sum/math.Ceil(sum/room) + 1e-6
	w := 0.0
	for i := from; i <= last; i++ {
		if w += 2 * bevelWidth(l, told, i); i > from && w > share {
			return i
		}
	}
	return last + 1
}

// bevelNames is the width of the strakes' column.
func bevelNames(told []*loft.Strake) float64 {
	w := draw.TextWidth(tongue.T("strake"), fine)
	for _, st := range told {
		w = max(w, draw.TextWidth(short(st.ID), fine))
	}
	return w + 2*cellPad
}

// clearOfRule is the least room between a bevel and the rule at its left, mm.
const clearOfRule = 0.4

// bevelWidth is the width of either column of a frame: every bevel, minus and all, stands
// clear of the rules beside it.
func bevelWidth(l *loft.Layer, told []*loft.Strake, frame int) float64 {
	w := max(draw.TextWidth(tongue.T("low"), fine), draw.TextWidth(l.Surface.FrameName(frame), fine)/2-cellPad/2)
	for _, st := range told {
		for _, unit := range bevelUnits {
			for _, text := range bevelRow(l, st, frame, frame+1, unit.write)[1:] {
				w = max(w, draw.TextWidth(strings.ReplaceAll(text, "-", "−"), fine)) // the longer minus, if the font has it
			}
		}
	}
	return w + cellPad + clearOfRule
}
