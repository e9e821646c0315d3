package mesh

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// changed is the mesh with one corner moved.
func changed(mesh sourcetest.Triangles, to [3]float64) sourcetest.Triangles {
	mesh[len(mesh)/2][1] = to
	return mesh
}

func TestWhatIsNoHullIsRefusedInOneSentence(t *testing.T) {
	sound := pinnaceSkin(0)
	announced := sound.BinarySTL()
	binary.LittleEndian.PutUint32(announced[80:], math.MaxUint32)
	copy(announced, "stl")
	text := string(sound.TextSTL())
	flat := sound.Mapped(func(p [3]float64) [3]float64 { return [3]float64{p[0], p[1], 3} })
	dots := sound.Mapped(func([3]float64) [3]float64 { return [3]float64{1, 2, 3} })
	for name, c := range map[string]struct {
		data []byte
		how  Options
		says string
	}{
		"a count too high":   {announced, Options{}, "it announces 4294967295 triangles and holds 192: the file is cut short"},
		"cut short":          {append([]byte("stl"), sound.BinarySTL()[3:1000]...), Options{}, "it announces 192 triangles and holds 18: the file is cut short"},
		"no triangles":       {sourcetest.Triangles{}.BinarySTL(), Options{}, "there are no triangles in it"},
		"no facets":          {[]byte("solid x\nendsolid x\n"), Options{}, "there are no triangles in it"},
		"no faces":           {[]byte("v 0 0 0\nv 1 0 0\nv 0 1 0\n"), Options{}, "there are no triangles in it"},
		"not a number":       {changed(pinnaceSkin(0), [3]float64{1, math.NaN(), 2}).BinarySTL(), Options{}, "a corner of triangle 97 is not finite"},
		"endless":            {changed(pinnaceSkin(0), [3]float64{math.Inf(1), 0, 2}).BinarySTL(), Options{}, "a corner of triangle 97 is not finite"},
		"words":              {[]byte(strings.Replace(text, "vertex 0 0 0", "vertex 0 none 0", 1)), Options{}, "line 4: none is not a number"},
		"broken off":         {[]byte(text[:len(text)/2]), Options{}, "cut short"},
		"two corners":        {[]byte("solid x\nfacet\nvertex 1 2 3\nvertex 1 2 4\nendfacet\n"), Options{}, "line 5: a facet ends after 2 of its three corners"},
		"flat":               {flat.BinarySTL(), Options{}, "the mesh is flat: it takes up 300 x 80 x 0 mm"},
		"all in one place":   {dots.BinarySTL(), Options{}, "none of its triangles has an area"},
		"a corner not there": {[]byte("v 0 0 0\nf 1 2 3\n"), Options{}, "line 2: a face names corner 2, and there are 1 so far"},
		"a unit of none":     {sound.ThreeMF("furlong", ""), Options{}, "the unit furlong is not one of 3MF's"},
		"a bomb":             {blown(t), Options{}, "it unpacks to 4 MB, far more than a mesh of its size would"},
		"two numbers":        {sound.ThreeMF("inch", "1 0"), Options{}, "a transform has 2 numbers in place of 12"},
		"in m":               {sound.Mapped(func(p [3]float64) [3]float64 { return [3]float64{p[0] / 10, p[1] / 10, p[2] / 10} }).BinarySTL(), Options{}, "give the unit and the scale of the mesh"},
		"huge":               {sound.BinarySTL(), Options{Unit: 1000, Scale: 0.5}, "the mesh would be 600000 mm long, over 100 m"},
		"beyond":             {sound.BinarySTL(), Options{Stations: []float64{10, 100, 301}}, "the station at x 301 mm lies beyond it; the mesh runs from x 0 to 300 mm"},
		"too many":           {sound.BinarySTL(), Options{Every: 0.1}, "more than the limit of 1000"},
		"two frames":         {sound.BinarySTL(), Options{Stations: []float64{10, 100}}, "there are 2 frames"},
		"up is the length":   {sound.BinarySTL(), Options{Up: "x"}, "up is x, but the mesh is longest along it"},
	} {
		t.Run(name, func(t *testing.T) {
			_, faults := Check(context.Background(), written(t, c.data), c.how)
			require.NotEmpty(t, faults)
			assert.Contains(t, faults[0].Error(), c.says)
			assert.NotContains(t, faults[0].Error(), "  ")
		})
	}
}

// blown is a 3MF of a few kB that unpacks to megabytes.
func blown(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("3D/3dmodel.model")
	require.NoError(t, err)
	_, err = w.Write(bytes.Repeat([]byte(" "), 4<<20))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return b.Bytes()
}

