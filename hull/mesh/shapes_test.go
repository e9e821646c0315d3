package mesh

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// pinnace is a hull of straight panels with a chine, so that a mesh of it is exact at its own
// rows, every 25 mm, with a sheer that rises; 300 mm long, x from 0.
func pinnace(x, share float64) (y, z float64) {
	broad := 40 * (1 - math.Abs(x-150)/300)
	if share <= 0.5 {
		return 2 * share * broad * 0.8, 2 * share * 15
	}
	t := 2*share - 1
	return broad * (0.8 + 0.2*t), 15 + t*(25+math.Abs(x-150)/15)
}

func pinnaceSkin(side float64) sourcetest.Triangles {
	return sourcetest.Skin(pinnace, 0, 300, 12, 4, side)
}

func pinnaceDeck() sourcetest.Triangles { return sourcetest.Deck(pinnace, 0, 300, 12, 2) }

// crate is a closed body between two corners.
func crate(low, high [3]float64) sourcetest.Triangles {
	at := func(k int) (p [3]float64) {
		for i := range p {
			if p[i] = low[i]; k>>i&1 == 1 {
				p[i] = high[i]
			}
		}
		return p
	}
	var out sourcetest.Triangles
	for _, q := range [][4]int{{0, 1, 3, 2}, {4, 6, 7, 5}, {0, 4, 5, 1}, {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 5, 7, 3}} {
		out = append(out, [3][3]float64{at(q[0]), at(q[1]), at(q[2])}, [3][3]float64{at(q[0]), at(q[2]), at(q[3])})
	}
	return out
}

// isPinnace checks a hull against the pinnace. Corners of a binary STL are float32, with
// 7 digits: 0.0001 mm in 300 and more.
func isPinnace(t testing.TB, h *hull.Hull) {
	t.Helper()
	require.NotEmpty(t, h.Frames)
	for i := range h.Frames {
		f := &h.Frames[i]
		n := len(f.Points) - 1
		y, z := pinnace(f.X(), 1)
		assert.InDelta(t, y, f.Points[0].Y(), 1e-3, "%s: sheer", f.Name)
		assert.InDelta(t, z, f.Points[0].Z(), 1e-3, "%s: sheer", f.Name)
		assert.InDelta(t, 0, f.Points[n].Y(), 1e-3, "%s: rabbet", f.Name)
		assert.InDelta(t, 0, f.Points[n].Z(), 1e-3, "%s: rabbet", f.Name)
		require.Len(t, f.Knuckles, 1, f.Name)
		y, z = pinnace(f.X(), 0.5)
		assert.InDelta(t, y, f.Points[f.Knuckles[0]].Y(), 1e-3, "%s: chine", f.Name)
		assert.InDelta(t, z, f.Points[f.Knuckles[0]].Z(), 1e-3, "%s: chine", f.Name)
		assert.InEpsilon(t, trueGirth(pinnace, f.X()), girthOf(f), 1e-5, f.Name)
	}
}

func TestEveryFormatGivesTheSameHull(t *testing.T) {
	inches := pinnaceSkin(0).Mapped(func(p [3]float64) [3]float64 { return [3]float64{p[0] / 25.4, p[1] / 25.4, p[2]/25.4 - 2} })
	for name, data := range map[string][]byte{
		"text":   pinnaceSkin(0).TextSTL(),
		"binary": pinnaceSkin(0).BinarySTL(),
		"obj":    pinnaceSkin(0).OBJ(),
		"3mf":    pinnaceSkin(0).ThreeMF("millimeter", ""),
		// shifted 1 inch along x, and raised by 2
		"3mf in inches, put elsewhere": inches.ThreeMF("inch", "1 0 0 0 1 0 0 0 1 0 0 2"),
		"with another solid's head":    append([]byte("solid of 80 bytes"), pinnaceSkin(0).BinarySTL()[17:]...),
		"obj of quads, from the last":  []byte(strings.ReplaceAll(string(pinnaceSkin(0).OBJ()), "o hull\n", "o hull\nmtllib a.mtl\n")),
	} {
		t.Run(name, func(t *testing.T) {
			m := off(t, data, Options{Every: 25, Half: RightHalf})
			isPinnace(t, &m.Hull)
			assert.Len(t, m.Hull.Frames, 13, "both ends are cut")
		})
	}
}

