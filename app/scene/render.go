package scene

import (
	"image"
	"image/color"
	"math"
	"sync"

	"github.com/go-gl/mathgl/mgl64"
)

// Renderer draws scenes and keeps its buffers between frames. The zero value
// is ready; it is for one goroutine at a time.
type Renderer struct {
	img   *image.RGBA
	depth []float32
	tags  []Tag
	verts []placed
	lines []placedPoint
}

// placed is a vertex in the view, with its colour.
type placed struct {
	x, y, z float32
	r, g, b float32
}

// placedPoint is a point of a line in the view.
type placedPoint struct{ x, y, z float32 }

// workers is how many goroutines share a frame's rows.
const workers = 2

// stripRows is how many rows a worker draws before the next worker's turn:
// small, so that both have as much hull to draw.
const stripRows = 8

// Render draws a scene, seen by a camera, to an image of w x h pixels, which
// stays the renderer's own and is drawn over by the next call.
func (r *Renderer) Render(s *Scene, c Camera, pal *Palette, w, h int) *image.RGBA {
	r.size(max(w, 1), max(h, 1))
	m := c.matrix(w, h)
	r.place(s, m, c.eye(), pal)
	bias := lineBias(c)
	var wg sync.WaitGroup
	for k := range workers {
		wg.Go(func() { r.work(s, pal, k, bias) })
	}
	wg.Wait()
	return r.img
}

// size readies the buffers for a view.
func (r *Renderer) size(w, h int) {
	if r.img != nil && r.img.Rect.Dx() == w && r.img.Rect.Dy() == h {
		return
	}
	r.img = image.NewRGBA(image.Rect(0, 0, w, h))
	r.depth = make([]float32, w*h)
	r.tags = make([]Tag, w*h)
}

// place brings all vertices and points of lines into the view and shades them.
func (r *Renderer) place(s *Scene, m mgl64.Mat4, eye mgl64.Vec3, pal *Palette) {
	r.verts = r.verts[:0]
	shade := newShade(eye, pal)
	for i := range s.Vertices {
		v := &s.Vertices[i]
		x, y, z := project(&m, v.At)
		cr, cg, cb := shade.colour(v)
		r.verts = append(r.verts, placed{x, y, z, cr, cg, cb})
	}
	r.lines = r.lines[:0]
	for i := range s.Lines {
		for _, p := range s.Lines[i].Points {
			x, y, z := project(&m, p)
			r.lines = append(r.lines, placedPoint{x, y, z})
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
func (r *Renderer) work(s *Scene, pal *Palette, k int, bias float32) {
	r.clear(pal.Ground, k)
	for i := range s.Triangles {
		r.triangle(&s.Triangles[i], pal, k)
	}
	start := 0
	for i := range s.Lines {
		n := len(s.Lines[i].Points)
		pen := newPen(&s.Lines[i], pal, bias)
		for j := start + 1; j < start+n; j++ {
			r.segment(r.lines[j-1], r.lines[j], pen, k)
		}
		start += n
	}
}

// mine tells whether a row is worker k's.
func mine(y, k int) bool { return y/stripRows%workers == k }

func (r *Renderer) clear(c color.RGBA, k int) {
	w, h := r.img.Rect.Dx(), r.img.Rect.Dy()
	for y := range h {
		if !mine(y, k) {
			continue
		}
		row := r.img.Pix[y*r.img.Stride : y*r.img.Stride+4*w]
		row[0], row[1], row[2], row[3] = c.R, c.G, c.B, c.A
		for n := 4; n < len(row); n *= 2 {
			copy(row[n:], row[:n])
		}
		depth, tags := r.depth[y*w:(y+1)*w], r.tags[y*w:(y+1)*w]
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
	t = r.tags[y*r.img.Rect.Dx()+x]
	return t, t != nothing
}

// Seen gives the pixel at which a camera sees a place, mm, in the last frame drawn
// with it; ok is false where that lies outside of the view, or the place is hidden by
// what is nearer.
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
	return float64(px), float64(py), z-lineBias(c) <= r.depth[pixel.Y*w+pixel.X]
}
