package drawing

import (
	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/hull"
)

// chines keeps corners that are too shallow to be kept on their own but stand in line
// from frame to frame, and remakes the frames that have any. In a frame drawn whole,
// both halves must have them.
func (t *tracing) chines() {
	var frames []*hull.Frame
	var x []float64
	for i := range t.drawing.Hull.Frames {
		if f := &t.drawing.Hull.Frames[i]; len(t.sides[f.Name]) > 0 {
			frames, x = append(frames, f), append(x, f.X())
		}
	}
	right, lines := t.shallow(frames, x, 0)
	left, _ := t.shallow(frames, x, 1)
	anew := make([]bool, len(frames))
	for i, f := range frames {
		sides := t.sides[f.Name]
		if len(right[i]) == 0 || len(right[i]) != len(left[i]) {
			continue
		}
		for s, corners := range [][][]int{right, left}[:len(sides)] {
			for _, at := range corners[i] {
				sides[s].corner[at] = true
			}
		}
		anew[i] = true
		*f = t.framed(f.Name, sides)
	}
	for _, c := range lines {
		for i, k := range c.At {
			if k >= 0 && anew[i] {
				t.drawing.Notes = append(t.drawing.Notes, c.Note(func(i int) string { return frames[i].Name }))
				break
			}
		}
	}
}

// shallow gives, by frame, the corners of one of the two sides (the only one where
// there is one) that stand in line with others and are not kept yet, and the chines
// that have any.
func (t *tracing) shallow(frames []*hull.Frame, x []float64, side int) (corners [][]int, lines []hull.Chine) {
	pts, kept := make([][]mgl64.Vec2, len(frames)), make([][]int, len(frames))
	at := func(frame int) *chain {
		sides := t.sides[frames[frame].Name]
		return &sides[min(side, len(sides)-1)]
	}
	for i := range frames {
		c := at(i)
		pts[i] = c.pts
		for k := 1; k+1 < len(c.pts); k++ {
			if c.corner[k] {
				kept[i] = append(kept[i], k)
			}
		}
	}
	corners = make([][]int, len(frames))
	for _, c := range hull.Chines(x, pts, kept) {
		fresh := false
		for i, k := range c.At {
			if k >= 0 && !at(i).corner[k] {
				corners[i] = append(corners[i], k)
				fresh = true
			}
		}
		if fresh {
			lines = append(lines, c)
		}
	}
	return corners, lines
}
