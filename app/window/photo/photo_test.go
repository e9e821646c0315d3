package photo

import (
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// grey writes an empty picture, so that all clicks stay where they are.
func grey(t *testing.T) string {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 1600, 1000))
	for i := range m.Pix {
		m.Pix[i] = 150
	}
	m.SetGray(0, 0, color.Gray{0})
	path := filepath.Join(t.TempDir(), "side.png")
	f, err := os.Create(path)
	require.NoError(t, err)
	require.NoError(t, png.Encode(f, m))
	require.NoError(t, f.Close())
	return path
}

// reading opens the window on it, to port.
func reading(t *testing.T) (*Photos, *photo) {
	t.Helper()
	d := windowtest.NewDesk(t)
	d.Bench.Side, d.Bench.Date = hull.Port, "2026-03-01"
	ps := &Photos{Main: d}
	ps.Show()
	p := ps.open
	p.Win.Resize(fyne.NewSize(1280, 700))
	p.openAt(grey(t))
	windowtest.Until(t, func() bool { return p.pic != nil })
	p.board.Paint(900, 650)
	return ps, p
}

// seenAt is where a pinhole abeam of the hull sees a place of a frame to port.
func seenAt(p *photo, frame int, down float64) trace.Point {
	s := p.layer().Surface
	sign := 1.
	if p.main.Plan().Hull.Bow == hull.BowFirst {
		sign = -1
	}
	place := func(f int, v float64) mgl64.Vec3 {
		q := s.AtDown(f, v)
		return mgl64.Vec3{q[0], sign * q[1], q[2]}
	}
	mid := s.Frames() / 2
	target := place(mid, s.Girth(mid)/2)
	length := place(0, 0).Sub(place(s.Frames()-1, 0)).Len()
	eye := target.Add(mgl64.Vec3{-0.3, sign * 1.3, -0.35}.Mul(length))
	away := target.Sub(eye).Normalize()
	right := away.Cross(mgl64.Vec3{0, 0, 1}).Normalize()
	q := place(frame, down).Sub(eye)
	f := 1900 / q.Dot(away)
	return trace.Pt(800+f*q.Dot(right), 500+f*q.Dot(away.Cross(right)))
}

func (b *photoBoard) clickAt(at trace.Point) {
	q := b.On(at)
	e := &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(q.X), float32(q.Y))}, Button: desktop.MouseButtonPrimary}
	b.MouseDown(e)
	b.MouseUp(e)
}

// From the open photo to the record: the ends of the frames are clicked in the order
// in which they are offered, then the edges; nothing is noted before the button is
// pressed, and all is one step to undo.
func TestAPhotoIsReadByTheMouse(t *testing.T) {
	ps, p := reading(t)
	rng := rand.New(rand.NewPCG(1, 2))
	s := p.layer().Surface
	truth := map[string]float64{}
	b := p.board
	for range 2 * s.Frames() {
		r := p.rows[p.at]
		down := 0.0
		if r.known.What == "rabbet" {
			down = s.Girth(r.known.Frame)
		}
		b.clickAt(seenAt(p, r.known.Frame, down))
	}
	require.Len(t, p.set, 2*s.Frames())
	require.NotNil(t, p.seen)
	assert.Contains(t, windowtest.Labels(p.Win.Content()), "known places fit within")
	assert.Empty(t, p.entries(), "no edge is marked yet")
	p.take(edges)
	for range s.Frames() {
		r := p.rows[p.at]
		f := r.edge.Frame
		from, to := p.layer().Lines[p.band].Down[s.FrameStation(f)], p.layer().Lines[p.band+1].Down[s.FrameStation(f)]
		down := from + (to-from)*(0.2+0.3*rng.Float64())
		truth[r.frame] = to - down
		b.clickAt(seenAt(p, f, down))
	}
	b.Paint(900, 650)
	list := p.entries()
	require.GreaterOrEqual(t, len(list), s.Frames()-2)
	windowtest.NothingCutAnywhere(t, p.panel.table)
	for _, e := range list {
		assert.InDelta(t, truth[e.Frame], e.MM, 1, e.Frame)
	}
	assert.Empty(t, p.main.Plan().Record.Port, "nothing is noted before the look")
	windowtest.ButtonNamed(t, p.Win.Content(), p.noteName()).OnTapped()
	port := p.main.Plan().Record.Port
	require.Len(t, port, len(list))
	assert.Contains(t, port[0].Note, "from a photograph, ±")
	p.main.Undo()
	assert.Empty(t, p.main.Plan().Record.Port, "one step")
	windowtest.TypeKey(b, fyne.KeyEscape)
	assert.Nil(t, ps.open, "what is noted is not asked about")
}

// What is offered follows the plan while the window is open: with fewer frames planked
// there is less to mark, and marks that are no longer offered are not read.
func TestWhatIsOfferedFollowsThePlan(t *testing.T) {
	ps, p := reading(t)
	before := len(p.rows)
	p.board.clickAt(trace.Pt(300, 300))
	require.True(t, p.main.Edit("plank less", func(plan *hull.Plan) error {
		plan.Layers[0].From = plan.Hull.Frames[2].Name
		return nil
	}))
	ps.Follow()
	assert.Len(t, p.rows, before-8, "two frames, at four places each")
	m, _ := p.marks()
	assert.Empty(t, m.Known)
	assert.Len(t, p.set, 1, "it is kept, should the frame be planked again")
	p.end()
}

// Marks are moved by keys, taken away, and asked about before they would be lost.
func TestMarksAreMovedAndTakenAwayByKeys(t *testing.T) {
	ps, p := reading(t)
	b := p.board
	b.TypedRune('p')
	require.Len(t, p.set, 1)
	key := p.order[0]
	at := p.set[key].mark.At
	assert.InDelta(t, 800, at.X, 2, "the middle of the view")
	windowtest.TypeKey(b, fyne.KeyRight)
	assert.InDelta(t, at.X+1, p.set[key].mark.At.X, 1e-6)
	assert.Equal(t, key, p.chosen)
	windowtest.TypeKey(b, fyne.KeyReturn)
	assert.NotEqual(t, key, p.chosen, "the next row")
	b.clickAt(trace.Pt(300, 300))
	require.Len(t, p.set, 2)
	from, to := b.On(trace.Pt(300, 300)), b.On(trace.Pt(400, 300))
	windowtest.Press(b, from)
	windowtest.Move(b, from, to)
	windowtest.Release(b, to)
	assert.InDelta(t, 400, p.set[p.order[1]].mark.At.X, 2, "dragged")
	windowtest.TypeKey(b, fyne.KeyEscape)
	require.NotNil(t, ps.open, "it asks first")
	require.NotNil(t, p.Win.Canvas().Overlays().Top())
	p.Win.Canvas().Overlays().Top().Hide()
	windowtest.TypeKey(b, fyne.KeyBackspace)
	windowtest.TypeKey(b, fyne.KeyDelete)
	windowtest.TypeKey(b, fyne.KeyBackspace)
	assert.Empty(t, p.set)
	assert.Equal(t, ends, p.group)
	p.end()
}
