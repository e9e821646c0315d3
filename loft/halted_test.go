package loft

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// longWork is what may take a second or more, each on a big case.
func longWork(t *testing.T) map[string]func(context.Context) error {
	r := rand.New(rand.NewPCG(1, 9))
	frames := displaced(wigley(800, 21, 100), func(int, int) float64 { return 0.2 * r.NormFloat64() })
	many := oneLayer(wigley(1600, 80, 30), fiveByTwo, 6)
	many.Layers = append(many.Layers, many.Layers[0])
	laid, err := Plank(many)
	require.NoError(t, err)
	pieces := make([]float64, 2000)
	for i := range pieces {
		pieces[i] = 100 + float64(r.IntN(80000))/100
	}
	shop := []Strip{{1000, 1.2, -1}, {600, 0.8, -1}, {2000, 2.5, 300}}
	return map[string]func(context.Context) error{
		"Misfits":   func(ctx context.Context) error { _, err := Misfits(ctx, frames); return err },
		"Fair":      func(ctx context.Context) error { _, err := Fair(ctx, frames, 0.3); return err },
		"FairLines": func(ctx context.Context) error { _, err := FairLines(ctx, many, 0, 6); return err },
		"Stagger":   func(ctx context.Context) error { _, err := Stagger(ctx, many, 1); return err },
		"CutLayers": func(ctx context.Context) error { _, err := laid.CutLayers(ctx); return err },
		"Cut":       func(ctx context.Context) error { _, err := Cut(ctx, pieces, nil, shop, 0.5); return err },
	}
}

// TestLongWorkIsStopped: what is stopped before or in the middle ends within
// 100 ms, which is what a hand on a button takes for at once, with an error that
// wraps the context's.
func TestLongWorkIsStopped(t *testing.T) {
	const prompt = 100 * time.Millisecond
	for name, do := range longWork(t) {
		ctx, stop := context.WithCancel(context.Background())
		stop()
		begun := time.Now()
		require.ErrorIs(t, do(ctx), context.Canceled, name)
		assert.Less(t, time.Since(begun), prompt, name)
		for _, after := range []time.Duration{5, 40, 150} {
			took := stoppedAfter(t, name, do, after*time.Millisecond)
			for range 2 { // a busy machine may be late once; the work would be late again
				if took >= prompt {
					took = stoppedAfter(t, name, do, after*time.Millisecond)
				}
			}
			assert.Less(t, took, prompt, name)
		}
	}
}

// stoppedAfter stops work after that long and gives how much later it ended; 0
// where it was done by then.
func stoppedAfter(t *testing.T, name string, do func(context.Context) error, after time.Duration) time.Duration {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	done := make(chan error, 1)
	go func() { done <- do(ctx) }()
	select {
	case err := <-done:
		require.NoError(t, err, name)
		t.Logf("%s: done within %v", name, after)
		return 0
	case <-time.After(after):
	}
	stopped := time.Now()
	stop()
	err := <-done
	took := time.Since(stopped)
	t.Logf("%s: stopped after %v, ended %v later", name, after, took)
	require.ErrorIs(t, err, context.Canceled, name)
	assert.ErrorContains(t, err, "stopped", name)
	return took
}
