package loft

import (
	"context"
	"sync/atomic"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"

	"strakewright/hull"
)

// counted is a context that counts how often it is looked at, and that ends by
// itself at one of the looks; at none where that is 0.
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

// looksOf is how often work looks at its context when nothing stops it. Stopped
// at any look, here at the first, at the last and at ten between, it must end
// with that very look: it does no more work after it than between two.
func looksOf(t *testing.T, work func(context.Context) error) int {
	t.Helper()
	return looksWithin(t, 0, work)
}

// looksWithin is looksOf for work that may look on for so large a share of all
// its looks.
func looksWithin(t *testing.T, share float64, work func(context.Context) error) int {
	t.Helper()
	free := &counted{Context: context.Background()}
	require.NoError(t, work(free))
	all := free.looks.Load()
	require.Positive(t, all, "it never looks at its context")
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

// longBarge is a hull of many frames with many strakes on it, in many layers:
// sides that widen a little towards its middle.
func longBarge(frames, layers int, width float64) *hull.Plan {
	var h hull.Hull
	for i := range frames {
		x := float64(i) / float64(frames-1)
		f := hull.Frame{Name: "F" + string(rune('0'+i%10)) + string(rune('a'+i/10))}
		for j := range 6 {
			f.Points = append(f.Points, mgl64.Vec3{1000 * x, 200 + 40*x*(1-x), 100 - 20*float64(j)})
		}
		h.Frames = append(h.Frames, f)
	}
	p := hull.NewPlan("Long barge", h)
	p.Layers[0].Stock.Width, p.Layers[0].Stock.Length = width, 400
	p.Layers[0].Stock.Thickness = 0.5
	for len(p.Layers) < layers {
		l := p.Layers[0]
		l.Bands = append([]hull.Band{}, l.Bands...)
		p.Layers = append(p.Layers, l)
	}
	return p
}

// TestPlankingLooksAtEveryStrakeAndFrame: however many there are, what goes on
// after a stop is one strake or one frame, or the loft of one surface.
func TestPlankingLooksAtEveryStrakeAndFrame(t *testing.T) {
	for _, c := range []struct {
		name           string
		frames, layers int
		width          float64
	}{
		{"many frames", 60, 1, 20},
		{"many strakes", 5, 1, 0.5},
		{"many layers", 5, 10, 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := longBarge(c.frames, c.layers, c.width)
			strakes := 0
			looks := looksOf(t, func(ctx context.Context) error {
				k, err := PlankContext(ctx, p)
				if err == nil {
					strakes = 0
					for _, l := range k.Layers {
						strakes += len(l.Strakes)
					}
				}
				return err
			})
			require.GreaterOrEqual(t, looks, strakes+c.layers*c.frames)

			k, err := Plank(p)
			require.NoError(t, err)
			again := looksOf(t, func(ctx context.Context) error {
				_, err := k.ReplankContext(ctx, p)
				return err
			})
			require.GreaterOrEqual(t, again, strakes+c.layers*c.frames)
		})
	}
}

// TestComparingStops: every kind of strip is a layer laid.
func TestComparingStops(t *testing.T) {
	p := longBarge(5, 1, 20)
	widths := []float64{2, 4, 8}
	looks := looksOf(t, func(ctx context.Context) error {
		_, err := CompareStock(ctx, p, 0, widths)
		return err
	})
	require.GreaterOrEqual(t, looks, 100/2+100/4+100/8+len(widths))
}

// TestOptionsStop: every option is a planking, and is stopped as one is.
func TestOptionsStop(t *testing.T) {
	k, err := Plank(longBarge(5, 1, 2))
	require.NoError(t, err)
	options := 0
	looks := looksOf(t, func(ctx context.Context) error {
		list, err := k.Options(ctx, hull.Port, 0, 0, UsualBench)
		if err == nil {
			options = len(list)
		}
		return err
	})
	require.Greater(t, options, 2)
	require.GreaterOrEqual(t, looks, options*len(k.Layers[0].Strakes))
}

// TestBestMixStops: it looks at the context between any two mixes tried but those
// of one walk downhill.
func TestBestMixStops(t *testing.T) {
	k, err := Plank(longBarge(5, 1, 5))
	require.NoError(t, err)
	looks := looksOf(t, func(ctx context.Context) error {
		_, err := k.BestMix(ctx, 0, 0, []float64{4, 5, 6})
		return err
	})
	require.Greater(t, looks, 200, "20 strakes of one width by 20 of another, half of them")
}

// TestCuttingStops: butting looks at every strake, cutting at every step of its
// searches. These lie in each other, and each looks once more as it is left.
func TestCuttingStops(t *testing.T) {
	k, err := Plank(longBarge(8, 3, 10))
	require.NoError(t, err)
	strakes := 0
	for _, l := range k.Layers {
		strakes += len(l.Strakes)
	}
	looks := looksWithin(t, 0.01, func(ctx context.Context) error {
		_, err := k.CutLayers(ctx)
		return err
	})
	require.GreaterOrEqual(t, looks, strakes)
}
