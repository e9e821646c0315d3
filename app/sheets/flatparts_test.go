package sheets

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
)

// The lengths of a strake are the developed shape, turned and not stretched; every frame
// stands on one of them, none is longer than the page, and of two that join the crosses
// lie alike to the joint.
func TestLengthsOfAStrakeAreExact(t *testing.T) {
	k := coaster(t)
	l := k.Layers[0]
	for _, long := range []float64{281, 194, 150} {
		s := Usual()
		s.Long = long
		for _, id := range []string{"1.04", "2.05", "2.11"} {
			f, err := l.Flat(id)
			require.NoError(t, err)
			parts := flatParts(k, l, strakeOf(l, id), f, s)
			require.Greater(t, len(parts), 1)
			next := 0
			var joints []float64 // from a joint to the cross off its upper end
			for _, p := range parts {
				assert.LessOrEqual(t, p.w, long)
				first := next
				var lines []draw.Stroke
				for _, st := range strokes(&p.Drawing, draw.Pencil) {
					if len(st.Points) == 2 {
						lines = append(lines, st)
					}
				}
				for _, line := range lines {
					u, w := f.Upper[f.Frames[next].Rung], f.Lower[f.Frames[next].Rung]
					for i, q := range []struct{ x, y float64 }{{u.X(), u.Y()}, {w.X(), w.Y()}} {
						was := f.Upper[f.Frames[first].Rung]
						want := math.Hypot(q.x-was.X(), q.y-was.Y())
						assert.InDelta(t, want, math.Hypot(line.Points[i].X-lines[0].Points[0].X, line.Points[i].Y-lines[0].Points[0].Y), 1e-9)
					}
					next++
				}
				marks := strokes(&p.Drawing, draw.Register)
				require.Zero(t, len(marks)%5, "a line and two crosses a joint")
				for i := 0; i < len(marks); i += 5 {
					a, c := marks[i].Points[0], marks[i+1].Points
					joints = append(joints, math.Hypot((c[0].X+c[1].X)/2-a.X, (c[0].Y+c[1].Y)/2-a.Y))
				}
			}
			assert.Equal(t, len(f.Frames), next, "every frame once")
			require.Len(t, joints, 2*(len(parts)-1))
			for _, d := range joints {
				assert.InDelta(t, joinOut, d, 1e-9)
			}
		}
	}
}
