package sheets

import (
	"fmt"
	"math"
	"slices"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Lengths of a tick strip, mm: above its zero, and below the lower limit; how
// far a mark runs in from the marked edge.
const (
	tickHead = 27.0
	tickTail = 17.5
	tickMark = 7.0
	// tickColumn is the width of a second column of numbers.
	tickColumn = 8.0
	// tickHatch is how far apart the lines of a wedge's hatching lie.
	tickHatch = 1.2
)

// wedgeName is what is written where a wedge lies.
const wedgeName = "wedge"

// tickStrips gives, for either side, a paper strip for every planked frame: bent round
// the frame from the upper limit down, its marks are the edges of that layer's
// strakes, at their girths on the surface that the layer lies on. A strake that
// is not laid at a frame has no marks there; a wedge lies between the marks of its
// neighbours, hatched and named. The marked edge faces the bow.
// There must be such a layer.
func tickStrips(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	var out []draw.Sheet
	from, to := k.Plan.Hull.Planked()
	for _, side := range bothSides {
		var strips []*piece
		for f := from; f <= to; f++ {
			strips = append(strips, tickStrip(k, k.Layers[layer-1], f, side, s.Tick))
		}
		t := kind{
			section: "Tick strips", cut: true,
			name:  fmt.Sprintf("tick-strips-layer-%d-%s", layer, side),
			title: fmt.Sprintf("Tick strips, layer %d, %s", layer, side),
		}
		out = append(out, abreast(t, strips, s.Room.Width)...)
	}
	return out
}

// abreast lays strips side by side, edge to edge, so that one cut parts two.
func abreast(k kind, strips []*piece, width float64) []draw.Sheet {
	var rows []*piece
	for _, p := range strips {
		if n := len(rows); n == 0 || rows[n-1].w+p.w > width+1e-9 {
			rows = append(rows, &piece{})
		}
		r := rows[len(rows)-1]
		r.Add(&p.Drawing, draw.Pt(r.w, 0))
		r.w, r.h = r.w+p.w, max(r.h, p.h)
	}
	return flow(k, rows, Size{width, 0})
}

// tickStrip is the strip of one frame. Its zero is tickHead below its top. Where
// strakes are narrow it is wider, and their numbers stand in two columns.
func tickStrip(k *loft.Planking, l *loft.Layer, frame int, side hull.Side, width float64) *piece {
	p := &piece{w: max(width, draw.TextWidth(l.Surface.FrameName(frame), small)+2)}
	names := tickNames(l, frame)
	p.w += names.more
	if names.crowded {
		p.w += names.column
	}
	across := func(inwards float64) float64 { // from the marked edge
		if bowRight(side) {
			return p.w - inwards
		}
		return inwards
	}
	bottom := max(tickNumbers(p, names, across), tickHead+l.Girths[frame])
	p.h = bottom + tickTail
	tickMarks(p, l, frame, across)
	tickWedges(p, l, frame, across)
	tickWords(p, k, l, frame, side, bottom)
	p.Line(draw.Cut, thin, draw.Pt(0, 0), draw.Pt(p.w, 0), draw.Pt(p.w, p.h), draw.Pt(0, p.h), draw.Pt(0, 0))
	return p
}

// tickMarks draws the edges of the strakes from the marked edge: limits and
// band lines heavy and longer, the upper limit over the whole strip.
func tickMarks(p *piece, l *loft.Layer, frame int, across func(float64) float64) {
	for _, m := range tickEdges(l, frame) {
		y := tickHead + m
		p.Line(draw.Pencil, thin, draw.Pt(across(0), y), draw.Pt(across(tickMark), y))
	}
	j := l.Surface.FrameStation(frame)
	for i, b := range l.Lines {
		y, reach := tickHead+b.Down[j], tickMark+1.2
		if i == 0 {
			reach = p.w
		}
		p.Line(draw.Pencil, heavy, draw.Pt(across(0), y), draw.Pt(across(reach), y))
	}
}

// tickEdges gives every edge of a strake or a wedge at a frame, mm down, once each.
func tickEdges(l *loft.Layer, frame int) []float64 {
	var out []float64
	for _, a := range liesAt(l, frame) {
		for _, m := range []float64{a.upper, a.lower} {
			if n := len(out); n == 0 || m-out[n-1] > 1e-6 {
				out = append(out, m)
			}
		}
	}
	return out
}

// tickWedges hatches the wedges between their neighbours' marks.
func tickWedges(p *piece, l *loft.Layer, frame int, across func(float64) float64) {
	for _, lies := range liesAt(l, frame) {
		if lies.wedge == nil {
			continue
		}
		from, to := tickHead+lies.upper, tickHead+lies.lower
		for x := tickHatch; x < tickMark; x += tickHatch {
			p.Line(draw.Ink, hair, draw.Pt(across(x), from), draw.Pt(across(x-tickHatch), to))
		}
	}
}

// lies is a strake or a wedge at a frame, and its edges, mm down.
type lies struct {
	strake       *loft.Strake
	wedge        *loft.Wedge // in place of a strake
	upper, lower float64
}

// name is what is written to it.
func (a *lies) name() string {
	if a.wedge != nil {
		return wedgeName
	}
	return short(a.strake.ID)
}

// wedgeLeast is the width, mm, under which a wedge has run to its point: half the line
// of a pencil.
const wedgeLeast = 0.1

// liesAt lists what lies at a frame, strakes and wedges, from the upper limit down.
func liesAt(l *loft.Layer, frame int) []lies {
	under := map[string]*loft.Wedge{}
	for i := range l.Wedges {
		if w := &l.Wedges[i]; w.Laid.Widths[frame] >= wedgeLeast {
			under[w.Below] = w
		}
	}
	j := l.Surface.FrameStation(frame)
	var out []lies
	for _, st := range l.Strakes {
		if c := st.At[frame]; c.Laid {
			out = append(out, lies{strake: st, upper: c.Upper, lower: c.Upper + c.WidthFrame})
		}
		if w := under[st.ID]; w != nil {
			out = append(out, lies{wedge: w, upper: w.Laid.Upper.Down[j], lower: w.Laid.Lower.Down[j]})
		}
	}
	return out
}

// tickPitch is the least distance from one number to the next below it, mm.
const tickPitch = 3.7

// strakeNames are the numbers of the strakes laid at a frame, and the names of the
// wedges, and where their middles lie on its strip.
type strakeNames struct {
	text    []string
	middle  []float64
	lo, hi  float64 // where they may stand
	crowded bool    // they do not go into one column near their places
	more    float64 // mm by which a wedge's name is longer than a number
	column  float64 // width of a second column
}

func tickNames(l *loft.Layer, frame int) strakeNames {
	const clear = 0.45 // of the heavy lines at either end
	n := strakeNames{lo: tickHead + clear, hi: tickHead + l.Girths[frame] - clear, column: tickColumn}
	laid := liesAt(l, frame)
	if float64(len(laid))*tickPitch/2 > l.Girths[frame] {
		laid = numberedFifths(laid)
	}
	for i := range laid {
		a := &laid[i]
		if a.wedge != nil {
			n.more = draw.TextWidth(wedgeName, small) - draw.TextWidth("0.00", small)
		}
		n.text = append(n.text, a.name())
		n.middle = append(n.middle, tickHead+(a.upper+a.lower)/2)
	}
	n.column += n.more
	for i, y := range spread(n.middle, even(len(n.middle), tickPitch), n.lo, n.hi) {
		n.crowded = n.crowded || math.Abs(y-n.middle[i]) > tickPitch/2
	}
	return n
}

// numberedFifths keeps the wedges and, of the strakes, those that everyFifth does.
func numberedFifths(all []lies) []lies {
	var strakes []*loft.Strake
	for _, a := range all {
		if a.strake != nil {
			strakes = append(strakes, a.strake)
		}
	}
	kept := everyFifth(strakes)
	return slices.DeleteFunc(all, func(a lies) bool { return a.wedge == nil && !slices.Contains(kept, a.strake) })
}

// everyFifth keeps the first strake of each band, the last of all, and those
// whose numbers are multiples of five: enough to count from where there is no
// room to number each.
func everyFifth(strakes []*loft.Strake) []*loft.Strake {
	var out []*loft.Strake
	for i, st := range strakes {
		if i == 0 || i == len(strakes)-1 || st.Band != strakes[i-1].Band || st.Number%5 == 0 {
			out = append(out, st)
		}
	}
	return out
}

// tickNumbers writes the strakes' numbers beside their marks, spread apart and
// led to their places; it gives the y below the last. In two columns, the lines
// from the far one run between the numbers of the near one.
func tickNumbers(p *piece, n strakeNames, across func(float64) float64) float64 {
	columns := 1
	if n.crowded {
		columns = 2
	}
	pitch := tickPitch / float64(columns)
	inset := (tickPitch - pitch) / 2
	bottom := 0.0
	for i, y := range spread(n.middle, even(len(n.middle), pitch), n.lo+inset, n.hi-inset) {
		tickNumber(p, n.text[i], y, n.middle[i], across, p.w-float64(i%columns)*n.column)
		bottom = y + tickPitch/2
	}
	return bottom
}

// tickNumber writes one number, its far end so far in from the marked edge.
func tickNumber(p *piece, text string, y, middle float64, across func(float64) float64, far float64) {
	align := draw.Left
	if across(0) == 0 {
		align = draw.Right
	}
	p.Text(draw.Pt(across(far-1.2), y+draw.CapHeight(small)/2), text, draw.Ink, small, align)
	near := far - 1.6 - draw.TextWidth(text, small)
	p.Line(draw.Ink, hair, draw.Pt(across(near), y), draw.Pt(across(tickMark+1.5), middle), draw.Pt(across(tickMark-2), middle))
}

// tickWords writes what the strip is, over its zero and under its end.
func tickWords(p *piece, k *loft.Planking, l *loft.Layer, frame int, side hull.Side, bottom float64) {
	room := p.w - 1.2
	mid := func(y float64, text string, size float64) {
		p.Text(draw.Pt(p.w/2, y), draw.Fit(text, size, room), draw.Ink, size, draw.Centre)
	}
	name, size := l.Surface.FrameName(frame), 6.0
	for size > small && draw.TextWidth(name, size) > room {
		size = max(size-0.5, small)
	}
	mid(6.2, name, size)
	mid(11.5, string(side), small)
	mid(15.7, fmt.Sprintf("layer %d", l.Number), small)
	x := p.w/2 - 4
	p.Area(draw.Ink, draw.Pt(x, 17.6), draw.Pt(x+1.6, 20.2), draw.Pt(x-1.6, 20.2))
	p.text(p.w/2-1, 20.3, "up", small, draw.Left)
	mid(25.2, k.Plan.Hull.Limits.Upper, small)
	mid(bottom+4.2, k.Plan.Hull.Limits.Lower, small)
	mid(bottom+8.6, fmt.Sprintf("%.2f", l.Girths[frame]), small)
	y := bottom + 13
	w := draw.TextWidth("bow", small)
	if bowRight(side) {
		p.Text(draw.Pt(2, y+1), "bow", draw.Ink, small, draw.Left)
		p.arrow(draw.Pt(3+w, y-0.2), draw.Pt(p.w-1.5, y-0.2))
	} else {
		p.Text(draw.Pt(p.w-2, y+1), "bow", draw.Ink, small, draw.Right)
		p.arrow(draw.Pt(p.w-3-w, y-0.2), draw.Pt(1.5, y-0.2))
	}
}
