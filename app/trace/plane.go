package trace

import (
	"image"
	"math"
)

// mostPlane is the most cells of a plane.
const mostPlane = 4 << 20

// plane is the brightness of a part of a picture, at one of its levels,
// slightly smoothed against noise. A cell is a pixel of that level.
type plane struct {
	x0, y0, w, h int
	scale        float64 // pixels of the picture per cell
	grey         []uint8
}

// newPlane gives the part of a picture around a box or, where that would be too
// large, of a smaller copy.
func (p *Picture) newPlane(low, high Point) *plane {
	for level := 0; ; level++ {
		m := p.levels[level]
		f := float64(int(1) << level)
		part := image.Rect(int(math.Floor(low.X/f)), int(math.Floor(low.Y/f)), int(math.Ceil(high.X/f)), int(math.Ceil(high.Y/f))).Intersect(m.Rect)
		if part.Dx()*part.Dy() <= mostPlane || level+1 == len(p.levels) {
			return smoothed(m, part, f)
		}
	}
}

// smoothed is a part of an image smoothed with the weights 1 2 1 in both
// directions.
func smoothed(m *image.RGBA, part image.Rectangle, scale float64) *plane {
	s := &plane{x0: part.Min.X, y0: part.Min.Y, w: part.Dx(), h: part.Dy(), scale: scale, grey: make([]uint8, part.Dx()*part.Dy())}
	// each row of the image is smoothed along itself once, and three of them make
	// one row of the plane
	var rows [3][]uint16
	for k := range rows {
		rows[k] = make([]uint16, s.w)
	}
	raw := make([]uint16, s.w+2)
	along := func(out []uint16, y int) {
		y = min(max(y, 0), m.Rect.Dy()-1)
		for i := range raw {
			x := min(max(s.x0+i-1, 0), m.Rect.Dx()-1)
			c := m.Pix[y*m.Stride+4*x:][:3]
			raw[i] = (77*uint16(c[0]) + 150*uint16(c[1]) + 29*uint16(c[2])) >> 8
		}
		for i := range out {
			out[i] = raw[i] + 2*raw[i+1] + raw[i+2]
		}
	}
	along(rows[0], s.y0-1)
	along(rows[1], s.y0)
	for j := range s.h {
		along(rows[2], s.y0+j+1)
		for i := range s.w {
			s.grey[j*s.w+i] = uint8((rows[0][i] + 2*rows[1][i] + rows[2][i] + 8) / 16)
		}
		rows[0], rows[1], rows[2] = rows[1], rows[2], rows[0]
	}
	return s
}

// cell gives the position of a point of the picture, in cells from the middle
// of the first.
func (s *plane) cell(at Point) Point {
	return Point{at.X/s.scale - 0.5 - float64(s.x0), at.Y/s.scale - 0.5 - float64(s.y0)}
}

// place is the point of the picture at the middle of a cell.
func (s *plane) place(x, y int) Point {
	return Point{(float64(s.x0+x) + 0.5) * s.scale, (float64(s.y0+y) + 0.5) * s.scale}
}

// holds reports whether a cell lies in it.
func (s *plane) holds(x, y int) bool { return x >= 0 && y >= 0 && x < s.w && y < s.h }

// at is the brightness between the cells, interpolated bilinearly; beyond the
// edge it is that of the edge.
func (s *plane) at(x, y float64) float64 {
	x, y = min(max(x, 0), float64(s.w-1)), min(max(y, 0), float64(s.h-1))
	i, j := int(x), int(y)
	i1, j1 := min(i+1, s.w-1), min(j+1, s.h-1)
	tx, ty := x-float64(i), y-float64(j)
	top, low := s.grey[j*s.w:], s.grey[j1*s.w:]
	return (1-ty)*((1-tx)*float64(top[i])+tx*float64(top[i1])) + ty*((1-tx)*float64(low[i])+tx*float64(low[i1]))
}
