package trace

import (
	"context"
	"image"
	"image/draw"
)

// upright gives an image on white, reduced by a factor and turned as its camera
// recorded.
func upright(ctx context.Context, m image.Image, smaller int, turn turning) (*image.RGBA, error) {
	if r, ok := m.(*image.RGBA); ok && smaller == 1 && turn == 1 {
		return opaque(r), nil
	}
	b := m.Bounds()
	s := newShrinker(b.Dx(), b.Dy(), smaller, turn)
	row := image.NewRGBA(image.Rect(0, 0, b.Dx(), 1))
	o, ok := m.(interface{ Opaque() bool })
	op := draw.Over
	if ok && o.Opaque() {
		op = draw.Src
	}
	for y := range b.Dy() {
		if y%64 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if op == draw.Over {
			draw.Draw(row, row.Rect, image.White, image.Point{}, draw.Src)
		}
		draw.Draw(row, row.Rect, m, image.Pt(b.Min.X, b.Min.Y+y), op)
		s.row(row.Pix)
	}
	return s.out, nil
}

// shrinker takes the rows of a picture from top to bottom and makes it smaller
// and upright.
type shrinker struct {
	out  *image.RGBA
	w, h int // of the result, before it is turned
	n    int // the factor by which it is reduced
	turn turning
	sums []uint32 // of the colours of the row being collected
	at   int      // rows taken
}

func newShrinker(w, h, n int, turn turning) *shrinker {
	s := &shrinker{w: w / n, h: h / n, n: n, turn: turn, sums: make([]uint32, w/n*3)}
	s.out = image.NewRGBA(image.Rect(0, 0, s.w, s.h))
	if turn.aside() {
		s.out = image.NewRGBA(image.Rect(0, 0, s.h, s.w))
	}
	return s
}

// row takes the next row, four bytes a pixel of which the last is ignored. Any
// remainder at the right and below is dropped.
func (s *shrinker) row(rgba []byte) {
	y := s.at / s.n
	s.at++
	if y >= s.h {
		return
	}
	if s.n == 1 {
		s.put(y, func(x int) (r, g, b byte) { return rgba[4*x], rgba[4*x+1], rgba[4*x+2] })
		return
	}
	for x := range s.w {
		var r, g, b uint32
		for i := x * s.n * 4; i < (x+1)*s.n*4; i += 4 {
			r, g, b = r+uint32(rgba[i]), g+uint32(rgba[i+1]), b+uint32(rgba[i+2])
		}
		s.sums[3*x], s.sums[3*x+1], s.sums[3*x+2] = s.sums[3*x]+r, s.sums[3*x+1]+g, s.sums[3*x+2]+b
	}
	if s.at%s.n != 0 {
		return
	}
	n := uint32(s.n * s.n)
	mean := func(v uint32) byte { return byte((v + n/2) / n) }
	s.put(y, func(x int) (r, g, b byte) { return mean(s.sums[3*x]), mean(s.sums[3*x+1]), mean(s.sums[3*x+2]) })
	clear(s.sums)
}

// put puts a row where it belongs once turned.
func (s *shrinker) put(y int, colour func(x int) (r, g, b byte)) {
	i, step := s.turn.place(0, y, s.w, s.h, s.out.Stride), 0
	if s.w > 1 {
		step = s.turn.place(1, y, s.w, s.h, s.out.Stride) - i
	}
	for x := range s.w {
		p := s.out.Pix[i : i+4 : i+4]
		p[0], p[1], p[2] = colour(x)
		p[3] = 255
		i += step
	}
}
