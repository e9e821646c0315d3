package app

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// benchPlan is a plan of a barge with straight sides, written to a file.
func benchPlan(t *testing.T) string {
	t.Helper()
	var frames []hull.Frame
	for i := range 4 {
		f := hull.Frame{Name: string(rune('A' + i))}
		for j := range 7 {
			f.Points = append(f.Points, mgl64.Vec3{60 * float64(i), 20, 45 - 7.5*float64(j)})
		}
		frames = append(frames, f)
	}
	path := filepath.Join(t.TempDir(), "barge.strakeplan")
	require.NoError(t, hull.SaveFile(path, hull.NewPlan("Barge", hull.Hull{Frames: frames})))
	return path
}

func gluedOn(date, id string) hull.Entry {
	return hull.Entry{Date: date, EntryKind: hull.Glued, Layer: 1, Strake: id}
}

func TestNoteIsInTheFileAtOnce(t *testing.T) {
	path := benchPlan(t)
	s, err := Open(path)
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Note(hull.Port, gluedOn("2026-03-01", "1.01")))
	assert.False(t, s.Changed())
	p, err := hull.OpenFile(path)
	require.NoError(t, err)
	require.Len(t, p.Record.Port, 1)
	assert.Len(t, p.Record.Port[0].Widths, 4, "what it was cut to")
	assert.Equal(t, 9, p.Layers[0].Bands[0].Strakes, "the number of strakes stands from now on")

	what, ok := s.Undo()
	assert.True(t, ok)
	assert.Equal(t, "note 1.01 glued", what)
	assert.Empty(t, s.Plan().Record.Port)

	assert.ErrorContains(t, s.Note(hull.Port, gluedOn("soon", "1.01")), "is not a date")
	assert.ErrorContains(t, s.Note(hull.Port, gluedOn("2026-03-01", "5.01")), "no strake 5.01")
	assert.Empty(t, s.Plan().Record.Port)
}

// Another program's note is merged, even for someone who has moved a band line
// meanwhile, and no undo removes it.
func TestNoteTakesInWhatAnotherProgramNoted(t *testing.T) {
	path := benchPlan(t)
	s, err := Open(path)
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Edit("title", title("Lighter")))
	require.NoError(t, s.Note(hull.Port, gluedOn("2026-03-01", "1.01")))
	require.NoError(t, s.Edit("title", title("Hoy")))
	require.NoError(t, Amend(t.Context(), path, func() {}, func(other *Session) error {
		return other.Note(hull.Port, gluedOn("2026-03-01", "1.02"))
	}))
	require.NoError(t, s.Note(hull.Port, gluedOn("2026-03-02", "1.03")))
	require.Len(t, s.Told(), 1)
	p, err := hull.OpenFile(path)
	require.NoError(t, err)
	assert.Equal(t, []string{"1.01", "1.02", "1.03"}, strakesOf(p.Record.Port))
	assert.Equal(t, "Hoy", p.Title)

	for range 4 {
		s.Undo()
	}
	assert.Equal(t, "Barge", s.Plan().Title)
	assert.Equal(t, []string{"1.02"}, strakesOf(s.Plan().Record.Port), "what is another's stays")
	require.NoError(t, s.Save())
	p, err = hull.OpenFile(path)
	require.NoError(t, err)
	assert.Equal(t, []string{"1.02"}, strakesOf(p.Record.Port))
}

// Saving also merges another program's notes, and what it struck out.
func TestSaveTakesInWhatAnotherProgramNoted(t *testing.T) {
	path := benchPlan(t)
	s, err := Open(path)
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Note(hull.Port, gluedOn("2026-03-01", "1.01")))
	require.NoError(t, s.Edit("title", title("Hoy")))
	require.NoError(t, Amend(t.Context(), path, func() {}, func(other *Session) error {
		if err := other.Strike(hull.Port, 0); err != nil {
			return err
		}
		return other.Note(hull.Starboard, gluedOn("2026-03-01", "1.02"))
	}))
	require.NoError(t, s.Save())
	p, err := hull.OpenFile(path)
	require.NoError(t, err)
	assert.Equal(t, "Hoy", p.Title)
	assert.Empty(t, p.Record.Port)
	assert.Len(t, p.Record.Starboard, 1)
	assert.False(t, s.Changed())
}

func strakesOf(list []hull.Entry) []string {
	var out []string
	for _, e := range list {
		out = append(out, e.Strake)
	}
	return out
}

