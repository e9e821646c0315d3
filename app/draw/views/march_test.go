package views

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/loft"
)

// marched lays strips one against another on Wigley's hull, with a rule under
// which some are forced and some are not.
func marched(t *testing.T) (*loft.Planking, []loft.March) {
	t.Helper()
	p := wigley(t).Plan.Clone()
	p.Trade = p.Rules()
	p.Trade.EdgeStrain = 0.001
	k, err := loft.Plank(p)
	require.NoError(t, err)
	ways, err := k.March(t.Context(), 0)
	require.NoError(t, err)
	return k, ways
}

// TestProfileShowsStripsMarchedOut: the lines are heavy where the strips are forced
// and nowhere else, and every way's first forced strip has its sign.
func TestProfileShowsStripsMarchedOut(t *testing.T) {
	k, ways := marched(t)
	v := &Profile{March: ways}
	curves := CurvesOf(k.Layers[0])
	v.X, v.Z = FitProfile(curves, 1000, 250)
	v.Draw(k, curves, Nothing, 1000, 250)
	var heavy, light, forced, easy int
	var signs []string
	for _, it := range v.Drawing.Items {
		switch it := it.(type) {
		case draw.Stroke:
			switch it.Role {
			case draw.GapInk:
				heavy += len(it.Points) - 1
			case draw.Seam:
				light += len(it.Points) - 1
			}
		case draw.Label:
			if strings.HasPrefix(it.Text, "strip ") {
				signs = append(signs, it.Text)
			}
		}
	}
	want := 0
	for _, m := range ways {
		if m.Forced >= 0 {
			want++
		}
		for _, s := range m.Strips {
			for _, run := range s.Runs {
				for _, p := range run[:len(run)-1] {
					if p.Strain > 0.001 {
						forced++
					} else {
						easy++
					}
				}
			}
		}
	}
	require.Positive(t, want)
	assert.Len(t, signs, want)
	assert.Greater(t, forced, 20)
	assert.Greater(t, easy, 20)
	assert.Equal(t, forced, heavy)
	assert.Equal(t, easy, light, "the strakes' seams are left out")
}

// TestMarchPlotMarksTheFirstForced: its larger mark lies above the rule's line,
// all marks before it lie below, and everything lies within the view.
func TestMarchPlotMarksTheFirstForced(t *testing.T) {
	k, ways := marched(t)
	var v MarchPlot
	const w, h = 250.0, 170.0
	v.Draw(k.Layers[0], ways, w, h)
	rule, large := 0.0, 0
	for _, it := range v.Drawing.Items {
		if s, ok := it.(draw.Stroke); ok && s.Role == draw.Warning {
			rule = s.Points[0].Y
		}
		for _, p := range pointsOf(it) {
			assert.True(t, p.X >= 0 && p.X <= w && p.Y >= 0 && p.Y <= h, "%v", it)
		}
	}
	require.NotZero(t, rule)
	for _, it := range v.Drawing.Items {
		if m, ok := it.(draw.Mark); ok && m.Role == draw.Warning {
			large++
			assert.Less(t, m.At.Y, rule)
		}
	}
	want := 0
	for _, m := range ways {
		if m.Forced >= 0 {
			want++
		}
	}
	assert.Equal(t, want, large)
	v.Draw(k.Layers[0], nil, w, h) // with nothing to show, it says so
	for _, it := range v.Drawing.Items {
		_, mark := it.(draw.Mark)
		assert.False(t, mark)
	}
}

func pointsOf(it draw.Item) []draw.Point {
	switch it := it.(type) {
	case draw.Stroke:
		return it.Points
	case draw.Fill:
		return it.Points
	case draw.Mark:
		return []draw.Point{it.At}
	}
	return nil
}
