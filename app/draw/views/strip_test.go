package views

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// stripDrawn holds the strokes, marks and words in a drawing that belong to the
// strip.
type stripDrawn struct {
	strokes []draw.Stroke
	marks   []draw.Mark
	words   []draw.Label
}

func stripOf(d *draw.Drawing) (out stripDrawn) {
	for _, it := range d.Items {
		switch it := it.(type) {
		case draw.Stroke:
			if it.Role == draw.StripInk {
				out.strokes = append(out.strokes, it)
			}
		case draw.Mark:
			if it.Role == draw.StripInk && it.Shape == draw.Plus {
				out.marks = append(out.marks, it)
			}
		case draw.Label:
			if it.Role == draw.StripInk {
				out.words = append(out.words, it)
			}
		}
	}
	return out
}

// TestStripIsDrawnWhereItLies: beside the chosen line, and no other, the strip is drawn
// through its natural lie on each frame, with a mark there and words that say what it
// is; in the body plan as two separate halves, and in the gauge strip as numbers.
func TestStripIsDrawnWhereItLies(t *testing.T) {
	k := wigley(t)
	l := k.Layers[0]
	c := Nothing.WithLine(1).WithFrame(4)
	b := l.StripBeside(2)
	require.Equal(t, loft.Told, b.Lie.Untold)
	draws := map[string]func(b *loft.StripBeside, c Choice) (*draw.Drawing, func(f int) draw.Point){
		"profile": func(b *loft.StripBeside, c Choice) (*draw.Drawing, func(f int) draw.Point) {
			v := &Profile{Strip: b}
			v.X, v.Z = FitProfile(CurvesOf(l), 1000, 250)
			v.Draw(k, CurvesOf(l), c, 1000, 250)
			return &v.Drawing, func(f int) draw.Point { return v.Place(l.Surface.AtDown(f, b.Lie.Frames[f].Natural)) }
		},
		"body plan": func(b *loft.StripBeside, c Choice) (*draw.Drawing, func(f int) draw.Point) {
			v := &Body{Strip: b}
			v.Mid, v.Z, v.Scale = FitBody(CurvesOf(l), 400, 300)
			v.Draw(k, CurvesOf(l), c, 400, 300)
			return &v.Drawing, func(f int) draw.Point { return v.Place(f, l.Surface.AtDown(f, b.Lie.Frames[f].Natural)) }
		},
	}
	halves := map[string]int{"profile": 1, "body plan": 2}
	for name, drawn := range draws {
		d, at := drawn(b, c)
		got := stripOf(d)
		require.Len(t, got.strokes, halves[name]+1, "%s: the line and a piece in its legend", name)
		require.Len(t, got.marks, len(b.Off)+1)
		for f := range b.Off {
			want := at(f)
			assert.InDelta(t, 0, math.Hypot(got.marks[f].At.X-want.X, got.marks[f].At.Y-want.Y), 1e-6, "%s, frame %d", name, f)
			near := math.Inf(1)
			for _, s := range got.strokes[:halves[name]] {
				for _, p := range s.Points {
					near = min(near, math.Hypot(p.X-want.X, p.Y-want.Y))
				}
			}
			assert.InDelta(t, 0, near, 1e-6, "%s: through the mark", name)
		}
		assert.Zero(t, dotted(d), name)
		require.Len(t, got.words, 1)
		assert.Equal(t, "where this strip settles", got.words[0].Text)

		p := k.Plan.Clone()
		p.Layers[0].Lines[1].Follows = hull.StripItself
		follows, err := loft.Plank(p)
		require.NoError(t, err)
		d, _ = drawn(follows.Layers[0].StripBeside(2), c)
		assert.Equal(t, halves[name]+1, dotted(d), "%s: where the thin batten lies, and its legend", name)

		untold := *b
		lie := *b.Lie
		lie.Untold = loft.Restless
		untold.Lie = &lie
		for of, none := range map[string]func() (*draw.Drawing, func(int) draw.Point){
			"where it is not told":    func() (*draw.Drawing, func(int) draw.Point) { return drawn(&untold, c) },
			"where there is none":     func() (*draw.Drawing, func(int) draw.Point) { return drawn(nil, c) },
			"beside another line":     func() (*draw.Drawing, func(int) draw.Point) { return drawn(b, c.WithLine(0)) },
			"with no line chosen":     func() (*draw.Drawing, func(int) draw.Point) { return drawn(b, Nothing) },
			"where a limit is chosen": func() (*draw.Drawing, func(int) draw.Point) { return drawn(b, c.WithLimit(UpperLimit)) },
		} {
			d, _ := none()
			assert.Equal(t, stripDrawn{}, stripOf(d), "%s, %s", name, of)
		}
	}
}

// dotted counts the lines of thin battens.
func dotted(d *draw.Drawing) (n int) {
	for _, it := range d.Items {
		if s, ok := it.(draw.Stroke); ok && s.Role == draw.BandInk && slices.Equal(s.Pen.Dash, dotPen.Dash) {
			n++
		}
	}
	return n
}

// TestGaugeTellsHowFarTheStripLiesOff: the number of the chosen frame is always shown,
// with its sign.
func TestGaugeTellsHowFarTheStripLiesOff(t *testing.T) {
	k := wigley(t)
	b := k.Layers[0].StripBeside(2)
	b.Off[3], b.Off[4], b.Off[5], b.Off[6] = 0.31, -1.254, math.NaN(), 0.001
	v := &Gauge{X: profileOf(t, k, Nothing).X, Strip: b}
	v.X.Scale /= 4 // no room for all of them
	v.Draw(k, Nothing.WithLine(1).WithFrame(4), 1000, 120)
	var said []string
	for _, it := range v.Drawing.Items {
		if l, ok := it.(draw.Label); ok {
			assert.NotContains(t, l.Text, "NaN")
			said = append(said, l.Text)
		}
	}
	assert.Contains(t, said, "-1.25")
	assert.Contains(t, strings.Join(said, "|"), "how far under it this strip settles")
	assert.NotContains(t, said, "+0.31", "its neighbour has no room")
	assert.Equal(t, "0.00", Millimetres.signed(-0.001))
	assert.Equal(t, "+0.31", Millimetres.signed(0.31))
}