// Conflicting changes are asked about, and until then kept beside the file.
func TestNoteTellsWhereTheFileWasChanged(t *testing.T) {
	path := benchPlan(t)
	s, err := Open(path)
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Edit("title", title("Hoy")))
	other, err := Open(path)
	require.NoError(t, err)
	defer other.Close()
	require.NoError(t, other.Edit("title", title("Lighter")))
	require.NoError(t, other.Save())
	err = s.Note(hull.Port, gluedOn("2026-03-02", "1.02"))
	assert.ErrorIs(t, err, ErrChangedOnDisk)
	assert.ErrorContains(t, err, "it is noted, but not in the file yet")
	assert.Len(t, s.Plan().Record.Port, 1)
	p, err := hull.OpenFile(s.keeper.path)
	require.NoError(t, err, "it is in the recovery file meanwhile")
	assert.Equal(t, "1.02", p.Record.Port[0].Strake)
	assert.Equal(t, "Hoy", p.Title)
	p, err = hull.OpenFile(path)
	require.NoError(t, err)
	assert.Equal(t, "Lighter", p.Title, "and what the other wrote is still there")
}

// A shell's note that does not get into the file is kept nowhere, and says so.
func TestARefusedNoteIsNotKeptAndSaysSo(t *testing.T) {
	path := benchPlan(t)
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.Chmod(path, 0o444))
	err = Amend(t.Context(), path, func() {}, func(s *Session) error { return s.Note(hull.Port, gluedOn("2026-03-01", "1.01")) })
	require.ErrorIs(t, err, ErrNotKept)
	assert.ErrorContains(t, err, "marked read-only")
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(after))
	files, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, files, 1, "and nothing is left beside it")

	require.NoError(t, os.Chmod(path, 0o644))
	release, err := keep.HoldFile(t.Context(), path)
	require.NoError(t, err)
	defer release()
	soon, stop := context.WithTimeout(t.Context(), time.Millisecond)
	defer stop()
	err = Amend(soon, path, func() {}, func(s *Session) error { return s.Note(hull.Port, gluedOn("2026-03-01", "1.01")) })
	require.ErrorIs(t, err, ErrNotKept)
	require.ErrorIs(t, err, keep.ErrBusy)
	assert.ErrorContains(t, err, "try again in a moment")
}

// With no place to keep it, a note on a plan without a file is refused, and can
// be made again.
func TestANoteWithNowhereToKeepItIsRefused(t *testing.T) {
	for _, name := range []string{"XDG_CACHE_HOME", "HOME", "LocalAppData"} {
		t.Setenv(name, "")
	}
	s, err := NewDemo()
	require.NoError(t, err)
	defer s.Close()
	before := len(s.Plan().Record.Port)
	e := gluedOn("2026-03-01", progress.Turns(s.Planking())[0].ID)
	require.ErrorIs(t, s.Note(hull.Port, e), ErrNotKept)
	assert.Len(t, s.Plan().Record.Port, before)
	_, undone := s.CanUndo()
	assert.False(t, undone)
	require.NoError(t, s.SaveAs(filepath.Join(t.TempDir(), "demo.strakeplan"), false))
	require.NoError(t, s.Note(hull.Port, e))
}

func TestChooseIsOneStep(t *testing.T) {
	path := benchPlan(t)
	s, err := Open(path)
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Note(hull.Starboard, gluedOn("2026-03-01", "1.09")))
	before := s.Plan()
	options, err := progress.Options(t.Context(), s.Planking(), hull.Starboard, 0, 0, progress.UsualHabit())
	require.NoError(t, err)
	for _, o := range options {
		require.NoError(t, s.Choose(&o, "2026-03-02"))
		assert.Equal(t, o.Remedy, s.Plan().Record.Starboard[1].Remedy)
		p, err := hull.OpenFile(path)
		require.NoError(t, err)
		assert.Equal(t, s.Plan(), p)
		_, ok := s.Undo()
		require.True(t, ok)
		assert.True(t, same(before, s.Plan()), "one undo takes it back")
	}
}

func TestStrikeStepsAndTolerance(t *testing.T) {
	path := benchPlan(t)
	s, err := Open(path)
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.Note(hull.Starboard, gluedOn("2026-03-01", "1.01")))
	require.NoError(t, s.Note(hull.Starboard, gluedOn("2026-03-01", "1.02")))
	require.NoError(t, s.Strike(hull.Starboard, 0))
	require.NoError(t, s.SetSteps([]hull.Step{{Key: "glue"}, {Name: "Tea"}}))
	require.NoError(t, s.SetTolerance(0.5))
	assert.Error(t, s.Strike(hull.Starboard, 1))
	assert.Error(t, s.SetTolerance(-1))
	p, err := hull.OpenFile(path)
	require.NoError(t, err)
	require.Len(t, p.Record.Starboard, 1)
	assert.Equal(t, "1.02", p.Record.Starboard[0].Strake)
	assert.Len(t, p.Record.Steps, 2)
	assert.Equal(t, 0.5, p.Record.Tolerance)
}

// noterPlan names, in the environment, the plan in which a child process is to
// note entries; "demo" is the demo plan, which has no file.
const noterPlan = "STRAKEWRIGHT_TEST_NOTER"

