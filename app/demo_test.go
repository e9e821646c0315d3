package app_test

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
)

// opened reads a plan, and checks that it conforms to the published schema and
// holds the hull of its table of points.
func opened(t *testing.T, text []byte, points string) *loft.Planking {
	t.Helper()
	schema, err := jsonschema.UnmarshalJSON(bytes.NewReader(assets.Schema()))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("schema.json", schema))
	s, err := c.Compile("schema.json")
	require.NoError(t, err)
	plan, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	require.NoError(t, s.Validate(plan))

	p, err := hull.ReadPlan(bytes.NewReader(text), points)
	require.NoError(t, err)
	of, _, err := source.TakeOff(filepath.Join("..", "assets", points), drawing.Options{})
	require.NoError(t, err)
	require.Equal(t, of.Hull.Frames, p.Hull.Frames)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

// The demo plan is meant to show a double-planked hull on which strakes taper,
// a wedge is let in and a strake drops out.
func TestDemo(t *testing.T) {
	k := opened(t, assets.Demo(), "coaster.csv")
	require.GreaterOrEqual(t, len(k.Plan.Hull.Frames), 14)
	require.Len(t, k.Layers, 2)
	tapers, wedges, drops := 0, 0, 0
	for _, l := range k.Layers {
		wedges += len(l.Wedges)
		drops += len(l.Drops)
		for _, s := range l.Strakes {
			for _, c := range s.At {
				if c.Laid && c.Action == loft.Taper {
					tapers++
				}
			}
		}
	}
	require.Positive(t, tapers)
	require.Positive(t, wedges)
	require.Positive(t, drops)
}

func TestSkiff(t *testing.T) {
	k := opened(t, assets.Skiff(), "skiff.csv")
	require.NotEmpty(t, k.Plan.Hull.Frames[5].Knuckles, "her chine is a corner")
	require.Equal(t, "Pennywhit", k.Plan.Title)
}
