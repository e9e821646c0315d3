package draw

import (
	"encoding/binary"
	"image"
	"image/color"
	stddraw "image/draw"
	"math"

	"golang.org/x/image/vector"
)

// View places a drawing on an image: pixel = (point − Origin)·Scale.
type View struct {
	Origin Point
	Scale  float64 // pixels per unit of the drawing; 0 is taken as 1
}

func (v View) apply(p Point) Point {
	return Pt((p.X-v.Origin.X)*v.Scale, (p.Y-v.Origin.Y)*v.Scale)
}

// Pixels renders drawings to images with antialiasing. It keeps its buffers and
// the text it has set between drawings, and is for one goroutine at a time.
type Pixels struct {
	letters *typesetter
	ras     *vector.Rasterizer
	pts     []Point
	dst     *image.RGBA
	src     *image.Uniform
	cover   []uint8 // how much of each pixel of a box is covered
}

// NewPixels makes a renderer that sets text in the given TrueType or OpenType
// font. It returns an error if the bytes are not such a font.
func NewPixels(font []byte) (*Pixels, error) {
	t, err := newTypesetter(font)
	if err != nil {
		return nil, err
	}
	return &Pixels{letters: t, ras: vector.NewRasterizer(1, 1), src: image.NewUniform(color.Black)}, nil
}

// Another makes a renderer with buffers of its own, for a goroutine of its own.
// Both share the text they have set.
func (r *Pixels) Another() *Pixels {
	return &Pixels{letters: r.letters, ras: vector.NewRasterizer(1, 1), src: image.NewUniform(color.Black)}
}

// Render draws d over dst, after filling it with the palette's paper.
func (r *Pixels) Render(dst *image.RGBA, d *Drawing, pal *Palette, v View) {
	r.src.C = pal.Colour(Paper)
	stddraw.Draw(dst, dst.Bounds(), r.src, image.Point{}, stddraw.Src)
	r.Over(dst, d, pal, v)
}

// Over renders d over what dst already holds.
func (r *Pixels) Over(dst *image.RGBA, d *Drawing, pal *Palette, v View) {
	if !(v.Scale > 0) {
		v.Scale = 1
	}
	r.dst = dst
	for _, it := range d.Items {
		switch it := it.(type) {
		case Stroke:
			r.stroke(it, pal, v)
		case Fill:
			r.fill(r.placed(it.Points, v), pal.Colour(it.Role))
		case Mark:
			r.mark(it, pal, v)
		case Label:
			r.letters.draw(dst, it, pal.Colour(it.Role), v)
		}
	}
	r.dst = nil
}

// placed gives the points in pixels, in a buffer that the next call reuses.
func (r *Pixels) placed(pts []Point, v View) []Point {
	r.pts = r.pts[:0]
	for _, p := range pts {
		r.pts = append(r.pts, v.apply(p))
	}
	return r.pts
}

func (r *Pixels) stroke(s Stroke, pal *Palette, v View) {
	c, w := pal.Colour(s.Role), math.Max(s.Pen.Width*v.Scale, 0.6)
	for _, part := range clipLine(r.placed(s.Points, v), r.paper(w)) {
		if len(s.Pen.Dash) == 0 {
			r.line(part, w, c)
			continue
		}
		for _, run := range dashed(part, scaled(s.Pen.Dash, v.Scale)) {
			r.line(run, w, c)
		}
	}
}

// paper is the image with a margin in pixels.
func (r *Pixels) paper(margin float64) box {
	b := r.dst.Bounds()
	return box{float64(b.Min.X), float64(b.Min.Y), float64(b.Max.X), float64(b.Max.Y)}.grown(margin)
}

func scaled(pattern []float64, by float64) []float64 {
	out := make([]float64, len(pattern))
	for i, d := range pattern {
		out[i] = d * by
	}
	return out
}

// chunkArea is the area in pixels of a bounding box up to which the segments of
// a line are set together: the rasterizer's work is proportional to the area of
// its box.
const chunkArea = 4096

// line strokes a line in chunks of segments whose bounding boxes stay small.
func (r *Pixels) line(pts []Point, w float64, c color.NRGBA) {
	for i := 0; i+1 < len(pts); {
		j, b := i+1, boxOf(pts[i:i+2])
		for j+1 < len(pts) {
			nb := b.with(pts[j+1])
			if nb.area(w) > chunkArea {
				break
			}
			b, j = nb, j+1
		}
		r.chunk(pts[i:j+1], b, w, c)
		i = j
	}
}

