package answer

import (
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// HoodEnd is how an end of a strake lies to the centre plane; its angles are null where they are unsure.
type HoodEnd struct {
	Frame    string   `json:"frame"`
	ToCentre *float64 `json:"to_centre_deg"` // between its face and the centre plane
	Bevel    *float64 `json:"bevel_deg"`     // off square, at which its end lies in the centre plane
	Rake     *float64 `json:"rake_deg"`      // of its end off square to its run, in its face; positive where its upper edge is the longer
	Breadth  float64  `json:"breadth"`       // how far off the centre plane it ends
	Lies     string   `json:"lies"`          // meets, along, unsure or off
}

// setHoods puts the hood ends of a layer into the answers of its strakes, which are in
// its order.
func setHoods(l *loft.Layer, strakes []Strake) {
	of := map[string][]HoodEnd{}
	for _, h := range l.HoodEnds() {
		e := HoodEnd{Frame: l.Surface.FrameName(h.Frame), Breadth: tidy(h.Breadth), Lies: string(h.Lies)}
		if h.Lies != loft.HoodUnsure {
			centre, bevel, rake := degrees(h.ToCentre), degrees(h.Bevel), degrees(h.Rake)
			e.ToCentre, e.Bevel, e.Rake = &centre, &bevel, &rake
		}
		of[h.Strake] = append(of[h.Strake], e)
	}
	for i, st := range l.Strakes {
		a := &strakes[i]
		a.HoodEnds = of[st.ID]
		if a.HoodEnds == nil {
			a.HoodEnds = []HoodEnd{}
		}
		a.planes = [2]bool{!l.SquareEdges() || st.Planes(true), !l.SquareEdges() || st.Planes(false)}
	}
}

// HoodNote tells what the angles of hood ends are, and how they are measured.
const HoodNote = "“To centre” is the angle between the strake's face and the hull's centre plane, measured square to the line in which they meet. Cut the end off square to its run by the rake (positive: the upper edge is the longer), then plane it off square through the thickness by the bevel, the outer face the longer. The end then lies in the centre plane, against the one from the other side."

// HoodWords tells how an end is cut, in three cells of a table: how its face stands to the
// centre plane, its rake and its bevel, or why there are none.
func HoodWords(h loft.HoodEnd) (centre, rake, bevel string) {
	return hoodWords(h.Lies, h.ToCentre.Degrees(), h.Rake.Degrees(), h.Bevel.Degrees())
}

func hoodWords(lies loft.HoodLie, centre, rake, bevel float64) (string, string, string) {
	switch lies {
	case loft.HoodUnsure:
		return tongue.T("unknown"), "-", "-"
	case loft.HoodAlong:
		return deg(centre), "-", tongue.T("along")
	}
	return deg(centre), deg(rake), deg(bevel)
}

// HoodUnsureNote stands where the angles of an end are unknown.
const HoodUnsureNote = "Unknown: the hull turns so much beside that end that no frame tells its face; add the frame that is advised there, or fit the end on the hull."

// HoodAlongNote stands where an end is told as lying along.
const HoodAlongNote = "Along: the face lies along the post rather than against it. Cut the end to the line of the rabbet, square through the thickness, and cut the rabbet to take it."

// HoodsOff tells in a sentence which strakes of a layer end off the centre plane; ""
// for none.
func HoodsOff(l *loft.Layer, u Units) string {
	var parts []string
	first, last := l.Surface.Planked()
	for _, frame := range []int{first, last} {
		var ids []string
		least := 0.0
		for _, h := range l.HoodEnds() {
			if h.Frame == frame && h.Lies == loft.HoodOff {
				if len(ids) == 0 || h.Breadth < least {
					least = h.Breadth
				}
				ids = append(ids, h.Strake)
			}
		}
		if len(ids) > 0 {
			parts = append(parts, tongue.T("%s at frame %s, by %s and more", span(ids), l.Surface.FrameName(frame), told(u, least, 1)))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return tongue.T("Ends off the centre plane: %s. Cut these to fit the timber there.", strings.Join(parts, tongue.T(", and ")))
}

// span names the first and the last of strakes in turn.
func span(ids []string) string {
	if len(ids) == 1 {
		return ids[0]
	}
	return tongue.T("%s to %s", ids[0], ids[len(ids)-1])
}

// EdgesText tells in a sentence or two which edges of a layer are planed off square.
func EdgesText(h *hull.Hull, l *loft.Layer) string {
	limits := tongue.T("the top strake's upper edge closes against the %s, and the lowest strake's lower edge against the %s; an edge that would need more than 45 degrees stays square", hull.LimitWord(h.Limits.Upper), hull.LimitWord(h.Limits.Lower))
	switch {
	case l.SquareEdges() && !anyPlaned(l):
		return tongue.T("The edges of this layer stay square.")
	case l.SquareEdges():
		return tongue.T("The edges of this layer stay square where strakes meet. Fit those at the limits: %s.", limits)
	case h.Shapeless():
		return tongue.T("Strakes are bevelled by half the turn from one face to the next. Girths alone do not show how they meet the limits.")
	}
	return tongue.T("Strakes are bevelled by half the turn from one face to the next; %s.", limits)
}

func anyPlaned(l *loft.Layer) bool {
	for _, st := range l.Strakes {
		if st.Planes(true) || st.Planes(false) {
			return true
		}
	}
	return false
}

// bevels writes which edges are planed, by how much, and the hood ends.
func (a Strakes) bevels(p *page, strakes []Strake) {
	p.gap()
	if n := max(strakes[0].Layer, 1); n <= len(a.edges) {
		p.line("%s", a.edges[n-1].edges)
	}
	for i, heading := range []string{tongue.T("Bevel of the upper edge, degrees."), tongue.T("Bevel of the lower edge, degrees.")} {
		var planed []Strake
		for _, s := range strakes {
			if s.planes[i] {
				planed = append(planed, s)
			}
		}
		if len(planed) > 0 {
			a.matrix(p, heading, planed, func(c Crossing) string { return deg([]float64{c.BevelUpper, c.BevelLower}[i]) })
		}
	}
	a.hoods(p, strakes)
}

// layerEdges is what is told of a layer's edges and ends, in words.
type layerEdges struct{ edges, off string }

func (a Strakes) hoods(p *page, strakes []Strake) {
	t := table{head: heads("hood end of", tongue.In("frame", "at"), "off centre", "to centre", "rake", "bevel")}
	along, unsure := false, false
	for _, s := range strakes {
		for _, h := range s.HoodEnds {
			if h.Lies == string(loft.HoodOff) {
				continue
			}
			along = along || h.Lies == string(loft.HoodAlong)
			unsure = unsure || h.ToCentre == nil
			centre, rake, bevel := hoodWords(loft.HoodLie(h.Lies), angleOf(h.ToCentre), angleOf(h.Rake), angleOf(h.Bevel))
			t.rows = append(t.rows, []string{s.ID, h.Frame, mm(h.Breadth), centre, rake, bevel})
		}
	}
	if len(t.rows) > 0 {
		p.table(t)
		p.line("Hood ends, mm and degrees. %s", tongue.T(HoodNote))
	}
	if along {
		p.line(HoodAlongNote)
	}
	if unsure {
		p.line(HoodUnsureNote)
	}
	if n := max(strakes[0].Layer, 1); n <= len(a.edges) && a.edges[n-1].off != "" {
		p.line("%s", a.edges[n-1].off)
	}
}

// angleOf is an angle, degrees, 0 where there is none.
func angleOf(a *float64) float64 {
	if a == nil {
		return 0
	}
	return *a
}

// BevelCell tells the bevel of an edge at a frame, the upper or the lower, in a cell of
// a table: "square" where it is left so.
func BevelCell(l *loft.Layer, st *loft.Strake, frame int, upper bool) string {
	bevel := st.At[frame].BevelLower
	if upper {
		bevel = st.At[frame].BevelUpper
	}
	if l.SquareEdges() && !st.Planes(upper) {
		return tongue.In("bevel", "square")
	}
	return Degrees(bevel.Degrees())
}

// CrossingEdges tells the bevels of a strake at a frame of its layer in a phrase:
// "bevels 1.5° above and 1.7° below", or which edges stay square.
func CrossingEdges(l *loft.Layer, st *loft.Strake, frame int) string {
	c := st.At[frame]
	upper, lower := c.BevelUpper.Degrees(), c.BevelLower.Degrees()
	if !l.SquareEdges() {
		return tongue.T("bevels %s° above and %s° below", deg(upper), deg(lower))
	}
	var parts []string
	n := l.StrakeNamed(st.ID)
	for _, e := range []struct {
		upper bool
		deg   float64
		text  string
	}{{true, upper, tongue.T("%s° above, at the limit", deg(upper))}, {false, lower, tongue.T("%s° below, at the limit", deg(lower))}} {
		if n >= 0 && l.AtLimit(n, frame, e.upper) && !nought(e.deg, 1) {
			parts = append(parts, e.text)
		}
	}
	if len(parts) == 0 {
		return tongue.T("edges left square")
	}
	return tongue.T("edges left square, except for a bevel of %s", both(parts))
}

// hoodsText tells in a sentence an end how a strake's are cut; "" where none comes to
// the centre plane.
func (w laying) hoodsText() string {
	var out strings.Builder
	for _, h := range w.Hoods {
		if h.Lies == loft.HoodUnsure {
			out.WriteString(tongue.T(" How its face stands to the hull's centre plane at frame %s is unknown, as the hull turns so much beside it: fit that end on the hull.", w.frame(h.Frame)))
			continue
		}
		face := tongue.T(" Its face stands at %s° to the hull's centre plane at frame %s, measured square to the line in which they meet: ", deg(h.ToCentre.Degrees()), w.frame(h.Frame))
		if h.Lies == loft.HoodAlong {
			out.WriteString(face + tongue.T("cut its end there to the line of the rabbet, square through the thickness, and cut the rabbet to take it."))
			continue
		}
		out.WriteString(face + tongue.T("cut its end %s, then plane it %s° off square through the thickness, the outer face the longer.", rakeWords(h.Rake), deg(h.Bevel.Degrees())))
	}
	return out.String()
}

// rakeWords tell how an end is cut across its face.
func rakeWords(rake hull.Angle) string {
	switch {
	case nought(rake.Degrees(), 1):
		return tongue.T("square across")
	case rake < 0:
		return tongue.T("%s° off square across, its lower edge the longer", deg(-rake.Degrees()))
	}
	return tongue.T("%s° off square across, its upper edge the longer", deg(rake.Degrees()))
}
