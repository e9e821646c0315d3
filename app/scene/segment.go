package scene

// pen is how a line is drawn.
type pen struct {
	r, g, b float32
	half    float32 // half the width in pixels
	bias    float32 // in depth
}

func newPen(l *Polyline, pal *Palette, bias float32) pen {
	c := pal.Lines[min(l.Kind, kinds-1)]
	return pen{float32(c.R), float32(c.G), float32(c.B), float32(max(l.Width, 0.8)) / 2, bias}
}

// segment draws the seen part of a straight line in worker k's rows: it goes
// along the longer axis pixel by pixel and covers its width across it,
// smoothed at both edges.
func (r *Renderer) segment(p, q placedPoint, pn pen, k int) {
	dx, dy := q.x-p.x, q.y-p.y
	steep := abs(dy) > abs(dx)
	if steep {
		p.x, p.y, q.x, q.y = p.y, p.x, q.y, q.x
	}
	if p.x > q.x {
		p, q = q, p
	}
	w, h := r.img.Rect.Dx(), r.img.Rect.Dy()
	along, across := w, h
	if steep {
		along, across = h, w
	}
	run := q.x - p.x
	if !(run > 0) {
		return
	}
	slope, zslope := (q.y-p.y)/run, (q.z-p.z)/run
	first, last := pixelSpan(p.x, q.x, along)
	for i := first; i < last; i++ {
		t := float32(i) + 0.5 - p.x
		r.cross(i, p.y+slope*t, p.z+zslope*t-pn.bias, pn, k, steep, across)
	}
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
	if z > r.depth[y*r.img.Rect.Dx()+x] {
		return
	}
	o := y*r.img.Stride + 4*x
	p := r.img.Pix[o : o+3 : o+3]
	cover = min(cover, 1)
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
