package answer_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/loft"
)

// wigley is a plan on Wigley's hull (Wigley 1934), y = B/2 (1-(2x/L)²)(1-(z/T)²),
// between its ends, with two bands.
func wigley(layers int) *hull.Plan {
	const length, breadth, draught, frames, points = 400.0, 80.0, 50.0, 9, 12
	p := &hull.Plan{Hull: hull.Hull{Bow: hull.BowFirst, Limits: hull.Limits{Upper: "sheer", Lower: "rabbet"}}}
	for i := range frames {
		x := length * 0.45 * (2*float64(i)/(frames-1) - 1)
		f := hull.Frame{Name: string(rune('A' + i))}
		for j := range points {
			z := -draught * float64(j) / (points - 1)
			y := breadth / 2 * (1 - math.Pow(2*x/length, 2)) * (1 - math.Pow(z/draught, 2))
			f.Points = append(f.Points, mgl64.Vec3{x, y, z})
		}
		p.Hull.Frames = append(p.Hull.Frames, f)
	}
	for range layers {
		handles := make([]hull.Handle, frames)
		for i := range handles {
			handles[i] = hull.Handle{Down: 25, Held: i == 0 || i == frames-1}
		}
		p.Layers = append(p.Layers, hull.Layer{
			Stock: hull.Stock{Width: 5, Thickness: 1, Length: 1000},
			Edges: hull.Bevelled,
			Bands: make([]hull.Band, 2),
			Lines: []hull.BandLine{{LineType: hull.Free, Handles: handles, Hold: 4, Aim: -1}},
		})
	}
	return p
}

func plank(t *testing.T, p *hull.Plan) *loft.Planking {
	t.Helper()
	k, err := loft.Plank(p)
	require.NoError(t, err)
	return k
}

// keys gives the object that an answer is in JSON.
func keys(t *testing.T, a answer.Answer) map[string]any {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, answer.WriteJSON(&b, a))
	out := map[string]any{}
	require.NoError(t, json.Unmarshal(b.Bytes(), &out))
	return out
}

func text(t *testing.T, a answer.Answer) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, a.Text(&b))
	return b.String()
}

func first(t *testing.T, list any) map[string]any {
	t.Helper()
	require.NotEmpty(t, list)
	return list.([]any)[0].(map[string]any)
}

func TestGirths(t *testing.T) {
	k := plank(t, wigley(1))
	a := answer.GirthsOf(k)
	require.Len(t, a.Frames, 9)
	for i, f := range a.Frames {
		require.InDelta(t, k.Layers[0].Girths[i], f.Girth, 1e-6)
		require.InDelta(t, f.Girth, f.Bands[0]+f.Bands[1], 2e-6, "bands share the whole girth")
	}
	j := first(t, keys(t, a)["frames"])
	require.ElementsMatch(t, []string{"frame", "x", "girth", "bands"}, names(j))
	require.Contains(t, text(t, a), "band 2")
}

func names(m map[string]any) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	return out
}

func TestSeveralLayersAreNumbered(t *testing.T) {
	k := plank(t, wigley(2))
	frames := keys(t, answer.GirthsOf(k))["frames"].([]any)
	require.Len(t, frames, 18)
	require.EqualValues(t, 1, frames[0].(map[string]any)["layer"])
	require.EqualValues(t, 2, frames[17].(map[string]any)["layer"])

	a := answer.StrakesOf(k)
	require.EqualValues(t, 1, first(t, keys(t, a)["strakes"])["layer"])
	require.Equal(t, 2, a.Strakes[len(a.Strakes)-1].Layer)
	require.Contains(t, text(t, a), "Layer 2\n")
}

func TestLie(t *testing.T) {
	k := plank(t, wigley(1))
	aim := hull.Degrees(-5)
	lie, err := k.Layers[0].Surface.Lie(4, 30, &aim)
	require.NoError(t, err)
	a := answer.LieOf(k, 0, lie)
	require.InDelta(t, -5, a.Aim, 1e-12)
	require.Equal(t, lie.Length, a.Length, "a lie is not rounded")
	for i, p := range a.Points {
		require.Equal(t, lie.Points[i].S, p.S)
		if p.Frame == "E" {
			require.InDelta(t, 30, p.Down, 1e-6)
			require.InDelta(t, -5, p.Heading, 1e-6)
		}
	}
	j := keys(t, a)
	require.ElementsMatch(t, []string{"aim_deg", "points", "length", "twist_deg", "verdict"}, names(j))
	require.ElementsMatch(t, []string{"x", "y", "z", "frame", "down", "s", "heading_deg", "edge_set_per_m", "face_radius", "twist_deg_per_100"}, names(first(t, j["points"])))
	require.Contains(t, text(t, a), "Aim -5.00 degrees")
	require.Contains(t, text(t, a), strings.ToUpper(a.Verdict.Says[:1])+a.Verdict.Says[1:]+".\nIt is nowhere forced sideways; the verdict is on a strip of the layer's stock.")
}

