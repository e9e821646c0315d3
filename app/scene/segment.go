package scene

import "math"

// pen is how a line is drawn.
type pen struct {
	r, g, b float32
	half    float32 // half the width in pixels
	bias    float32 // in depth
	shade   float32 // how much of its colour is applied, 0 to 1
	dot     float32 // spacing of the dots, pixels; 0 for a solid line
	gone    float32 // length of the line so far, pixels
}

// Lines closer together on the screen than this, in pixels of a screen of scale 1, are
// drawn finer, so that the wood between them still shows; those as close as
// nearestLines are drawn as fine as any are.
const (
	fineLines, nearestLines = 8.0, 1.5
	finestShade             = 0.2
	fullShade               = 0.92
	// mappedSeam is how much of its colour a seam has on a map, so that it can be
	// distinguished from the hatching.
	mappedSeam = 0.6
	// dotEvery is the spacing of a dotted line's dots, in such pixels.
	dotEvery = 3.5
)

func newPen(l *Polyline, f *frame) pen {
	c := f.pal.Lines[min(l.Kind, kinds-1)]
	width := max(l.Width, 0.8)
	p := pen{r: float32(c.R), g: float32(c.G), b: float32(c.B), bias: f.bias, shade: 1}
	if l.Kind == SeamLine && f.mapped {
		p.shade = mappedSeam
	}
	if l.Gap > 0 {
		apart := l.Gap * f.zoom / f.scale
		near := math.Max(0, math.Min(1, (apart-nearestLines)/(fineLines-nearestLines)))
		p.shade *= float32(finestShade + (fullShade-finestShade)*near)
		width *= math.Max(1, math.Min(apart/16, 1.8)) // closer up, a seam is a gap
	}
	if l.Dotted {
		p.dot = float32(dotEvery * f.scale)
	}
	p.half = float32(width * f.scale / 2)
	return p
}

// segment draws the visible part of a straight line in worker k's rows: it goes
// along the longer axis pixel by pixel and covers the line's width across it,
// antialiased at both edges. It returns the length of the line so far, pixels.
func (r *Renderer) segment(p, q placedPoint, pn pen, k int) (gone float32) {
	dx, dy := q.x-p.x, q.y-p.y
	steep := abs(dy) > abs(dx)
	if steep {
		p.x, p.y, q.x, q.y = p.y, p.x, q.y, q.x
	}
	w, h := r.drawn.Rect.Dx(), r.drawn.Rect.Dy()
	along, across := w, h
	if steep {
		along, across = h, w
	}
	run := q.x - p.x
	if run == 0 || run != run {
		return pn.gone
	}
	slope, zslope := (q.y-p.y)/run, (q.z-p.z)/run
	each := float32(math.Sqrt(float64(1 + slope*slope))) // pixels of line per pixel along the axis
	gone = pn.gone + abs(run)*each
	lean := pn
	lean.half *= each // so that a slanting line is as wide as a level one
	if y0, y1 := rowsOf(p, q, lean.half, steep); y1 < 0 || y0 >= float32(h) || !anyMine(int(max(y0, 0)), int(min(y1, float32(h-1)))+1, k) {
		return gone
	}
	first, last := pixelSpan(min(p.x, q.x), max(p.x, q.x), along)
	for i := first; i < last; i++ {
		t := float32(i) + 0.5 - p.x
		if pn.dot > 0 && !dotted(pn.gone+abs(t)*each, pn.dot) {
			continue
		}
		r.cross(i, p.y+slope*t, p.z+zslope*t-pn.bias, lean, k, steep, across)
	}
	return gone
}

// rowsOf gives the first and last row of a line between two points, whose x and y
// are exchanged where it is steep.
func rowsOf(p, q placedPoint, half float32, steep bool) (from, to float32) {
	if steep {
		return min(p.x, q.x), max(p.x, q.x)
	}
	return min(p.y, q.y) - half, max(p.y, q.y) + half
}

// dotted reports whether there is a dot at a given length along a line.
func dotted(at, every float32) bool {
	return at-every*float32(int(at/every)) < 0.4*every
}

// cross covers the pixels across a line at place i along it.
func (r *Renderer) cross(i int, mid, z float32, pn pen, k int, steep bool, across int) {
	lo, hi := mid-pn.half, mid+pn.half
	if !(hi > 0) || !(lo < float32(across)) || z < 0 {
		return
	}
	for j := max(int(lo), 0); j < across && float32(j) < hi; j++ {
		cover := min(hi, float32(j+1)) - max(lo, float32(j))
		x, y := i, j
		if steep {
			x, y = j, i
		}
		if cover > 0 && mine(y, k) {
			r.blend(x, y, z, cover, pn)
		}
	}
}

func (r *Renderer) blend(x, y int, z, cover float32, pn pen) {
	if z > r.deep.depth[y*r.drawn.Rect.Dx()+x] {
		return
	}
	o := y*r.drawn.Stride + 4*x
	p := r.drawn.Pix[o : o+3 : o+3]
	cover = min(cover, 1) * pn.shade
	p[0] = uint8(float32(p[0]) + (pn.r-float32(p[0]))*cover)
	p[1] = uint8(float32(p[1]) + (pn.g-float32(p[1]))*cover)
	p[2] = uint8(float32(p[2]) + (pn.b-float32(p[2]))*cover)
}

func abs(v float32) float32 {
	if v < 0 {
		return -v
	}
	return v
}
