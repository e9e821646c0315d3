package app

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/keep"
)

// togetherPlan names, in the environment, the plan in which child processes
// note entries at the same time, and togetherName which of them one is.
const (
	togetherPlan = "STRAKEWRIGHT_TEST_TOGETHER"
	togetherName = "STRAKEWRIGHT_TEST_TOGETHER_NAME"
)

// How many note at the same time, and how much: a thousand notes in all.
const (
	noters      = 10
	notesEach   = 90
	windowNotes = 100
)

func noteOf(who string, n int) hull.Entry {
	return hull.Entry{Date: "2026-03-01", EntryKind: hull.Fitted, Layer: 1, Strake: "1.01", Note: who + " " + strconv.Itoa(n)}
}

// TestTogetherProcess is not a test of its own: it notes as a shell does, opening
// the plan afresh each time, and reports what it was told is kept.
func TestTogetherProcess(t *testing.T) {
	path, who := os.Getenv(togetherPlan), os.Getenv(togetherName)
	if path == "" {
		t.Skip("started by another test alone")
	}
	for n := range notesEach {
		err := Amend(t.Context(), path, func() {}, func(s *Session) error { return s.Note(hull.Starboard, noteOf(who, n)) })
		if err != nil {
			require.ErrorIs(t, err, ErrNotKept)
			continue
		}
		fmt.Printf("kept:%s %d\n", who, n)
	}
}

// TestNotesAtTheSameTime: a thousand notes from ten processes and a window, in
// which a title is being changed meanwhile. The file holds exactly the notes that
// were reported as kept.
func TestNotesAtTheSameTime(t *testing.T) {
	path := benchPlan(t)
	window, err := Open(path)
	require.NoError(t, err)
	defer window.Close()

	var mu sync.Mutex
	var kept []string
	var all sync.WaitGroup
	for i := range noters {
		all.Go(func() {
			c := exec.Command(os.Args[0], "-test.run=^TestTogetherProcess$")
			c.Env = append(os.Environ(), togetherPlan+"="+path, togetherName+"="+strconv.Itoa(i), "GOGC=off", "GOMEMLIMIT=200MiB") // for speed
			out, err := c.CombinedOutput()
			assert.NoError(t, err, string(out))
			mu.Lock()
			defer mu.Unlock()
			for line := range strings.Lines(string(out)) {
				if text, ok := strings.CutPrefix(strings.TrimSpace(line), "kept:"); ok {
					kept = append(kept, text)
				}
			}
		})
	}
	var mine []string
	for n := range windowNotes {
		require.NoError(t, window.Edit("title", title("Hoy "+strconv.Itoa(n))))
		if n%10 == 5 {
			window.Undo()
		}
		err := window.Note(hull.Port, noteOf("window", n))
		if err != nil { // it could not be written in time, and is in the recovery file
			require.ErrorIs(t, err, keep.ErrBusy)
			require.ErrorContains(t, err, "it is noted")
		}
		mine = append(mine, noteOf("window", n).Note)
	}
	all.Wait()
	require.NoError(t, window.Save())

	p, err := hull.OpenFile(path)
	require.NoError(t, err)
	assert.ElementsMatch(t, kept, notesOf(p.Record.Starboard))
	assert.Equal(t, mine, notesOf(p.Record.Port))
	assert.Equal(t, "Hoy "+strconv.Itoa(windowNotes-1), p.Title)
	assert.True(t, same(p, window.Plan()))
	t.Logf("%d of %d notes were kept, the others refused", len(kept)+len(mine), noters*notesEach+windowNotes)
	assert.NotEmpty(t, kept)
	files, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, files, 1, "nothing is left beside it")
}

func notesOf(list []hull.Entry) []string {
	var out []string
	for _, e := range list {
		out = append(out, e.Note)
	}
	return out
}
