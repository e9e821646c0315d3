package answer_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// falling is a flat side whose girth falls straight over seven frames, in strips of
// 5 mm with square edges.
func falling(from, to float64) *hull.Plan {
	p := wigley(1)
	p.Hull.Frames = nil
	for i := range 7 {
		f := hull.Frame{Name: string(rune('A' + i))}
		for j := range 5 {
			f.Points = append(f.Points, [3]float64{20 * float64(i), 30, -(from + (to-from)*float64(i)/6) * float64(j) / 4})
		}
		p.Hull.Frames = append(p.Hull.Frames, f)
	}
	p.Layers[0].Edges = hull.Square
	p.Layers[0].Bands, p.Layers[0].Lines = []hull.Band{{Strakes: 4}}, nil
	return p
}

func TestCutsAreToldFromCornerToCorner(t *testing.T) {
	l := plank(t, falling(20, 16)).Layers[0]
	corners := func(at ...loft.Corner) *loft.Cuts {
		c := &loft.Cuts{Strip: 5, Corners: at}
		for i := 1; i < len(at); i++ {
			if at[i-1].Width != 5 || at[i].Width != 5 {
				c.Count++
			}
		}
		return c
	}
	for want, c := range map[string]*loft.Cuts{
		"leave it whole": corners(loft.Corner{Frame: 0, Width: 5}, loft.Corner{Frame: 6, Width: 5}),
		"5.0 mm at frame A, straight to 3.4 mm at G":                                                 corners(loft.Corner{Frame: 0, Width: 5}, loft.Corner{Frame: 6, Width: 3.4}),
		"5.0 mm, whole, from frame A to C, straight to 3.4 mm at G":                                  corners(loft.Corner{Frame: 0, Width: 5}, loft.Corner{Frame: 2, Width: 5}, loft.Corner{Frame: 6, Width: 3.4}),
		"3.1 mm at frame A, straight to 5.0 mm at C, whole to E, straight to a point at G":           corners(loft.Corner{Frame: 0, Width: 3.1}, loft.Corner{Frame: 2, Width: 5}, loft.Corner{Frame: 4, Width: 5}, loft.Corner{Frame: 6}),
		"5.0 mm at frame A, straight to 2.5 mm at C, notched there, 5.0 mm just past it, whole to G": corners(loft.Corner{Frame: 0, Width: 5}, loft.Corner{Frame: 2, Width: 2.5}, loft.Corner{Frame: 2, Width: 5}, loft.Corner{Frame: 6, Width: 5}),
		"a point at frame A, straight to 4.72 mm at B":                                               corners(loft.Corner{Frame: 0}, loft.Corner{Frame: 1, Width: 4.72}),
	} {
		assert.Equal(t, want, answer.CutsText(l, c, answer.MM{}))
		inBothUnits(t, want, func(u answer.Units) string { return answer.CutsText(l, c, u) })
	}
	c := corners(loft.Corner{Frame: 0, Width: 5}, loft.Corner{Frame: 6, Width: 3.4})
	assert.Equal(t, "0.197 in at frame A, straight to 0.134 in at G", answer.CutsText(l, c, inches{}))
}

// TestEqualStrakesAreClampedTogether: four strakes fall from 5 mm to 4, and are told
// alike in the step, the sentence of what is next, the table and its text.
func TestEqualStrakesAreClampedTogether(t *testing.T) {
	k := plank(t, falling(20, 16))
	j, err := progress.Procedure(k, hull.Port, "1.02", nil)
	require.NoError(t, err)
	cuts := "5.0 mm at frame A, straight to 4.0 mm at G"
	assert.Equal(t, "Clamp 1.01, 1.02, 1.03 and 1.04 together, both sides: "+cuts+", from strips of 5 mm, before you bevel the edges.",
		answer.TaskText(j, progress.Task{Key: progress.StepTaper}, answer.MM{}))
	assert.Contains(t, answer.NextText(j, answer.MM{}), "plane it: "+cuts+"; ")
	table := answer.StrakesOf(k)
	for _, s := range table.Strakes {
		assert.Equal(t, []answer.Cut{{Frame: "A", Width: 5}, {Frame: "G", Width: 4}}, s.Cuts)
		assert.Equal(t, []string{"1.01", "1.02", "1.03", "1.04"}, s.Set)
	}
	var text strings.Builder
	require.NoError(t, table.Text(&text))
	assert.Equal(t, 1, strings.Count(text.String(), "- 1.01, 1.02, 1.03 and 1.04, both sides: "+cuts+".\n"))
}