func TestStrakes(t *testing.T) {
	k := plank(t, wigley(1))
	a := answer.StrakesOf(k)
	require.Len(t, a.Strakes, len(k.Layers[0].Strakes))
	laid := map[string]float64{}
	for i, s := range a.Strakes {
		require.Equal(t, k.Layers[0].Strakes[i].ID, s.ID)
		for _, c := range s.At {
			laid[c.Frame] += c.WidthFrame
			require.Contains(t, []string{"taper", "full", "gap"}, c.Action)
		}
	}
	for i, f := range k.Plan.Hull.Frames {
		require.InDelta(t, k.Layers[0].Girths[i], laid[f.Name], 1e-4, "the strakes of frame %s share its girth", f.Name)
	}
	require.True(t, a.Strakes[len(a.Strakes)-1].Garboard)

	j := keys(t, a)
	for _, list := range []string{"frames", "strakes", "wedges", "drops", "runouts", "notes"} {
		require.NotNil(t, j[list], "%s is a list though it be empty", list)
	}
	s := first(t, j["strakes"])
	for _, key := range []string{"id", "band", "number", "at", "edge_set_max_per_m", "face_radius_min", "twist_deg", "length"} {
		require.Contains(t, s, key)
	}
	at := first(t, s["at"])
	for _, key := range []string{"frame", "width_frame", "width_cut", "bevel_upper_deg", "bevel_lower_deg", "action", "gap"} {
		require.Contains(t, at, key)
	}
}

func TestWedgesAndDropsAreNamedByFrames(t *testing.T) {
	k := plank(t, wigley(1))
	k.Layers[0].Wedges = []loft.Wedge{{Below: "1.02", Band: 1, From: 2, To: 5, Length: 90, Width: 2.25}}
	k.Layers[0].Drops = []loft.Drop{{Strake: "1.04", Into: "1.03", Band: 1, From: 7, To: 8, Nib: 2.5}}
	a := answer.StrakesOf(k)
	require.Equal(t, []answer.Wedge{{Below: "1.02", Band: 1, From: "C", To: "F", Length: 90, Width: 2.25}}, a.Wedges)
	require.Len(t, a.Drops, 1)
	require.Equal(t, "1.04 1.03 H I", strings.Join([]string{a.Drops[0].Strake, a.Drops[0].Into, a.Drops[0].From, a.Drops[0].To}, " "))
	require.Equal(t, 2.5, a.Drops[0].Nib)
	require.Contains(t, text(t, a), "strake 1.04 ends on frame H in a nib of 2.5 mm, let into 1.03, which goes on alone towards I")
}

func TestTableRows(t *testing.T) {
	a := answer.StrakesOf(plank(t, wigley(1)))
	rows := a.Rows()
	n := 0
	for _, s := range a.Strakes {
		n += len(s.At)
	}
	require.Len(t, rows, n+1)
	require.Equal(t, []string{"layer", "strake", "band", "number", "frame"}, rows[0][:5])
	require.Equal(t, []string{"1", a.Strakes[0].ID, "1", "1", "A"}, rows[1][:5])
	require.Equal(t, fmt.Sprintf("%.3f", a.Strakes[0].At[0].WidthCut), rows[1][7])
	for _, r := range rows {
		require.Len(t, r, len(rows[0]))
	}
}

