package answer_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// inches is another unit than mm.
type inches struct{}

func (inches) Name() string               { return "in" }
func (inches) Number(mm float64) string   { return fmt.Sprintf("%.3f", mm/25.4) }
func (u inches) Length(mm float64) string { return u.Number(mm) + " in" }
func (inches) Area(mm2 float64) string    { return fmt.Sprintf("%.2f sq in", mm2/25.4/25.4) }

// marked writes lengths so that they can be told from any other number.
type marked struct{}

func (marked) Name() string               { return "‹u›" }
func (marked) Number(mm float64) string   { return fmt.Sprintf("‹%g›", mm) }
func (u marked) Length(mm float64) string { return u.Number(mm) + " ‹u›" }
func (marked) Area(mm2 float64) string    { return fmt.Sprintf("‹%g›", mm2) }

var (
	inMarks  = regexp.MustCompile(`‹[^›]*›`)
	inMM     = regexp.MustCompile(`\d ?mm\b|\bmm\b`)
	inInches = regexp.MustCompile(`\d in\b`)
	// noLength are the numbers with a point that are none: angles, shares, money and IDs.
	noLength = regexp.MustCompile(`-?\d+\.\d+ ?[°%]|\d+\.\d+ times|\d+/?\d*\.\d\d\b|-?\d+(\.\d+)? degrees`)
	withDot  = regexp.MustCompile(`\d+\.\d`)
)

// inBothUnits checks that a text tells every length in the unit asked for: in inches
// none in mm, in mm none in inches, and no length that the unit was not asked for.
func inBothUnits(t *testing.T, what string, text func(answer.Units) string) {
	t.Helper()
	assert.NotRegexp(t, inMM, text(inches{}), what)
	assert.NotRegexp(t, inInches, strings.ReplaceAll(text(answer.MM{}), " mm in ", " mm, "), what)
	rest := inMarks.ReplaceAllString(text(marked{}), "")
	assert.NotRegexp(t, inMM, rest, what)
	assert.NotRegexp(t, withDot, noLength.ReplaceAllString(rest, ""), what)
}

// everyNote is each kind of note, with figures of no meaning.
var everyNote = []loft.Note{
	loft.RunsOut{Line: 1, Upper: true, Frames: []int{1, 2, 3}, At: 2, By: 3.4},
	loft.RunsOut{Line: 2, Frames: []int{1}, At: 1, By: 3.4},
	loft.FollowsBatten{Line: 1, Why: loft.HeldUnreached, Frame: 2},
	loft.FollowsBatten{Line: 1, Why: loft.OverKnuckle},
	loft.FollowsBatten{Line: 1, Why: loft.Restless},
	loft.StripSlides{Line: 1, At: 2, By: -12.3},
	loft.Surplus{Band: 1, Given: 9, Laid: 7},
	loft.TooWide{Band: 1, Frame: 2, Width: 9.9},
	loft.FallsShort{Band: 1, From: 1, To: 3, At: 2, By: 2.9, Wider: []string{"1.02", "1.04"}},
	loft.FallsShort{Band: 1, From: 2, To: 2, At: 2, By: 2.9, Wider: []string{"1.02"}},
	loft.GapesAllAlong{Band: 1, Least: 2.2, Creep: 0.31},
	loft.CreepsApart{Band: 1, Frame: 2, By: 1.3, Each: 0.12},
	loft.LinesCross{Line: 2, Frames: []int{0, 1, 3, 6}, By: 5.2},
	loft.TooClose{Line: 1, Frames: []int{0, 1, 2, 4}, By: -1.5},
	loft.PartlyPlanked{First: 1, Last: 5, End: 7},
	loft.GirthsAlone{},
	loft.NoTurn{Frames: []string{"A", "B", "C", "D", "E", "F", "G"}},
	loft.TurnsBetween{Frame: 1, Down: 12.3, Turn: 0.9, Length: 45.6, Off: 1.7, Mend: hull.Plane{X: 42.3, Cant: -0.7}},
	loft.TurnsBetween{Frame: 0, Turn: 0.9, Length: 45.6, Off: 1.7, Mend: hull.Plane{X: 42.3}},
	loft.BendUntold{Frame: 0, Strakes: []string{"1.01", "1.02"}},
	loft.BendUntold{Frame: 0, Strakes: []string{"1.01"}},
	loft.Folds{From: 0, To: 2, Upper: 41.25, Lower: 58.1, At: 1, Down: 52.3, Why: loft.HollowFold, Radius: 1.97, Thickness: 2.5, Left: 1.77, Thin: 1.76, EndFrom: 3, EndTo: 6, BlockTo: 3},
	loft.Folds{From: 1, To: 1, Upper: 1.2, Lower: 3.4, Why: loft.SquareFold, Thickness: 2.5},
	loft.MadeBlock{From: 0, To: 3, Upper: 41.25, Lower: 58.15, Thinned: true, Left: 1.77},
	loft.MadeBlock{From: 0, To: 3, Upper: 41.25, Lower: math.Inf(1)},
	loft.LaidBetween{From: 1, To: 5},
}