func TestWhatIsNotSprungHasNoCuts(t *testing.T) {
	p := falling(20, 16)
	p.Layers[0].Bands[0].Modes = []hull.Mode{hull.Sprung, hull.Spiled, hull.Block}
	k := plank(t, p)
	table := answer.StrakesOf(k)
	for _, s := range table.Strakes[1:3] {
		assert.Empty(t, s.Cuts)
		assert.Empty(t, s.Set)
		j, err := progress.Procedure(k, hull.Port, s.ID, nil)
		require.NoError(t, err)
		assert.NotRegexp(t, `\d mm at`, answer.TaskText(j, progress.Task{Key: progress.StepTaper}, answer.MM{}))
		assert.NotContains(t, answer.NextText(j, answer.MM{}), "plane it")
	}
	assert.Equal(t, []string{"1.01", "1.04"}, table.Strakes[0].Set)
}

// width is one to which a strip is planed, as it is told.
var width = regexp.MustCompile(`([0-9.]+) mm(?: at|, whole)`)

// TestNoStripIsPlanedWiderThanItIs goes through random plans: no width that a strake
// is told to be planed to is more than its strip's.
func TestNoStripIsPlanedWiderThanItIs(t *testing.T) {
	told := 0
	rapid.Check(t, func(t *rapid.T) {
		p := wigley(1)
		l := &p.Layers[0]
		l.Stock.Width = float64(rapid.IntRange(60, 200).Draw(t, "width")) / 20
		l.Stock.Thickness = rapid.Float64Range(0.5, 2).Draw(t, "thickness")
		l.Creep = rapid.Float64Range(0, 0.3).Draw(t, "creep")
		l.Edges = rapid.SampledFrom([]hull.Edges{hull.Bevelled, hull.Square}).Draw(t, "edges")
		for b := range l.Bands {
			l.Bands[b].Strakes = rapid.IntRange(0, 10).Draw(t, "strakes")
			l.Bands[b].Modes = []hull.Mode{hull.Sprung, hull.Sprung}
		}
		for i := range l.Lines[0].Handles {
			l.Lines[0].Handles[i].Down = rapid.Float64Range(15, 35).Draw(t, "down")
		}
		k, err := loft.Plank(p)
		require.NoError(t, err)
		for _, st := range k.Layers[0].Strakes {
			if st.To <= st.From {
				continue
			}
			j, err := progress.Procedure(k, hull.Port, st.ID, nil)
			require.NoError(t, err)
			next, _, _ := strings.Cut(answer.NextText(j, answer.MM{}), "; ")
			_, next, _ = strings.Cut(next, "plane it: ")
			for _, text := range []string{answer.TaskText(j, progress.Task{Key: progress.StepTaper}, answer.MM{}), next} {
				for _, m := range width.FindAllStringSubmatch(text, -1) {
					mm, err := strconv.ParseFloat(m[1], 64)
					require.NoError(t, err, text)
					require.LessOrEqual(t, mm, st.Strip+1e-9, "%s: %s", st.ID, text)
					told++
				}
			}
		}
		for _, s := range answer.StrakesOf(k).Strakes {
			for _, c := range s.Cuts {
				require.LessOrEqual(t, c.Width, l.Stock.Width)
			}
		}
	})
	assert.Positive(t, told)
}