// A face with four corners is divided, and corners may be counted back from the
// last.
func TestFacesOfAnOBJ(t *testing.T) {
	m, err := readOBJ(context.Background(), strings.NewReader("v 0 0 0\nv 1 0 0 1.0\nv 1 1 0\nv 0 1 0\nf -4/1/1 -3/2 \\\n -2//3 -1\nf 1 2 # 3\n"))
	require.NoError(t, err)
	assert.Equal(t, [][3]int32{{0, 1, 2}, {0, 2, 3}}, m.triangles)
}

// However a mesh lies, the hull is the same.
func TestAMeshMayLieAnyWay(t *testing.T) {
	lies := map[string]struct {
		to  func(p [3]float64) [3]float64
		how Options
	}{
		"y up, z long":      {func(p [3]float64) [3]float64 { return [3]float64{p[1], p[2], p[0]} }, Options{}},
		"x up, y long":      {func(p [3]float64) [3]float64 { return [3]float64{p[2], p[0], p[1]} }, Options{}},
		"z long, x up":      {func(p [3]float64) [3]float64 { return [3]float64{p[2], p[1], p[0]} }, Options{}},
		"off the middle":    {func(p [3]float64) [3]float64 { return [3]float64{p[0], p[1] + 500, p[2] - 70} }, Options{}},
		"on its head":       {func(p [3]float64) [3]float64 { return [3]float64{p[0], p[1], -p[2]} }, Options{}},
		"in m at full size": {func(p [3]float64) [3]float64 { return [3]float64{p[0] * 0.048, p[1] * 0.048, p[2] * 0.048} }, Options{Unit: 1000, Scale: 48}},
		"told":              {func(p [3]float64) [3]float64 { return [3]float64{p[1], -p[2], p[0]} }, Options{Length: "z", Up: "-y"}},
	}
	for name, l := range lies {
		for _, closed := range []bool{false, true} {
			t.Run(fmt.Sprint(name, closed), func(t *testing.T) {
				mesh := pinnaceSkin(0)
				if closed {
					mesh = append(mesh, pinnaceDeck()...)
				}
				l.how.Every = 25
				m := off(t, mesh.Mapped(l.to).BinarySTL(), l.how)
				isPinnace(t, &m.Hull)
			})
		}
	}
}

func TestWhatLiesAboutTheHullIsLeftOut(t *testing.T) {
	skin, deck := pinnaceSkin(0), pinnaceDeck()
	insideOut := skin.Mapped(func(p [3]float64) [3]float64 { return p })
	for i := range insideOut {
		insideOut[i][0], insideOut[i][1] = insideOut[i][1], insideOut[i][0]
	}
	low := func(x, share float64) (y, z float64) { y, _ = pinnace(x, 0.7); return y, 24 }
	for name, c := range map[string]struct {
		mesh  sourcetest.Triangles
		notes []string
	}{
		"deck":                 {append(deck, skin...), []string{"highest point of the side"}},
		"inside out":           {insideOut, []string{"open edge"}},
		"doubled triangles":    {append(skin, skin...), []string{"Repeated triangles count once"}},
		"a cabin of one piece": {yacht(), []string{"highest point of the side"}},
		"a bulwark":            {bulwark(), []string{"highest point of the side"}},
		"right half":           {pinnaceSkin(1), []string{"one half of a hull, on the side of the greater y"}},
		"left half":            {pinnaceSkin(-1), []string{"on the side of the lesser y"}},
		"a low deck, apart":    {append(sourcetest.Deck(low, 5, 295, 6, 0).Mapped(func(p [3]float64) [3]float64 { return [3]float64{p[0], p[1] * 0.7, p[2]} }), skin...), []string{"left out"}},
		"a mast and a cabin":   {slicesOf(skin, deck, crate([3]float64{98, -1, 42}, [3]float64{104, 1, 140}), crate([3]float64{180, -10, 43}, [3]float64{230, 10, 60})), []string{"left out"}},
		"a half with its wall": {slicesOf(pinnaceSkin(1), sourcetest.Skin(func(x, share float64) (y, z float64) { _, top := pinnace(x, 1); return 0, top * share }, 0, 300, 12, 3, 1)), []string{"one half"}},
	} {
		t.Run(name, func(t *testing.T) {
			m := off(t, c.mesh.BinarySTL(), Options{Every: 25, Up: "z"})
			isPinnace(t, &m.Hull)
			for _, n := range c.notes {
				assert.Contains(t, strings.Join(m.Notes, "\n"), n)
			}
		})
	}
}

