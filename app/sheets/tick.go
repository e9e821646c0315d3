package sheets

import (
	"fmt"
	"math"
	"slices"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Lengths of a tick strip, mm: above its zero, and below the lower limit; how
// far a mark runs in from either edge.
const (
	tickHead = 14.0
	tickTail = 11.0
	tickMark = 4.0
	// tickText is the em of its numbers.
	tickText = prose
	// tickHatch is how far apart the lines of a wedge's hatching lie.
	tickHatch = 1.2
)

// wedgeName is what is written where a wedge lies.
const wedgeName = "wedge"

// tickStrips gives a paper strip for every planked frame, one for both sides, which are
// alike: bent round the frame from the upper limit down, its marks, on either edge, are
// the edges of that layer's strakes, at their girths on the surface that the layer lies
// on. A strake that is not laid at a frame has no marks there; a wedge lies between the
// marks of its neighbours, hatched and named. There must be such a layer.
func tickStrips(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	from, to := k.Plan.Hull.Planked()
	l := k.Layers[layer-1]
	var strips []*piece
	for f := from; f <= to; f++ {
		strips = append(strips, tickStrip(k, l, f, s.Tick))
	}
	pieces := []*piece{note(tongue.T("Tick strips"), tickWordsAll(k, l), s.Column)}
	return flow(kind{
		section: tongue.T("Tick strips"), cut: true,
		name:  fmt.Sprintf("tick-strips-layer-%d", layer),
		title: tongue.T("Tick strips, layer %d, both sides", layer),
	}, append(pieces, abreast(strips, s.Column)...), s.Room)
}

// tickWordsAll tells how the strips of a layer are used.
func tickWordsAll(k *loft.Planking, l *loft.Layer) string {
	return tongue.T("Layer %d. Each strip serves both sides, which are alike. Cut it out, bend it round its frame on the surface that this layer lies on, the heavy line with %q above it at the %s, and mark the frame by one edge: to starboard S, the right one, towards the bow; to port P, the left one. "+
		"Heavy lines are limits and band lines, numbers are strakes; where wedges lie it is hatched.", l.Number, hull.LimitWord(k.Plan.Hull.Limits.Upper), hull.LimitWord(k.Plan.Hull.Limits.Upper))
}

// abreast lays strips side by side, edge to edge, so that one cut parts two, as many as
// a width holds.
func abreast(strips []*piece, width float64) []*piece {
	var rows []*piece
	for _, p := range strips {
		if n := len(rows); n == 0 || rows[n-1].w+p.w > width+1e-9 {
			rows = append(rows, &piece{nests: true})
		}
		r := rows[len(rows)-1]
		r.Add(&p.Drawing, draw.Pt(r.w, 0))
		r.w, r.h = r.w+p.w, max(r.h, p.h)
	}
	return rows
}

// tickStrip is the strip of one frame. Its zero is tickHead below its top. Where
// strakes are narrow it is wider, and their numbers stand in two columns.
func tickStrip(k *loft.Planking, l *loft.Layer, frame int, width float64) *piece {
	names := tickNames(l, frame)
	p := &piece{w: max(width, draw.TextWidth(l.Surface.FrameName(frame), small)+2, 2*tickMark+3+names.column)}
	if names.crowded {
		p.w = max(p.w, 2*tickMark+4+2*names.column)
	}
	bottom := max(tickNumbers(p, names), tickHead+l.Girths[frame])
	p.h = bottom + tickTail
	tickMarks(p, l, frame)
	tickWedges(p, l, frame)
	tickWords(p, k, l, frame, bottom)
	p.Line(draw.Cut, thin, draw.Pt(0, 0), draw.Pt(p.w, 0), draw.Pt(p.w, p.h), draw.Pt(0, p.h), draw.Pt(0, 0))
	return p
}

// tickMarks draws the edges of the strakes from either edge of the strip: limits and
// band lines heavy and longer, the upper limit over the whole strip.
func tickMarks(p *piece, l *loft.Layer, frame int) {
	for _, m := range tickEdges(l, frame) {
		y := tickHead + m
		p.Line(draw.Pencil, thin, draw.Pt(0, y), draw.Pt(tickMark, y))
		p.Line(draw.Pencil, thin, draw.Pt(p.w-tickMark, y), draw.Pt(p.w, y))
	}
	j := l.Surface.FrameStation(frame)
	for i, b := range l.Lines {
		y := tickHead + b.Down[j]
		if i == 0 {
			p.Line(draw.Pencil, heavy, draw.Pt(0, y), draw.Pt(p.w, y))
			continue
		}
		p.Line(draw.Pencil, heavy, draw.Pt(0, y), draw.Pt(tickMark+0.8, y))
		p.Line(draw.Pencil, heavy, draw.Pt(p.w-tickMark-0.8, y), draw.Pt(p.w, y))
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
func tickWedges(p *piece, l *loft.Layer, frame int) {
	for _, lies := range liesAt(l, frame) {
		if lies.wedge == nil {
			continue
		}
		from, to := tickHead+lies.upper, tickHead+lies.lower
		for x := tickHatch; x < tickMark; x += tickHatch {
			p.Line(draw.Ink, hair, draw.Pt(x, from), draw.Pt(x-tickHatch, to))
			p.Line(draw.Ink, hair, draw.Pt(p.w-x, from), draw.Pt(p.w-x+tickHatch, to))
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
		return tongue.T(wedgeName)
	}
	return short(a.strake.ID)
}

// wedgeLeast is the width along the frame, mm, under which a wedge has run to its point: half the line
// of a pencil.
const wedgeLeast = 0.1

// liesAt lists what lies at a frame, strakes and wedges, from the upper limit down.
func liesAt(l *loft.Layer, frame int) []lies {
	under := map[string]*loft.Wedge{}
	j := l.Surface.FrameStation(frame)
	for i := range l.Wedges {
		w := &l.Wedges[i]
		if w.Laid.Widths[frame] > 0 && w.Laid.Lower.Down[j]-w.Laid.Upper.Down[j] >= wedgeLeast {
			under[w.Below] = w
		}
	}
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
const tickPitch = 3.0

// strakeNames are the numbers of the strakes laid at a frame, and the names of the
// wedges, and where their middles lie on its strip.
type strakeNames struct {
	text    []string
	middle  []float64
	lo, hi  float64 // where they may stand
	crowded bool    // they do not go into one column near their places
	column  float64 // width of a column
}

func tickNames(l *loft.Layer, frame int) strakeNames {
	const clear = 0.6 // of the heavy lines at either end
	n := strakeNames{lo: tickHead + clear, hi: tickHead + l.Girths[frame] - clear}
	laid := liesAt(l, frame)
	if float64(len(laid))*tickPitch/2 > l.Girths[frame] {
		laid = numberedFifths(laid)
	}
	for i := range laid {
		a := &laid[i]
		n.column = max(n.column, draw.TextWidth(a.name(), tickText)+1)
		n.text = append(n.text, a.name())
		n.middle = append(n.middle, tickHead+(a.upper+a.lower)/2)
	}
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

// tickNumbers writes the strakes' numbers between their marks, spread apart and
// led to their places; it gives the y below the last. In two columns, the lines
// to the far edge run between the numbers of the other one.
func tickNumbers(p *piece, n strakeNames) float64 {
	columns, from := 1, (p.w-n.column)/2
	if n.crowded {
		columns, from = 2, p.w/2-n.column
	}
	pitch := tickPitch / float64(columns)
	inset := (tickPitch - pitch) / 2
	bottom := 0.0
	for i, y := range spread(n.middle, even(len(n.middle), pitch), n.lo+inset, n.hi-inset) {
		tickNumber(p, n.text[i], y, n.middle[i], from+float64(i%columns)*n.column+n.column/2)
		bottom = y + tickPitch/2
	}
	return bottom
}

// tickNumber writes one number about the middle of its column.
func tickNumber(p *piece, text string, y, middle, at float64) {
	p.Text(draw.Pt(at, y+draw.CapHeight(tickText)/2), text, draw.Ink, tickText, draw.Centre)
	half := draw.TextWidth(text, tickText)/2 + 0.3
	p.Line(draw.Ink, hair, draw.Pt(at-half, y), draw.Pt(tickMark+0.6, middle), draw.Pt(tickMark-2, middle))
	p.Line(draw.Ink, hair, draw.Pt(at+half, y), draw.Pt(p.w-tickMark-0.6, middle), draw.Pt(p.w-tickMark+2, middle))
}

// tickWords writes what the strip is, over its zero and under its end.
func tickWords(p *piece, k *loft.Planking, l *loft.Layer, frame int, bottom float64) {
	room := p.w - 1
	mid := func(y float64, text string, size float64) {
		p.Text(draw.Pt(p.w/2, y), draw.Fit(text, size, room), draw.Ink, size, draw.Centre)
	}
	name, size := l.Surface.FrameName(frame), 5.0
	for size > small && draw.TextWidth(name, size) > room {
		size = max(size-0.5, small)
	}
	mid(4.9, name, size)
	text := tongue.T("layer %d, up", l.Number)
	mid(9, text, fine)
	x := min(p.w/2+draw.TextWidth(text, fine)/2+1.1, p.w-1)
	p.Area(draw.Ink, draw.Pt(x, 7.1), draw.Pt(x+0.8, 9), draw.Pt(x-0.8, 9))
	mid(12.9, hull.LimitWord(k.Plan.Hull.Limits.Upper), fine)
	mid(bottom+3.1, hull.LimitWord(k.Plan.Hull.Limits.Lower), fine)
	mid(bottom+6.3, figure("%.2f", l.Girths[frame]), fine)
	y := bottom + 9.6
	p.Text(draw.Pt(4.2, y), "P", draw.Ink, fine, draw.Left)
	p.arrow(draw.Pt(3.8, y-0.9), draw.Pt(0.7, y-0.9))
	p.Text(draw.Pt(p.w-4.2, y), "S", draw.Ink, fine, draw.Right)
	p.arrow(draw.Pt(p.w-3.8, y-0.9), draw.Pt(p.w-0.7, y-0.9))
}