func TestOtherFilesAreNoMeshes(t *testing.T) {
	for _, text := range []string{"", "v", "solid", "solid oak\nfacets\n", "frame,x_mm,y_mm,z_mm\nA,0,1,2\n", "0 1 2\n3 4 5\n", "<svg/>", "{}", "PK\x03\x04", strings.Repeat("\x00", 200), "vertical 1\nv 2\n"} {
		assert.Empty(t, FormatOf(written(t, []byte(text))), "%.20q", text)
	}
	assert.Empty(t, FormatOf(filepath.Join(t.TempDir(), "none")))
	assert.Empty(t, FormatOf(t.TempDir()))
}

// ending is a context that ends at one of the checks on it; at none where that is
// 0.
type ending struct {
	context.Context
	looks, at int
}

func (c *ending) Err() error {
	if c.looks++; c.at > 0 && c.looks >= c.at {
		return context.Canceled
	}
	return nil
}

// Reading checks its context every few thousand triangles, in each pass, and at every
// station, and stops at once.
func TestReadingAMeshStops(t *testing.T) {
	mesh := sourcetest.Skin(sourcetest.Wigley, -300, 300, 60, 40, 0)
	some := []float64{-100, 0, 100, 200}
	for name, data := range map[string][]byte{"binary": mesh.BinarySTL(), "text": mesh.TextSTL(), "obj": mesh.OBJ(), "3mf": mesh.ThreeMF("millimeter", "")} {
		t.Run(name, func(t *testing.T) {
			path := written(t, data)
			free := &ending{Context: t.Context()}
			shares := []float64{}
			_, faults := Check(free, path, Options{Stations: some, Progress: func(s float64) { shares = append(shares, s) }})
			require.Empty(t, faults)
			require.GreaterOrEqual(t, free.looks, 2*len(mesh)/lookEvery+len(some))
			assert.IsNonDecreasing(t, shares)
			assert.GreaterOrEqual(t, len(shares), 2)
			assert.InDelta(t, 1, shares[len(shares)-1], 0.02)
			for _, at := range []int{1, 2, free.looks / 4, free.looks / 2, free.looks} {
				c := &ending{Context: t.Context(), at: at}
				_, faults := Check(c, path, Options{Stations: some})
				require.NotEmpty(t, faults)
				require.ErrorIs(t, faults[0], context.Canceled)
				assert.LessOrEqual(t, c.looks, at+2)
			}
		})
	}
}

// An STL of any size is sliced in the same memory: the memory allocated does not grow
// with what lies between the stations.
func TestAnSTLIsNotHeld(t *testing.T) {
	allocated := func(along int) uint64 {
		path := written(t, sourcetest.Skin(sourcetest.Wigley, -300, 300, along, 10, 0).BinarySTL())
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, faults := Check(context.Background(), path, Options{Stations: []float64{-100, 0, 100, 200}})
		runtime.ReadMemStats(&after)
		require.Empty(t, faults)
		return after.TotalAlloc - before.TotalAlloc
	}
	assert.InDelta(t, allocated(60), allocated(1200), 1<<20, "a million bytes for two million of triangles more")
}

func FuzzReadMesh(f *testing.F) {
	f.Add(pinnaceSkin(0).BinarySTL()[:2000])
	f.Add(sourcetest.Skin(pinnace, 0, 300, 4, 2, 0).BinarySTL())
	f.Add(sourcetest.Skin(pinnace, 0, 300, 4, 2, 1).TextSTL())
	f.Add(append(sourcetest.Skin(pinnace, 0, 300, 4, 2, 0), sourcetest.Deck(pinnace, 0, 300, 4, 1)...).OBJ())
	f.Add(sourcetest.Skin(pinnace, 0, 300, 4, 2, 0).ThreeMF("inch", "1 0 0 0 1 0 0 0 1 0 0 2"))
	path := filepath.Join(f.TempDir(), "fuzzed")
	f.Fuzz(func(t *testing.T, data []byte) {
		require.NoError(t, os.WriteFile(path, data, 0o600))
		m, faults := Check(context.Background(), path, Options{})
		again, _ := Check(context.Background(), path, Options{})
		require.Equal(t, m, again, "it is read the same each time")
		if len(faults) == 0 {
			require.Empty(t, m.Hull.Check())
			require.True(t, len(m.Notes) > 0 && !bytes.Contains([]byte(strings.Join(m.Notes, "")), []byte("NaN")))
		}
	})
}