// inboard is a skin that continues inwards from the sheer of the pinnace to the middle, through
// places given as distances inside it and above it.
func inboard(places ...[2]float64) (out sourcetest.Triangles) {
	for k := range places {
		strip := func(x, share float64) (y, z float64) {
			broad, top := pinnace(x, 1)
			a, b := [2]float64{}, places[k]
			if k > 0 {
				a = places[k-1]
			}
			in := a[0] + (b[0]-a[0])*share
			return max(broad-in, 0), top + a[1] + (b[1]-a[1])*share
		}
		out = append(out, sourcetest.Skin(strip, 0, 300, 12, 1, 0)...)
	}
	return out
}

// yacht has a side deck, and a cabin in one piece with it.
func yacht() sourcetest.Triangles {
	return slicesOf(pinnaceSkin(0), inboard([2]float64{8, 1}, [2]float64{9, 14}, [2]float64{50, 18}))
}

// bulwark has a rail, an inside, and a deck that lies lower.
func bulwark() sourcetest.Triangles {
	return slicesOf(pinnaceSkin(0), inboard([2]float64{1.5, 0}, [2]float64{1.5, -9}, [2]float64{50, -8}))
}

func slicesOf(meshes ...sourcetest.Triangles) (out sourcetest.Triangles) {
	for _, m := range meshes {
		out = append(out, m...)
	}
	return out
}

// A keel is left out, whether the hull grows out of it or it is a separate body.
func TestTheRabbetIsAtTheKeelsSide(t *testing.T) {
	grown := func(x, share float64) (y, z float64) { // 8 mm down and 3 broad, then the pinnace from there
		switch {
		case share <= 0.2:
			return 3 * share / 0.2, -8
		case share <= 0.4:
			return 3, -8 + (share-0.2)/0.2*10
		}
		y, z = pinnace(x, (share-0.4)/0.6)
		return 3 + y, 2 + z
	}
	m := off(t, sourcetest.Skin(grown, 0, 300, 12, 10, 0).BinarySTL(), Options{Every: 25})
	for _, f := range m.Hull.Frames {
		last := f.Points[len(f.Points)-1]
		assert.InDelta(t, 3, last.Y(), 1e-3)
		assert.InDelta(t, 10, last.Z(), 1e-3)
	}
	assert.Contains(t, strings.Join(m.Notes, "\n"), "On all frames the rabbet is where the side of the keel meets the hull: a guess.")
	m = off(t, slicesOf(pinnaceSkin(0), crate([3]float64{-5, -3, -10}, [3]float64{305, 3, 5})).BinarySTL(), Options{Every: 25})
	for _, f := range m.Hull.Frames[1:12] {
		last := f.Points[len(f.Points)-1]
		assert.InDelta(t, 3, last.Y(), 1e-3)
		y, z := pinnace(f.X(), 0.25)
		assert.InDelta(t, 10+3*z/y, last.Z(), 1e-3)
	}
}

