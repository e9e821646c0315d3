package app

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/history"
	"github.com/strakewright/strakewright/hull"
)

// wigley is a plan of two bands on Wigley's hull (Wigley 1934), between its
// ends.
func wigley() *hull.Plan {
	const length, breadth, draught, frames, points = 400.0, 80.0, 50.0, 9, 10
	h := hull.Hull{}
	for i := range frames {
		x := length * 0.45 * (2*float64(i)/(frames-1) - 1)
		f := hull.Frame{Name: string(rune('A' + i))}
		for j := range points {
			z := -draught * float64(j) / (points - 1)
			y := breadth / 2 * (1 - math.Pow(2*x/length, 2)) * (1 - math.Pow(z/draught, 2))
			f.Points = append(f.Points, mgl64.Vec3{x, y, z})
		}
		h.Frames = append(h.Frames, f)
	}
	p := hull.NewPlan("Wigley", h)
	handles := make([]hull.Handle, frames)
	for i := range handles {
		handles[i] = hull.Handle{Down: 25, Held: true}
	}
	p.Layers[0].Bands = make([]hull.Band, 2)
	p.Layers[0].Lines = []hull.BandLine{{LineType: hull.Drawn, Handles: handles, Hold: 4, Aim: -1}}
	return p
}

// opened is a session with a file of its own.
func opened(t *testing.T) *Session {
	t.Helper()
	path := filepath.Join(t.TempDir(), "wigley.strakeplan")
	require.NoError(t, hull.SaveFile(path, wigley()))
	s, err := Open(path)
	require.NoError(t, err)
	t.Cleanup(s.Close)
	return s
}

// to moves the handle of a frame.
func to(frame int, down float64) func(*hull.Plan) error {
	return func(p *hull.Plan) error {
		p.Layers[0].Lines[0].Handles[frame].Down = down
		return nil
	}
}

func downAt(s *Session, frame int) float64 {
	l := s.Planking().Layers[0]
	return l.Lines[1].Down[l.Surface.FrameStation(frame)]
}

func title(text string) func(*hull.Plan) error {
	return func(p *hull.Plan) error { p.Title = text; return nil }
}

func TestEditRecomputesAndCanBeUndone(t *testing.T) {
	s := opened(t)
	first := s.Plan()
	require.False(t, s.Changed())
	require.InDelta(t, 25, downAt(s, 4), 1e-6)

	require.NoError(t, s.Edit("move", to(4, 28)))
	require.InDelta(t, 28, downAt(s, 4), 1e-6)
	require.Same(t, s.Plan(), s.Planking().Plan)
	require.Equal(t, 25.0, first.Layers[0].Lines[0].Handles[4].Down, "a plan handed out never changes")
	require.True(t, s.Changed())

	what, ok := s.CanUndo()
	require.True(t, ok)
	require.Equal(t, "move", what)
	what, ok = s.Undo()
	require.True(t, ok)
	require.Equal(t, "move", what)
	require.InDelta(t, 25, downAt(s, 4), 1e-6)
	require.False(t, s.Changed(), "undone to what is saved")
	_, ok = s.Undo()
	require.False(t, ok)

	what, ok = s.CanRedo()
	require.True(t, ok)
	require.Equal(t, "move", what)
	_, ok = s.Redo()
	require.True(t, ok)
	require.InDelta(t, 28, downAt(s, 4), 1e-6)
	_, ok = s.Redo()
	require.False(t, ok)
}

func TestUndoWithoutEnd(t *testing.T) {
	s := opened(t)
	const n = 300
	for i := range n {
		require.NoError(t, s.Edit("move", to(i%9, 25+float64(i%7)+0.5)))
		if i%50 == 0 {
			require.NoError(t, s.Edit("name", title(string(rune('a'+i/50)))))
		}
	}
	last, steps := s.Plan(), 0
	for ok := true; ok; steps++ {
		_, ok = s.Undo()
	}
	require.Greater(t, steps, n)
	require.True(t, same(s.Plan(), s.saved))
	require.Equal(t, "Wigley", s.Plan().Title)
	for ok := true; ok; {
		_, ok = s.Redo()
	}
	require.True(t, same(s.Plan(), last))
}