func TestNotesInBothUnits(t *testing.T) {
	l := plank(t, wigley(1)).Layers[0]
	for _, n := range everyNote {
		told := *l
		told.Notes = []loft.Note{n}
		inBothUnits(t, fmt.Sprintf("%T", n), func(u answer.Units) string { return strings.Join(answer.LayerNotes(&told, u), " ") })
		assert.NotContains(t, answer.LayerNotes(&told, answer.MM{})[0], "{", "%T has no words", n)
	}
}

func TestFramesAreCalledByRuns(t *testing.T) {
	l := *plank(t, wigley(1)).Layers[0]
	for want, frames := range map[string][]int{
		"frame B": {1}, "frames A and B": {0, 1}, "frames A to C": {0, 1, 2},
		"frames A to C and E": {0, 1, 2, 4}, "frames A, B, D and G": {0, 1, 3, 6},
	} {
		l.Notes = []loft.Note{loft.LinesCross{Line: 2, Frames: frames, By: 5}}
		assert.Equal(t, "Band lines 1 and 2 cross: at "+want+" line 2 is drawn above line 1; the plan lays it half a strip below instead, up to 5.0 mm lower; draw line 2 below line 1 there.",
			answer.LayerNotes(&l, answer.MM{})[0])
	}
}

func TestDoubtsInBothUnits(t *testing.T) {
	for d := progress.NotPlanked; d <= progress.OffDrawn; d++ {
		inBothUnits(t, fmt.Sprint("doubt ", d), func(u answer.Units) string {
			return answer.DoubtText(progress.Query{Doubt: d, Frame: "C", MM: 12.3, Other: 45.6}, u)
		})
	}
	assert.Equal(t, "12.3 mm at frame C is 4.6 mm off the plan", answer.DoubtText(progress.Query{Doubt: progress.OffPlan, Frame: "C", MM: 12.3, Other: 4.6}, answer.MM{}))
	assert.Equal(t, "0.484 in at frame C is 0.181 in off the plan", answer.DoubtText(progress.Query{Doubt: progress.OffPlan, Frame: "C", MM: 12.3, Other: 4.6}, inches{}))
}

// TestLayingInBothUnits goes through every step of every strake: bent dry and wet,
// tapered and not, from strip, sheet and block.
func TestLayingInBothUnits(t *testing.T) {
	p := wigley(1)
	for b := range p.Layers[0].Bands {
		p.Layers[0].Bands[b].Modes = []hull.Mode{hull.Sprung, hull.Spiled, hull.Block}
	}
	p.Cutting = hull.NewCutting()
	p.Cutting.Treenails = 1
	hot := p.Clone()
	hot.Trade = hull.NewTrade()
	hot.Trade.BendDry, hot.Trade.BendSoaked = 1e-4, 1.1e-4
	carved, sheet := p.Clone(), p.Clone()
	for range 40 {
		carved.Layers[0].Bands[0].Modes = append(carved.Layers[0].Bands[0].Modes, hull.Block)
		sheet.Layers[0].Bands[0].Modes = append(sheet.Layers[0].Bands[0].Modes, hull.Spiled)
	}
	for _, p := range []*hull.Plan{p, hot, carved, sheet} {
		k := plank(t, p)
		for _, st := range k.Layers[0].Strakes {
			j, err := progress.Procedure(k, hull.Port, st.ID, nil)
			require.NoError(t, err)
			for _, s := range j.Steps {
				inBothUnits(t, st.ID+" "+s.Key, func(u answer.Units) string { return answer.TaskText(j, s, u) })
				assert.NotEmpty(t, answer.TaskText(j, s, answer.MM{}), s.Key)
			}
			inBothUnits(t, st.ID, func(u answer.Units) string { return answer.NextText(j, u) })
		}
	}
}

// TestWidthsToFitInInches: a list of widths has its unit at its end.
func TestWidthsToFitInInches(t *testing.T) {
	k := plank(t, wigley(1))
	j, err := progress.Procedure(k, hull.Port, k.Layers[0].Strakes[0].ID, nil)
	require.NoError(t, err)
	text := answer.TaskText(j, progress.Task{Key: progress.StepFit}, inches{})
	assert.Contains(t, text, fmt.Sprintf("it should be %.3f at %s, ", j.On[j.Frames[0]].WidthCut/25.4, k.Layers[0].Surface.FrameName(j.Frames[0])))
	assert.Contains(t, text, " in wide. Let no light show")
}

