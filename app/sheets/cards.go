package sheets

import (
	"fmt"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/loft"
)

// markingCards gives a card for every planked frame: where each strake's and each
// wedge's upper and lower edge lies, mm down from the upper limit, its width along the
// frame, and what to do with the strip there. There must be such a layer.
func markingCards(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	l := k.Layers[layer-1]
	var pieces []*piece
	first, last := l.Surface.Planked()
	for f := first; f <= last; f++ {
		t := markingCard(k, l, f)
		pieces = append(pieces, t.pieces(s.Room.Height)...)
	}
	return flow(kind{
		section: "Frame marking cards",
		name:    fmt.Sprintf("marking-cards-layer-%d", layer),
		title:   fmt.Sprintf("Frame marking cards, layer %d, both sides", layer),
	}, pieces, s.Room)
}

// actionSigns are the signs of what is done with a strip, the same as in the
// strake table.
var actionSigns = map[loft.Action]string{loft.Taper: "<", loft.Full: "=", loft.Gap: ">"}

func markingCard(k *loft.Planking, l *loft.Layer, frame int) *table {
	t := &table{
		title:   fmt.Sprintf("Frame %s, layer %d: mm down from the %s", l.Surface.FrameName(frame), l.Number, k.Plan.Hull.Limits.Upper),
		columns: []column{{"strake", 13, false}, {"from", 13.3, true}, {"to", 13.3, true}, {"width", 11.4, true}, {"", 5, false}},
		foot:    "< taper   = leave whole   > gap",
	}
	for _, a := range liesAt(l, frame) {
		sign := ""
		if a.strake != nil {
			sign = actionSigns[a.strake.At[frame].Action]
		}
		t.rows = append(t.rows, []string{
			a.name(), fmt.Sprintf("%.2f", a.upper), fmt.Sprintf("%.2f", a.lower), fmt.Sprintf("%.2f", a.lower-a.upper), sign,
		})
	}
	return t
}

// bevelSheets gives the bevel of both edges of every strake at every planked frame: in
// degrees off square, and as the rise in 10 mm. There must be such a layer.
func bevelSheets(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	l := k.Layers[layer-1]
	const nameWidth, each = 13.0, 10.0
	n := max(int((s.Room.Width-nameWidth)/(2*each)), 1)
	pieces := []*piece{note("", "Each edge is planed off square by the bevel. Positive: the hull is convex there and the strake widens outwards, so wood goes from the inner corner; negative: hollow, and from the outer corner.", s.Room.Width)}
	first, last := l.Surface.Planked()
	for from := first; from <= last; from += n {
		to := min(from+n, last+1)
		for _, unit := range bevelUnits {
			t := bevelTable(l, from, to, nameWidth, each)
			t.title = fmt.Sprintf("Bevels, layer %d, frames %s to %s: %s", layer, l.Surface.FrameName(from), l.Surface.FrameName(to-1), unit.name)
			for _, st := range l.Strakes {
				row := []string{short(st.ID)}
				for i := from; i < to; i++ {
					if c := st.At[i]; c.Laid {
						row = append(row, unit.write(c.BevelUpper), unit.write(c.BevelLower))
					} else {
						row = append(row, "", "")
					}
				}
				t.rows = append(t.rows, row)
			}
			pieces = append(pieces, t.pieces(s.Room.Height)...)
		}
	}
	return flow(kind{
		section: "Bevels",
		name:    fmt.Sprintf("bevels-layer-%d", layer),
		title:   fmt.Sprintf("Bevels, layer %d, both sides", layer),
	}, pieces, s.Room)
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