func TestAnEditForgetsWhatWasUndone(t *testing.T) {
	s := opened(t)
	require.NoError(t, s.Edit("a", to(3, 26)))
	s.Undo()
	require.NoError(t, s.Edit("b", to(3, 27)))
	_, ok := s.CanRedo()
	require.False(t, ok)
}

func TestAnEditThatFailsLeavesAll(t *testing.T) {
	s := opened(t)
	before := s.state()
	told := 0
	s.OnChange(func() { told++ })

	wrong := errors.New("no")
	require.ErrorIs(t, s.Edit("x", func(p *hull.Plan) error { p.Title = "x"; return wrong }), wrong)
	require.Error(t, s.Edit("x", func(p *hull.Plan) error { p.Layers[0].Lines[0].Handles = nil; return nil }))
	require.Equal(t, before, s.state())
	require.Zero(t, told)
	_, ok := s.CanUndo()
	require.False(t, ok)
}

func TestAnEditThatChangesNothingIsNoStep(t *testing.T) {
	s := opened(t)
	require.NoError(t, s.Edit("move", to(4, 25)))
	_, ok := s.CanUndo()
	require.False(t, ok)
}

func TestAHandleMoveIsKeptSmall(t *testing.T) {
	s := opened(t)
	require.NoError(t, s.Edit("move", to(4, 28)))
	last, _ := s.steps.Next(history.Back)
	require.Nil(t, last.To.plan)
	require.Len(t, last.To.moves, 1)
	require.NoError(t, s.Edit("both", func(p *hull.Plan) error { p.Title = "T"; return to(4, 29)(p) }))
	last, _ = s.steps.Next(history.Back)
	require.NotNil(t, last.To.plan, "a title cannot be told by moves")
}

func TestADragIsOneStep(t *testing.T) {
	s := opened(t)
	told := 0
	s.OnChange(func() { told++ })
	d := s.Begin("drag")
	for i := range 20 {
		require.NoError(t, d.Try(to(4, 25+float64(i)/10)))
	}
	require.NoError(t, d.Try(to(5, 27)))
	require.InDelta(t, 25, s.Plan().Layers[0].Lines[0].Handles[4].Down, 1e-9, "each trial starts from the plan as it was")
	require.Equal(t, 21, told)
	d.Done()
	d.Done()
	d.Cancel()
	require.ErrorIs(t, d.Try(to(1, 20)), errDragOver)
	require.InDelta(t, 27, downAt(s, 5), 1e-6)
	what, ok := s.Undo()
	require.True(t, ok)
	require.Equal(t, "drag", what)
	require.InDelta(t, 25, downAt(s, 5), 1e-6)
	_, ok = s.Undo()
	require.False(t, ok)
}

func TestADragCancelled(t *testing.T) {
	s := opened(t)
	before := s.state()
	d := s.Begin("drag")
	require.NoError(t, d.Try(to(4, 30)))
	require.Error(t, d.Try(func(p *hull.Plan) error { p.Layers[0].Lines[0].LineType = "odd"; return nil }))
	require.InDelta(t, 30, downAt(s, 4), 1e-6, "a trial that fails leaves the last that went well")
	d.Cancel()
	require.Equal(t, before, s.state())
	_, ok := s.CanUndo()
	require.False(t, ok)
}

func TestWhateverComesAfterEndsADrag(t *testing.T) {
	for name, next := range map[string]func(*Session){
		"begin": func(s *Session) { s.Begin("other").Cancel() },
		"edit":  func(s *Session) { _ = s.Edit("nothing", func(*hull.Plan) error { return nil }) },
		"save":  func(s *Session) { _ = s.Save() },
	} {
		s := opened(t)
		d := s.Begin("drag")
		require.NoError(t, d.Try(to(4, 30)), name)
		next(s)
		require.ErrorIs(t, d.Try(to(4, 31)), errDragOver, name)
		require.InDelta(t, 30, downAt(s, 4), 1e-6, name)
		what, ok := s.CanUndo()
		require.True(t, ok, name)
		require.Equal(t, "drag", what, name)
	}
	s := opened(t)
	require.NoError(t, s.Begin("drag").Try(to(4, 30)))
	what, ok := s.CanUndo()
	require.True(t, ok)
	require.Equal(t, "drag", what)
	s.Undo()
	require.InDelta(t, 25, downAt(s, 4), 1e-6)
}