// TestOptionsInBothUnits goes through the ways that are found on many benches, and
// is to have seen each of them.
func TestOptionsInBothUnits(t *testing.T) {
	seen := map[hull.Remedy]bool{}
	for _, by := range []float64{-9, -4, -1, 1, 4, 9} {
		for _, upper := range []bool{true, false} {
			for _, edges := range []hull.Edges{hull.Bevelled, hull.Square} {
				p := wigley(1)
				p.Layers[0].Edges = edges
				k := plank(t, p)
				b := k.Layers[0].Bands[0]
				ids := []string{}
				for n := range b.Strakes {
					ids = append(ids, loft.StrakeID(1, 1, n+1))
				}
				laid := ids[:2]
				if upper {
					laid = ids[len(ids)-2:]
				}
				for _, id := range laid {
					p.Record.Add(hull.Port, hull.Entry{Date: "2026-03-01", EntryKind: hull.Glued, Layer: 1, Strake: id})
				}
				for i, f := range p.Hull.Frames {
					left := b.Girths[i] * float64(len(ids)-2) / float64(len(ids))
					swell := by * float64(min(i, len(p.Hull.Frames)-1-i)) / float64(len(p.Hull.Frames)/2)
					p.Record.Add(hull.Port, hull.Entry{Date: "2026-03-02", EntryKind: hull.LeftOver, Layer: 1, Band: 1, Frame: f.Name, MM: max(left+swell, 0)})
				}
				k = plank(t, p)
				list, err := progress.Options(t.Context(), k, hull.Port, 0, 0, progress.UsualHabit())
				require.NoError(t, err)
				for i := range list {
					o := &list[i]
					seen[o.Remedy] = true
					inBothUnits(t, string(o.Remedy), func(u answer.Units) string { return answer.OptionText(o, u) + ". " + answer.OptionOutcome(o, u) })
				}
			}
		}
	}
	for _, w := range []hull.Remedy{hull.Shave, hull.Tighter, hull.Wider, hull.Narrow, hull.More, hull.Fewer, hull.Wedged, hull.Hidden, hull.Learned} {
		assert.True(t, seen[w], "no bench here offers %q", w)
	}
}

func TestStockInBothUnits(t *testing.T) {
	p := wigley(1)
	p.Layers[0].Stock.Species = "beech"
	k := plank(t, p)
	trials := laid(t, k, 0, 4, 5)
	inBothUnits(t, "kind", func(u answer.Units) string { return answer.KindName(p.Layers[0].Stock, u) })
	inBothUnits(t, "trials", func(u answer.Units) string { return answer.TrialAdvice(k, trials, u) })
	cuts, err := k.CutLayers(t.Context())
	require.NoError(t, err)
	inBothUnits(t, "cutting", func(u answer.Units) string {
		c := answer.CuttingOf(k, 0, cuts[0], u)
		text := c.Advice
		for _, l := range c.Lots {
			text += " " + l.Tell(u)
		}
		return text
	})
	spiled := p.Clone()
	modes := slices.Repeat([]hull.Mode{hull.Sprung, hull.Spiled, hull.Block}, 3)
	spiled.Layers[0].Bands[0].Modes = modes
	for _, shop := range [][]hull.Sheet{nil, {{Width: 80, Length: 1200, Thickness: p.Layers[0].Stock.Thickness, Count: hull.AsMany, Price: 4.5}}} {
		spiled.SheetShop = shop
		other := plank(t, spiled)
		cuts, err := other.CutLayers(t.Context())
		require.NoError(t, err)
		inBothUnits(t, "sheets and blocks", func(u answer.Units) string {
			c := answer.CuttingOf(other, 0, cuts[0], u)
			text := c.Advice + " " + c.Sheets.Advice
			for _, b := range c.Blocks {
				text += " " + b.Tell(u)
			}
			return text
		})
	}
	inBothUnits(t, "mix", func(u answer.Units) string {
		m, err := answer.MixOf(t.Context(), k, 0, 0, []float64{4, 5}, u)
		require.NoError(t, err)
		return m.Advice + " " + m.Tell(u)
	})
	inBothUnits(t, "lining", func(u answer.Units) string {
		ways, err := loft.LineOff(t.Context(), p, 0, 2, 2, nil)
		require.NoError(t, err)
		f, err := answer.FrontOf(k, 0, ways, u)
		require.NoError(t, err)
		text := f.Advice
		for _, a := range append(f.Plans, f.Now) {
			text += " " + a.Tells(f.Now) + " " + strings.Join(a.Cells(), " ") + " " + strings.Join(a.Warnings, " ")
		}
		return text
	})
	inBothUnits(t, "swelling", func(u answer.Units) string {
		s, err := answer.SwellingOf(k, 0, 0, answer.Wetted{Measured: 46}, u)
		require.NoError(t, err)
		return s.Advice
	})
	two := plank(t, wigley(2))
	inBothUnits(t, "seams", func(u answer.Units) string {
		s, err := answer.SeamsOf(two, 1, u)
		require.NoError(t, err)
		return s.Advice
	})
}
