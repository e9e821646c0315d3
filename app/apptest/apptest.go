package apptest

import (
	"bytes"
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
)

// Wigley is Wigley's hull (1934) at L = 400 mm, L/B = 5 and B/T = 1.6, cut off
// short of its sharp ends: 13 frames of 13 points.
func Wigley() *hull.Hull {
	const L, B, T = 400.0, 80.0, 50.0
	h := &hull.Hull{Bow: hull.BowLast, Limits: hull.Limits{Upper: "wale", Lower: "rabbet"}}
	for i := range 13 {
		x := 0.9 * L * (float64(i)/12 - 0.5)
		f := hull.Frame{Name: string(rune('A' + i))}
		for j := range 13 {
			z := -T * 0.98 * float64(j) / 12
			y := B / 2 * (1 - math.Pow(2*x/L, 2)) * (1 - z*z/T/T)
			f.Points = append(f.Points, mgl64.Vec3{x, y, z})
		}
		h.Frames = append(h.Frames, f)
	}
	return h
}

// Planked is Wigley's hull planked in one layer of that many bands.
func Planked(t testing.TB, bands int) *loft.Planking {
	t.Helper()
	p, err := loft.FairLines(context.Background(), hull.NewPlan("", *Wigley()), 0, bands)
	require.NoError(t, err)
	return plank(t, p)
}

// Demo is the demo plan planked, with another name for its second frame.
func Demo(t testing.TB, second string) *loft.Planking {
	t.Helper()
	p, err := hull.ReadPlan(bytes.NewReader(assets.Demo()), "demo")
	require.NoError(t, err)
	p.Hull.Frames[1].Name = second
	return plank(t, p)
}

func plank(t testing.TB, p *hull.Plan) *loft.Planking {
	t.Helper()
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

// Session opens a plan of Wigley's hull in three bands, saved in a folder of
// the test's own.
func Session(t testing.TB) *app.Session {
	t.Helper()
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	dir := t.TempDir()
	points := filepath.Join(dir, "wigley.csv")
	f, err := os.Create(points)
	require.NoError(t, err)
	require.NoError(t, source.WritePoints(f, Wigley()))
	require.NoError(t, f.Close())
	s, err := app.Open(points)
	require.NoError(t, err)
	p, err := loft.FairLines(context.Background(), s.Plan(), 0, 3)
	require.NoError(t, err)
	require.NoError(t, s.Edit("lay lines", func(q *hull.Plan) error { *q = *p; return nil }))
	path := filepath.Join(dir, "wigley.strakeplan")
	require.NoError(t, s.SaveAs(path, false))
	s, err = app.Open(path)
	require.NoError(t, err)
	t.Cleanup(s.Close)
	return s
}

// GirthSession opens a hull of which only the girths are known.
func GirthSession(t testing.TB) *app.Session {
	t.Helper()
	path := filepath.Join(t.TempDir(), "girths.csv")
	require.NoError(t, os.WriteFile(path, []byte("frame,x_mm,girth_mm,turn_deg\nA,0,40,10\nB,50,70,30\nC,100,86,60\nD,150,90,80\nE,200,84,70\nF,250,66,40\n"), 0o600))
	s, err := app.Open(path)
	require.NoError(t, err)
	return s
}

// Folding is a plan of two layers of 2 mm over a trough of five frames that is hollow
// to about 2 mm at the first alone, so that the outer face of the lower layer folds
// there.
func Folding() *hull.Plan {
	h := &hull.Hull{Bow: hull.BowFirst, Limits: hull.Limits{Upper: "wale", Lower: "rabbet"}}
	for i := range 5 {
		f := hull.Frame{Name: string(rune('A' + i))}
		r := 2 + 8*float64(i)
		for k := range 6 {
			f.Points = append(f.Points, mgl64.Vec3{30 * float64(i), 10 + r, 40 + r - 6*float64(k)})
		}
		for k := 1; k <= 12; k++ { // a side, and a hollow quarter into a ledge
			sin, cos := math.Sincos(math.Pi / 2 * float64(k) / 12)
			f.Points = append(f.Points, mgl64.Vec3{30 * float64(i), 10 + r + r*(1-cos), 10 + r - r*sin})
		}
		for k := 1; k <= 4; k++ {
			f.Points = append(f.Points, mgl64.Vec3{30 * float64(i), 10 + 2*r + 5*float64(k), 10})
		}
		h.Frames = append(h.Frames, f)
	}
	p := hull.NewPlan("a hollow", *h)
	p.Layers = append(p.Layers, p.Clone().Layers[0])
	return p
}