// chunk strokes the segments of one bounding box. Every piece runs the same way
// round, so that overlaps add up and do not cancel.
func (r *Pixels) chunk(pts []Point, b box, w float64, c color.NRGBA) {
	at, ok := r.begin(b.grown(w/2 + 1))
	if !ok {
		return
	}
	h := w / 2
	for k := 1; k < len(pts); k++ {
		p, q := pts[k-1], pts[k]
		length := math.Hypot(q.X-p.X, q.Y-p.Y)
		if length < 1e-9 {
			continue
		}
		ux, uy := (q.X-p.X)/length*h, (q.Y-p.Y)/length*h
		r.polygon(at, Pt(p.X-uy, p.Y+ux), Pt(q.X-uy, q.Y+ux), Pt(q.X+uy, q.Y-ux), Pt(p.X+uy, p.Y-ux))
		if k > 1 && w > 1.6 {
			r.joint(at, p, pts[k-2], q, h)
		}
	}
	r.end(at, c)
}

// joint fills the outer wedge between two segments that meet at p.
func (r *Pixels) joint(at image.Rectangle, p, before, after Point, h float64) {
	a, b := unit(before, p), unit(p, after)
	turn := a.X*b.Y - a.Y*b.X
	if math.Abs(turn) < 1e-3 {
		return
	}
	s := h
	if turn > 0 {
		s = -h
	}
	u, v := Pt(p.X-a.Y*s, p.Y+a.X*s), Pt(p.X-b.Y*s, p.Y+b.X*s)
	if turn > 0 {
		u, v = v, u
	}
	r.polygon(at, p, u, v)
}

func unit(a, b Point) Point {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return Point{}
	}
	return Pt((b.X-a.X)/l, (b.Y-a.Y)/l)
}

func (r *Pixels) fill(pts []Point, c color.NRGBA) {
	pts = clipArea(pts, r.paper(1))
	if len(pts) < 3 {
		return
	}
	at, ok := r.begin(boxOf(pts).grown(1))
	if !ok {
		return
	}
	r.polygon(at, pts...)
	r.end(at, c)
}

// begin prepares the rasterizer for the part of a box that lies on the image;
// ok is false where none does.
func (r *Pixels) begin(b box) (image.Rectangle, bool) {
	at := b.pixels().Intersect(r.dst.Bounds())
	if at.Empty() {
		return at, false
	}
	r.ras.Reset(at.Dx(), at.Dy())
	return at, true
}

func (r *Pixels) polygon(at image.Rectangle, pts ...Point) {
	ox, oy := float64(at.Min.X), float64(at.Min.Y)
	r.ras.MoveTo(float32(pts[0].X-ox), float32(pts[0].Y-oy))
	for _, p := range pts[1:] {
		r.ras.LineTo(float32(p.X-ox), float32(p.Y-oy))
	}
	r.ras.ClosePath()
}

// end lays a colour over the pixels covered since begin. The rasterizer finds
// how much of each is covered, for which it has fast code, and leaves the
// colouring to us: most of a line's box is not covered at all.
func (r *Pixels) end(at image.Rectangle, c color.NRGBA) {
	n := at.Dx() * at.Dy()
	if cap(r.cover) < n {
		r.cover = make([]uint8, n)
	}
	mask := image.Alpha{Pix: r.cover[:n], Stride: at.Dx(), Rect: image.Rect(0, 0, at.Dx(), at.Dy())}
	r.ras.DrawOp = stddraw.Src
	r.ras.Draw(&mask, mask.Rect, image.Opaque, image.Point{})
	ink := inkOf(c)
	for y := range at.Dy() {
		o := r.dst.PixOffset(at.Min.X, at.Min.Y+y)
		ink.over(r.dst.Pix[o:o+4*at.Dx()], mask.Pix[y*mask.Stride:(y+1)*mask.Stride])
	}
}

// ink is a colour multiplied by its opacity, 16 bits each.
type ink struct{ r, g, b, a uint32 }

func inkOf(c color.NRGBA) ink {
	r, g, b, a := c.RGBA()
	return ink{r, g, b, a}
}

// over lays ink over a row of pixels, covering each by the given amount (255 is
// all): pix has four bytes a pixel, cover one.
func (k ink) over(pix, cover []uint8) {
	for x := 0; x < len(cover); x++ {
		if x+8 <= len(cover) && binary.NativeEndian.Uint64(cover[x:]) == 0 {
			x += 7
			continue
		}
		m := uint32(cover[x]) * 0x101
		if m == 0 {
			continue
		}
		p := pix[4*x : 4*x+4 : 4*x+4]
		if m == 0xffff && k.a == 0xffff {
			p[0], p[1], p[2], p[3] = uint8(k.r>>8), uint8(k.g>>8), uint8(k.b>>8), 0xff
			continue
		}
		rest := 0xffff - k.a*m/0xffff
		p[0] = uint8(((uint32(p[0])*0x101*rest + k.r*m) / 0xffff) >> 8)
		p[1] = uint8(((uint32(p[1])*0x101*rest + k.g*m) / 0xffff) >> 8)
		p[2] = uint8(((uint32(p[2])*0x101*rest + k.b*m) / 0xffff) >> 8)
		p[3] = uint8(((uint32(p[3])*0x101*rest + k.a*m) / 0xffff) >> 8)
	}
}