func TestLines(t *testing.T) {
	k := plank(t, wigley(1))
	k.Layers[0].Lines[1].Runouts = []loft.Runout{{Frame: 8, By: 1.5}, {Frame: 0, Upper: true, By: 2}}
	a := answer.LinesOf(k)
	require.Len(t, a.Lines, 1)
	b := a.Lines[0]
	require.Equal(t, "free", b.LineType)
	require.Equal(t, "E", b.Hold)
	require.Empty(t, b.Aim)
	require.InDelta(t, 25, b.At[4].Down, 1e-6)
	require.True(t, b.At[4].Held)
	require.False(t, b.At[0].Held, "a free line is held by its hold and aim alone")
	require.Equal(t, []answer.Runout{{Line: 1, Frame: "I", Over: "lower", By: 1.5}, {Line: 1, Frame: "A", Over: "upper", By: 2}}, a.Runouts)
	require.Contains(t, text(t, a), "Line under band 1: "+b.Verdict.Says+".\nNatural lie, pinned at frame E; length ")
	strip := k.Layers[0].StripBeside(1)
	for f, at := range b.At {
		require.InDelta(t, strip.Off[f], *at.StripOff, 1e-6, "how far the strip itself lies below it")
	}
	settles := answer.StripVerdict(strip, k.Layers[0].Surface.FrameName, answer.MM{})
	require.Contains(t, text(t, a), "\n"+strings.ToUpper(settles[:1])+settles[1:]+".\n")

	p := wigley(1)
	p.Layers[0].Bands, p.Layers[0].Lines = p.Layers[0].Bands[:1], nil
	require.Contains(t, text(t, answer.LinesOf(plank(t, p))), "--bands")
}

func TestReadWidths(t *testing.T) {
	w, err := answer.ReadWidths("4, 5,6.5")
	require.NoError(t, err)
	require.Equal(t, []float64{4, 5, 6.5}, w)
	w, err = answer.ReadWidths("4,5; 5")
	require.NoError(t, err)
	require.Equal(t, []float64{4.5, 5}, w, "with semicolons a comma is a decimal comma")
	for _, bad := range []string{"", "4,", "4;", "wide", "4,5,6;7"} {
		_, err := answer.ReadWidths(bad)
		require.ErrorContains(t, err, "is not a strip width", bad)
	}
	for _, bad := range []string{"0", "-3", "0.001", "1001", "1e308", "1e999", "NaN", "inf"} {
		_, err := answer.ReadWidths(bad)
		require.ErrorContains(t, err, "give it from 0.1 to 1000 mm", bad)
	}
}

func TestSource(t *testing.T) {
	p := wigley(1)
	faults := []fault.Fault{{File: "a.csv", Line: 7, Frame: "C", What: "the half-breadth is -2", Mend: "give it as 0 or more"}}
	a := answer.SourceOf("a.csv", "points", p, nil, faults)
	require.Len(t, a.Frames, 9)
	require.Equal(t, answer.Fault{Line: 7, Frame: "C", Text: faults[0].Error()}, a.Faults[0])
	require.Contains(t, text(t, a), "1 fault\n")
	require.NotContains(t, text(t, a), "half-breadth", "faults are messages, not part of what was read")
	require.NotNil(t, keys(t, answer.SourceOf("b", "plan", nil, nil, nil))["faults"])
}

func TestNumbersAreTidy(t *testing.T) {
	k := plank(t, wigley(1))
	k.Layers[0].Strakes[0].At[0].Gap = -1e-9
	k.Layers[0].Strakes[0].At[0].WidthCut = 4.6000000000000005
	var b bytes.Buffer
	require.NoError(t, answer.WriteJSON(&b, answer.StrakesOf(k)))
	require.NotContains(t, b.String(), "-0,")
	require.NotContains(t, b.String(), "4.6000")
}

func TestFlat(t *testing.T) {
	k := plank(t, wigley(2))
	l := k.Layers[1]
	for _, st := range l.Strakes {
		f, err := l.Flat(st.ID)
		require.NoError(t, err)
		a := answer.FlatOf(k, 1, f)
		require.Equal(t, 2, a.Layer)
		require.Equal(t, st.ID, a.ID)
		require.Len(t, a.Lower, len(a.Upper))
		require.Len(t, a.Frames, len(f.Frames))
		for _, c := range a.Frames {
			// The chord of the frame between two seams is no longer than the girth.
			i := k.Plan.Hull.FrameNamed(c.Frame)
			across := math.Hypot(c.Upper[0]-c.Lower[0], c.Upper[1]-c.Lower[1])
			require.LessOrEqual(t, across, st.At[i].WidthFrame+1e-6)
			require.InDelta(t, st.At[i].WidthFrame, across, 0.01)
			require.InDelta(t, st.At[i].WidthCut, c.Width, 1e-6)
		}
		require.Contains(t, text(t, a), "Strake "+st.ID+" laid flat")
	}
	f, err := l.Flat("2/1.03")
	require.NoError(t, err)
	j := keys(t, answer.FlatOf(k, 1, f))
	require.ElementsMatch(t, []string{"layer", "id", "upper", "lower", "rectangle", "sweep", "misfit", "area", "hull_area", "frames"}, names(j))
	require.Len(t, j["rectangle"], 2)
	require.Len(t, j["upper"].([]any)[0], 2)
}