// Halves that differ are reported, with the place, and their mean is taken.
func TestUnlikeHalvesAreTold(t *testing.T) {
	askew := pinnaceSkin(0).Mapped(func(p [3]float64) [3]float64 {
		if p[1] > 0 {
			p[1] *= 1.05
		}
		return p
	})
	for half, share := range map[Half]float64{BothHalves: 1.025, RightHalf: 1.05, LeftHalf: 1} {
		m := off(t, askew.BinarySTL(), Options{Stations: []float64{50, 100, 150, 200}, Half: half})
		y, _ := pinnace(150, 1)
		assert.InDelta(t, share*y, m.Hull.Frames[2].Points[0].Y(), 1e-3)
		notes := strings.Join(m.Notes, "\n")
		assert.Contains(t, notes, "Its halves differ most on frame F3, by 2.0 mm at height 40.0")
		assert.Contains(t, notes, half.String()+" is taken")
	}
}

// without leaves out the triangles for which holds is true.
func without(mesh sourcetest.Triangles, holds func(middle [3]float64) bool) (out sourcetest.Triangles) {
	for _, t := range mesh {
		var m [3]float64
		for k := range m {
			m[k] = (t[0][k] + t[1][k] + t[2][k]) / 3
		}
		if !holds(m) {
			out = append(out, t)
		}
	}
	return out
}

func TestGapsAreBridgedAndToldOrRefused(t *testing.T) {
	gap := func(by float64) []byte {
		mesh := pinnaceSkin(0)
		for i := range mesh {
			if top := max(mesh[i][0][2], mesh[i][1][2], mesh[i][2][2]); top > 15.5 {
				for k := range mesh[i] {
					mesh[i][k][2] += by
				}
			}
		}
		return mesh.BinarySTL()
	}
	m := off(t, gap(0.8), Options{Every: 50})
	assert.Contains(t, strings.Join(m.Notes, "\n"), "14 gaps in its sections bridged, the widest of 0.8 mm")
	_, faults := Check(context.Background(), written(t, gap(6)), Options{Every: 50})
	require.NotEmpty(t, faults)
	assert.Contains(t, faults[0].Error(), "the side of the hull has a gap of 6.0 mm at height 15.0")
	holed := without(pinnaceSkin(0), func(m [3]float64) bool { return m[1] > 0 && math.Abs(m[0]-112) < 12 && m[2] < 12 })
	_, faults = Check(context.Background(), written(t, holed.BinarySTL()), Options{Stations: []float64{60, 112, 160, 200}})
	require.Len(t, faults, 1)
	assert.Contains(t, faults[0].Error(), "at x 112 the side of the hull has a gap")
}

// A hole at the sheer makes a section end too low: that is reported.
func TestAHoleAtTheEdgeIsTold(t *testing.T) {
	torn := without(pinnaceSkin(1), func(m [3]float64) bool { return math.Abs(m[0]-112) < 12 && m[2] > 30 })
	m := off(t, torn.BinarySTL(), Options{Stations: []float64{60, 112, 160, 200}})
	assert.NotContains(t, strings.Join(m.Notes, "\n"), "On frame F3")
	assert.Contains(t, strings.Join(m.Notes, "\n"), "On frame F2 (x 112) the upper limit lies 14.46 mm off the line between its neighbours")
}

func TestADoubledSkinIsRefusedOnce(t *testing.T) {
	inner := pinnaceSkin(0).Mapped(func(p [3]float64) [3]float64 { return [3]float64{p[0], p[1] * 0.93, p[2] + 1.5} })
	_, faults := Check(context.Background(), written(t, slicesOf(pinnaceSkin(0), inner).BinarySTL()), Options{})
	require.Len(t, faults, 1)
	assert.Contains(t, faults[0].Error(), "the hull has a double skin")
}
