// Package checks holds helpers that tests of several packages share: that long work
// looks at its context and ends, and where the reference programs are.
package checks

import (
	"context"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Looked is a context that counts how often it is asked whether it has ended, and ends
// after a given number of looks: a stop at a point in the work, not in time.
type Looked struct {
	context.Context
	Looks, Last int    // from look last+1 on it has ended
	Seen        func() // extra action at each look; nil for none
}

// LookedAt is a context that ends after the given number of looks.
func LookedAt(last int) *Looked { return &Looked{Context: context.Background(), Last: last} }

// Unending is more looks than any work takes.
const Unending = 1 << 60

func (l *Looked) Err() error {
	if l.Looks++; l.Seen != nil {
		l.Seen()
	}
	if l.Looks > l.Last {
		return context.Canceled
	}
	return nil
}

// Late is the number of looks taken after the one that said to stop.
func (l *Looked) Late() int { return max(l.Looks-l.Last-1, 0) }

// LongWork is work that may take a second or more.
type LongWork struct {
	Do   func(context.Context) error
	Unit func() // a stretch of it, part of which may pass between two looks
	Part int    // which part: 1 for the whole
	Late int    // looks that may follow the one that says to stop: each of several nested loops takes one
}

// Places are looks to stop at: the first few, some throughout the work and the last.
func Places(looks int) []int {
	out := []int{0, 1, 2}
	for k := 1; k < 8; k++ {
		out = append(out, looks*k/8)
	}
	out = append(out, looks-1)
	slices.Sort(out)
	return slices.Compact(slices.DeleteFunc(out, func(n int) bool { return n >= looks }))
}

// allocated is the total ever allocated, bytes.
func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

func allocatedBy(f func()) uint64 {
	before := allocated()
	f()
	return allocated() - before
}

// StopsInTime checks that work stopped at any point ends there, with an error that
// wraps the context's; and that it looks often enough: no more may be done between two
// looks, nor in all after the one that says to stop, than the unit of each kind. Work
// is measured by memory allocated, which no other program on the machine affects, and
// all of this work allocates as it goes.
func StopsInTime(t *testing.T, all map[string]LongWork) {
	t.Helper()
	for name, work := range all {
		unit := allocatedBy(work.Unit) / uint64(work.Part)
		most, after := uint64(0), uint64(0) // between two looks, and after a stop
		run := func(last int) (*Looked, error) {
			ctx := LookedAt(last)
			before, stop := allocated(), uint64(0)
			step := func() {
				now := allocated()
				if most, before = max(most, now-before), now; ctx.Looks == last+1 && stop == 0 {
					stop = now
				}
			}
			ctx.Seen = step
			err := work.Do(ctx)
			step()
			if stop > 0 {
				after = max(after, before-stop)
			}
			return ctx, err
		}
		whole, err := run(Unending)
		require.NoError(t, err, name)
		for _, last := range Places(whole.Looks) {
			ctx, err := run(last)
			require.ErrorIs(t, err, context.Canceled, "%s, stopped after %d looks", name, last)
			assert.ErrorContains(t, err, "stopped", name)
			assert.LessOrEqual(t, ctx.Late(), work.Late, "%s: looks after the stop at %d of %d", name, last, whole.Looks)
		}
		t.Logf("%s: %d looks, at most %d KiB between two, %d KiB after a stop, %d KiB in a unit", name, whole.Looks, most>>10, after>>10, unit>>10)
		assert.LessOrEqual(t, most, unit*11/10, "%s: bytes allocated between two looks, against one unit and a tenth for what else the runtime does", name)
		assert.LessOrEqual(t, after, unit*11/10, "%s: bytes allocated after a stop, in all", name)
	}
}

// counted is a context that counts how often it is looked at, and that ends by itself
// at one of the looks; at none where that is 0.
type counted struct {
	context.Context
	looks atomic.Int64
	ends  int64
}

func (c *counted) Err() error {
	if n := c.looks.Add(1); c.ends > 0 && n >= c.ends {
		return context.Canceled
	}
	return nil
}

// LooksOf is how often work looks at its context when nothing stops it. Stopped at any
// look, here at the first, at the last and at ten between, it must end with that very
// look: it does no more work after it than between two.
func LooksOf(t *testing.T, work func(context.Context) error) int {
	t.Helper()
	return LooksWithin(t, 0, work)
}

// LooksWithin is LooksOf for work that may go on looking for a given share of all its
// looks.
func LooksWithin(t *testing.T, share float64, work func(context.Context) error) int {
	t.Helper()
	free := &counted{Context: context.Background()}
	require.NoError(t, work(free))
	all := free.looks.Load()
	require.Positive(t, all, tongue.T("it never looks at its context"))
	for k := range int64(12) {
		at := 1 + k*(all-1)/11
		c := &counted{Context: context.Background(), ends: at}
		err := work(c)
		require.ErrorIs(t, err, context.Canceled)
		require.ErrorContains(t, err, "stopped")
		require.LessOrEqual(t, c.looks.Load(), at+int64(share*float64(all)), "it looked on after it was told to stop at look %d of %d", at, all)
	}
	return int(all)
}

// External gives the path of a reference program; without it the test is
// skipped, or fails where STRAKEWRIGHT_EXTERNAL asks for all checks.
func External(t testing.TB, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		if os.Getenv("STRAKEWRIGHT_EXTERNAL") != "" {
			t.Fatalf("%s is not installed: go run ./cmd/dev test installs it", program)
		}
		t.Skipf("%s is not installed; go run ./cmd/dev test installs it and runs this check", program)
	}
	return path
}

// ExternalFile gives the path of a reference file; without it the test is skipped, or
// fails where STRAKEWRIGHT_EXTERNAL asks for all checks.
func ExternalFile(t testing.TB, path string) string {
	t.Helper()
	if _, err := os.Stat(path); err != nil {
		if os.Getenv("STRAKEWRIGHT_EXTERNAL") != "" {
			t.Fatalf("%v: go run ./cmd/dev test installs it", err)
		}
		t.Skipf("%v; go run ./cmd/dev test installs it and runs this check", err)
	}
	return path
}

// LongestWait is the longest time between two looks at the context in all such work:
// the time a user may have to wait after pressing Stop.
func LongestWait(b *testing.B, work map[string]LongWork) {
	b.Helper()
	longest := time.Duration(0)
	for b.Loop() {
		for _, w := range work {
			last := time.Now()
			ctx := LookedAt(Unending)
			ctx.Seen = func() {
				now := time.Now()
				longest, last = max(longest, now.Sub(last)), now
			}
			if err := w.Do(ctx); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(longest.Nanoseconds()), "ns/op")
}
