package scene

import (
	"image"
	"math"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
)

// Renderer draws scenes and keeps its buffers between frames. The zero value
// is ready; it is for one goroutine at a time.
type Renderer struct {
	// Scale is how many pixels correspond to one on a screen of scale 1; lines and
	// hatching keep their weight by it. 0 means 1.
	Scale float64
	// Fine draws every pixel as the mean of four, for smooth edges at about three
	// times the cost: for a picture that is not moving.
	Fine bool

	img   *image.RGBA // the image returned
	seen  layers      // for every pixel of it
	times int         // how many pixels are drawn for one of it, each way
	drawn *image.RGBA // the rows drawn at one time, that many times as wide: img itself where all are
	deep  layers      // for these
	top   int         // the first of these rows

	large     *image.RGBA // the image for fine pictures; nil until one is drawn
	largeDeep layers

	verts  []placed
	first  []int // of the vertices, for every part of the scene
	lines  []placedPoint
	ground ground
	inks   inks
	grain  *[grainAlong * grainAcross]float32
}

// layers holds, for every pixel, the depth of what was drawn there and what it
// belongs to.
type layers struct {
	depth []float32
	tags  []Tag
}

func newLayers(pixels int) layers { return layers{make([]float32, pixels), make([]Tag, pixels)} }

// placed is a vertex in the view, with its colour, its place in the grain in texels, and
// what a map shows there.
type placed struct {
	x, y, z float32
	r, g, b float32
	s, t    float32
	tint    float32
}

// placedPoint is a point of a line in the view.
type placedPoint struct{ x, y, z float32 }

// workers is how many goroutines share a frame's rows.
const workers = 2

// stripRows is how many rows a worker draws before the next worker's turn: few,
// so that both have the same amount of hull to draw.
const stripRows = 8

// fineRows is how many rows of a fine picture are drawn at a time, so that it does not
// take four times the memory: a multiple of stripRows for every worker.
const fineRows = 8 * stripRows * workers

// Render draws a scene, seen by a camera, to an image of w x h pixels, which
// belongs to the renderer and is overwritten by the next call.
func (r *Renderer) Render(s *Scene, c Camera, pal *Palette, w, h int) *image.RGBA {
	r.size(max(w, 1), max(h, 1))
	f := &frame{parts: s.parts(), mapped: s.Mapped, pal: pal, scale: max(r.Scale, 1e-3)}
	if r.Scale == 0 {
		f.scale = 1
	}
	f.scale *= float64(r.times)
	c.Zoom, c.PanX, c.PanY = c.Zoom*float64(r.times), c.PanX*float64(r.times), c.PanY*float64(r.times)
	f.zoom, f.bias = c.Zoom, lineBias(c)
	f.far = c.Side() < 0
	fw, fh := r.times*r.img.Rect.Dx(), r.times*r.img.Rect.Dy()
	m := c.matrix(fw, fh)
	r.inks, r.grain = newInks(pal, f.scale), grain()
	r.place(f, m, &c)
	r.ground.cast(s.Floor, &c, &m, fw, fh)
	for r.top = 0; r.top < fh; r.top += r.drawn.Rect.Dy() {
		var wg sync.WaitGroup
		for k := range workers {
			wg.Go(func() { r.work(f, k) })
		}
		wg.Wait()
		r.lift(float32(r.drawn.Rect.Dy()))
	}
	return r.img
}

// lift moves what has been placed up to the next rows to be drawn.
func (r *Renderer) lift(by float32) {
	for i := range r.verts {
		r.verts[i].y -= by
	}
	for i := range r.lines {
		r.lines[i].y -= by
	}
}

// frame is what stays the same throughout one picture.
type frame struct {
	parts  []*Scene
	mapped bool
	pal    *Palette
	scale  float64 // pixels drawn for one of a screen of scale 1
	zoom   float64 // pixels drawn per mm
	bias   float32 // how much nearer than the planking a line counts
	far    bool    // the side of negative y, drawn last, is the nearer
}

// size prepares the buffers for a view. Those for fine pictures are kept while
// coarse ones are drawn, since the two alternate.
func (r *Renderer) size(w, h int) {
	if r.img == nil || r.img.Rect.Dx() != w || r.img.Rect.Dy() != h {
		r.img, r.seen = image.NewRGBA(image.Rect(0, 0, w, h)), newLayers(w*h)
		r.large, r.largeDeep = nil, layers{}
	}
	r.times, r.drawn, r.deep = 1, r.img, r.seen
	if !r.Fine {
		return
	}
	r.times = 2
	if r.large == nil {
		rows := min(2*h, fineRows)
		r.large, r.largeDeep = image.NewRGBA(image.Rect(0, 0, 2*w, rows)), newLayers(2*w*rows)
	}
	r.drawn, r.deep = r.large, r.largeDeep
}

// place transforms all vertices and points of lines into the view and shades
// them.
func (r *Renderer) place(f *frame, m mgl64.Mat4, c *Camera) {
	r.verts = r.verts[:0]
	shade := newShade(c, f.pal, f.mapped)
	across := float32(texels(c.Zoom))
	along := across / grainDrawn
	r.lines, r.first = r.lines[:0], r.first[:0]
	for _, part := range f.parts {
		r.first = append(r.first, len(r.verts))
		for i := range part.Vertices {
			v := &part.Vertices[i]
			x, y, z := project(&m, v.At)
			cr, cg, cb := shade.colour(v)
			r.verts = append(r.verts, placed{x, y, z, cr, cg, cb, v.Grain[0] * along, v.Grain[1] * across, float32(v.Tint)})
		}
		for i := range part.Lines {
			for _, p := range part.Lines[i].Points {
				x, y, z := project(&m, p)
				r.lines = append(r.lines, placedPoint{x, y, z})
			}
		}
	}
}