// TestNoterProcess is not a test of its own: it is the process that is killed.
// It reports each entry once Note has returned.
func TestNoterProcess(t *testing.T) {
	path := os.Getenv(noterPlan)
	if path == "" {
		t.Skip("started by other tests alone")
	}
	var s *Session
	var err error
	if path == "demo" {
		s, err = NewDemo()
	} else {
		s, err = Open(path)
	}
	require.NoError(t, err)
	for n := len(s.Plan().Record.Starboard); ; n++ {
		require.NoError(t, s.Note(hull.Starboard, hull.Entry{Date: "2026-03-01", EntryKind: hull.Fitted, Layer: 1, Strake: "1.01", Note: strconv.Itoa(n)}))
		fmt.Printf("noted %d\n", n)
	}
}

// killedWhileNoting starts a process that notes, and kills it once it has
// reported the given number of entries and its folder, in which it goes on
// writing, has been checked the given number of times. It returns how many
// entries the process reported.
func killedWhileNoting(t *testing.T, plan string, entries, looks int) int {
	t.Helper()
	c := exec.Command(os.Args[0], "-test.run=^TestNoterProcess$")
	c.Env = append(os.Environ(), noterPlan+"="+plan)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	told := 0
	reached := make(chan bool)
	var read sync.WaitGroup
	read.Go(func() {
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			if strings.HasPrefix(lines.Text(), "noted ") {
				if told++; told == entries {
					close(reached)
				}
			}
		}
		if told < entries {
			close(reached) // it ended before
		}
	})
	<-reached
	for range looks {
		_, err := os.ReadDir(filepath.Dir(plan))
		require.NoError(t, err)
	}
	require.NoError(t, c.Process.Kill())
	read.Wait()
	_ = c.Wait() // it was killed
	return told
}

// noted asserts that a record holds at least that many entries, in order.
func noted(t *testing.T, p *hull.Plan, told int) {
	t.Helper()
	got := p.Record.Starboard
	assert.GreaterOrEqual(t, len(got), told, "nothing that was told of is lost")
	assert.LessOrEqual(t, len(got), told+1, "and nothing is there that was not noted")
	for i, e := range got {
		assert.Equal(t, strconv.Itoa(i), e.Note)
	}
}

// TestKilledAtAnyMoment: a program killed at 200 random moments while it notes
// has lost at most the entry that it was about to note.
func TestKilledAtAnyMoment(t *testing.T) {
	const kills, hands = 200, 4
	before, err := os.ReadFile(benchPlan(t))
	require.NoError(t, err)
	dir := t.TempDir()
	var all sync.WaitGroup
	for hand := range hands {
		all.Go(func() {
			rng := rand.New(rand.NewPCG(uint64(hand), 7))
			for i := range kills / hands {
				path := filepath.Join(dir, fmt.Sprintf("%d-%d.strakeplan", hand, i))
				if !assert.NoError(t, os.WriteFile(path, before, 0o644)) {
					return
				}
				told := killedWhileNoting(t, path, 1+rng.IntN(6), rng.IntN(100))
				p, err := hull.OpenFile(path)
				if assert.NoError(t, err) && assert.Positive(t, told) {
					noted(t, p, told)
				}
			}
		})
	}
	all.Wait()
}

// A plan without a file is in the autosave.
func TestKilledWithoutAFile(t *testing.T) {
	for _, name := range []string{"XDG_CACHE_HOME", "HOME", "LocalAppData"} { // the variable of each system
		t.Setenv(name, t.TempDir())
	}
	for range 3 {
		told := killedWhileNoting(t, "demo", 4, 0)
		require.Positive(t, told)
		left := Recoverable("")
		require.Len(t, left, 1)
		p, err := hull.OpenFile(left[0].Path)
		require.NoError(t, err)
		noted(t, p, told)
		require.NoError(t, Discard(left[0]))
	}
}

// The demo plan, laid completely in turn and measured, remains a plan that
// opens.
func TestNotingAWholeSide(t *testing.T) {
	path := filepath.Join(t.TempDir(), "coaster.strakeplan")
	require.NoError(t, os.WriteFile(path, assets.Demo(), 0o644))
	s, err := Open(path)
	require.NoError(t, err)
	defer s.Close()
	for _, turn := range progress.Turns(s.Planking()) {
		if turn.Layer == 1 && turn.Side == hull.Port {
			require.NoError(t, s.Note(hull.Port, gluedOn("2026-03-01", turn.ID)))
		}
	}
	p, err := hull.OpenFile(path)
	require.NoError(t, err)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	states, err := progress.BothSides(k, 0, &p.Record, progress.UsualHabit())
	require.NoError(t, err)
	for _, state := range states[hull.Port] {
		assert.Empty(t, state.Remaining)
		for i, left := range state.Left {
			assert.InDelta(t, 0, left, 0.05, "frame %d: laid as planned, nothing is left but what widths are rounded by", i)
		}
	}
}