func TestReadersMayRunBesideADrag(t *testing.T) {
	s := opened(t)
	stop := make(chan struct{})
	var readers sync.WaitGroup
	for range 2 {
		readers.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				k := s.Planking()
				_ = k.Layers[0].Strakes[0].At[0].WidthCut + k.Plan.Layers[0].Lines[0].Handles[4].Down
				_, _ = s.CanUndo()
				_ = s.Changed()
			}
		})
	}
	for range 5 {
		d := s.Begin("drag")
		for i := range 10 {
			require.NoError(t, d.Try(to(4, 25+float64(i))))
		}
		d.Done()
		s.Undo()
	}
	s.keeper.Flush()
	close(stop)
	readers.Wait()
}

// Memory stays flat over any number of drags, with undo for every one of them:
// a step may take 400 bytes. One that kept a plan would take some 2 KB.
func TestMemoryIsFlatOverDrags(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes some seconds")
	}
	s := opened(t)
	drag := func(i int) {
		d := s.Begin("move the handle at frame E")
		for _, by := range []float64{0.1, 0.2} {
			require.NoError(t, d.Try(to(4, 25+float64(i%10)/5+by)))
		}
		d.Done()
	}
	for i := range 500 {
		drag(i)
	}
	before := inUse()
	const drags = 2000
	for i := range drags {
		drag(i)
	}
	grown := inUse() - before
	t.Logf("grown by %d KB over %d drags", grown>>10, drags)
	require.Less(t, grown, int64(400*drags))
	require.Equal(t, 500+drags, s.steps.Len(history.Back))
}

func inUse() int64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

func TestTitle(t *testing.T) {
	s := opened(t)
	require.Equal(t, "Wigley", s.Title())
	require.NoError(t, s.Edit("name", title("")))
	require.Equal(t, "wigley", s.Title())
}

func TestClosingTakesTheAutosaveAway(t *testing.T) {
	s := opened(t)
	require.NoError(t, s.Edit("move", to(4, 28)))
	s.keeper.Flush()
	require.FileExists(t, s.keeper.path)
	s.Close()
	require.NoFileExists(t, s.keeper.path)
	_, err := os.Stat(s.Path())
	require.NoError(t, err)
}

// TestEditsAreHeldToTheLimits: whatever a plan file is refused for, an edit in
// the window is refused for too, and the plan stays as it was.
func TestEditsAreHeldToTheLimits(t *testing.T) {
	s, err := NewDemo()
	require.NoError(t, err)
	defer s.Close()
	before := s.Plan()
	for want, spoil := range map[string]func(*hull.Plan){
		"layer 1: the strip's width is 1e-06 mm: give it from 0.1 to 1000 mm":          func(p *hull.Plan) { p.Layers[0].Stock.Width = 1e-6 },
		"layer 1: the strip's thickness is 1000000000 mm: give it from 0.05 to 100 mm": func(p *hull.Plan) { p.Layers[0].Stock.Thickness = 1e9 },
		"the price of a strip is 1e+308: give it from 0 to 1000000":                    func(p *hull.Plan) { p.Shop = []hull.Strips{{Width: 4, Thickness: 1, Length: 900, Price: 1e308}} },
		"the kerf is -1 mm: give it from 0 to 100 mm":                                  func(p *hull.Plan) { p.Cutting.Kerf = -1 },
		"the moisture as bought is 1000 %: give it above 0 and at most 200 %":          func(p *hull.Plan) { p.Moisture.Bought = 1000 },
	} {
		require.EqualError(t, s.Edit("spoil it", func(p *hull.Plan) error { spoil(p); return nil }), want)
		require.Same(t, before, s.Plan())
	}
}