// project applies an affine matrix.
func project(m *mgl64.Mat4, p mgl64.Vec3) (x, y, z float32) {
	return float32(m[0]*p[0] + m[4]*p[1] + m[8]*p[2] + m[12]),
		float32(m[1]*p[0] + m[5]*p[1] + m[9]*p[2] + m[13]),
		float32(m[2]*p[0] + m[6]*p[1] + m[10]*p[2] + m[14])
}

// lineBias is how much nearer than the planking a line counts, in depth: lines
// lie in the planking, and two pixels of slope must not hide them.
func lineBias(c Camera) float32 {
	return float32((2/math.Max(c.Zoom, 1e-9) + 0.002*c.Depth) / (2 * math.Max(c.Depth, 1e-9)))
}

// work draws one worker's rows: ground, mesh, then lines. Workers share no
// row, so they need no lock.
func (r *Renderer) work(f *frame, k int) {
	r.clear(f.pal, k)
	for n, part := range f.parts {
		verts := r.verts[r.first[n]:]
		for i := range part.Triangles {
			t := &part.Triangles[i]
			if f.far { // nearer things first, so that less is drawn twice
				t = &part.Triangles[len(part.Triangles)-1-i]
			}
			r.triangle(t, f, verts, f.mapped && part.Vertices[t.A].Of == Plank, k)
		}
	}
	start := 0
	for _, part := range f.parts {
		for i := range part.Lines {
			n := len(part.Lines[i].Points)
			pen := newPen(&part.Lines[i], f)
			for j := start + 1; j < start+n; j++ {
				pen.gone = r.segment(r.lines[j-1], r.lines[j], pen, k)
			}
			start += n
		}
	}
	if r.times > 1 {
		r.gather(k)
	}
}

// gather reduces worker k's rows from the picture that was drawn twice as large.
// Its rows there are its own too, since stripRows is even.
func (r *Renderer) gather(k int) {
	w, first := r.img.Rect.Dx(), r.top/2
	for y := first; y < min(first+r.drawn.Rect.Dy()/2, r.img.Rect.Dy()); y++ {
		if !mine(2*(y-first), k) {
			continue
		}
		out := r.img.Pix[y*r.img.Stride : y*r.img.Stride+4*w]
		a := r.drawn.Pix[2*(y-first)*r.drawn.Stride:][:8*w]
		b := r.drawn.Pix[(2*(y-first)+1)*r.drawn.Stride:][:8*w]
		for x := 0; x < len(out); x += 4 {
			p, q := a[2*x:2*x+8:2*x+8], b[2*x:2*x+8:2*x+8]
			for c := range 3 {
				out[x+c] = uint8((int(p[c]) + int(p[c+4]) + int(q[c]) + int(q[c+4]) + 2) / 4)
			}
			out[x+3] = 0xff
		}
		from := (2*(y-first) + 1) * 2 * w // the pixel below and to the right of the middle of the four
		for x := range w {
			r.seen.depth[y*w+x], r.seen.tags[y*w+x] = r.deep.depth[from+2*x+1], r.deep.tags[from+2*x+1]
		}
	}
}

// mine reports whether a row belongs to worker k.
func mine(y, k int) bool { return y/stripRows%workers == k }

func (r *Renderer) clear(pal *Palette, k int) {
	w, h := r.drawn.Rect.Dx(), r.drawn.Rect.Dy()
	c := pal.Ground
	for y := range h {
		if !mine(y, k) {
			continue
		}
		row := r.drawn.Pix[y*r.drawn.Stride : y*r.drawn.Stride+4*w]
		row[0], row[1], row[2], row[3] = c.R, c.G, c.B, c.A
		for n := 4; n < len(row); n *= 2 {
			copy(row[n:], row[:n])
		}
		r.ground.shade(row, r.top+y, pal)
		depth, tags := r.deep.depth[y*w:(y+1)*w], r.deep.tags[y*w:(y+1)*w]
		for x := range depth {
			depth[x] = math.MaxFloat32
		}
		for x := range tags {
			tags[x] = nothing
		}
	}
}

// Pick gives what lies at a pixel of the last frame; ok is false on empty
// ground and outside the view.
func (r *Renderer) Pick(x, y int) (t Tag, ok bool) {
	if r.img == nil || !(image.Point{X: x, Y: y}).In(r.img.Rect) {
		return nothing, false
	}
	t = r.seen.tags[y*r.img.Rect.Dx()+x]
	return t, t != nothing
}

// Seen gives the pixel at which a camera sees a point, mm, in the last frame drawn
// with it; ok is false where it is outside the view or hidden by something nearer.
func (r *Renderer) Seen(c Camera, at mgl64.Vec3) (x, y float64, ok bool) {
	if r.img == nil {
		return 0, 0, false
	}
	w, h := r.img.Rect.Dx(), r.img.Rect.Dy()
	m := c.matrix(w, h)
	px, py, z := project(&m, at)
	pixel := image.Pt(int(math.Floor(float64(px))), int(math.Floor(float64(py))))
	if !pixel.In(r.img.Rect) || z < 0 {
		return float64(px), float64(py), false
	}
	return float64(px), float64(py), z-lineBias(c) <= r.seen.depth[pixel.Y*w+pixel.X]
}
