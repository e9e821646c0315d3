package paper

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/app/draw"
)

// framedPart is a part with a line round it.
func framedPart(w, h float64) draw.Part {
	p := draw.Part{Width: w, Height: h}
	p.Drawing.Line(draw.Ink, draw.Pen{Width: 0.2}, draw.Pt(0.1, 0.1), draw.Pt(w-0.1, 0.1), draw.Pt(w-0.1, h-0.1), draw.Pt(0.1, h-0.1), draw.Pt(0.1, 0.1))
	return p
}

// Every block is laid once, within the window, and apart from all others.
func TestBlocksKeepApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.Float64Range(100, 300).Draw(t, "width"), rapid.Float64Range(100, 300).Draw(t, "height")
		var blocks []*block
		for i := range rapid.IntRange(1, 40).Draw(t, "blocks") {
			blocks = append(blocks, newBlock(framedPart(rapid.Float64Range(5, 100).Draw(t, "w"), rapid.Float64Range(5, 100).Draw(t, "h")), i, 0))
		}
		share := rapid.SampledFrom(shares).Draw(t, "share")
		seen := map[int]bool{}
		for len(blocks) > 0 {
			on, rest := layPage(blocks, w, h, share)
			if len(on) == 0 {
				t.Fatal("a page is empty")
			}
			for i, a := range on {
				if seen[a.sheet] {
					t.Fatalf("block %d is laid twice", a.sheet)
				}
				seen[a.sheet] = true
				if a.at.X < 0 || a.at.Y < 0 || a.at.X+a.w > w+1e-6 || a.at.Y+a.h > h+1e-6 {
					t.Fatalf("block %d lies off the page", a.sheet)
				}
				for _, b := range on[:i] {
					if apart := math.Max(math.Max(a.at.X-b.at.X-b.w, b.at.X-a.at.X-a.w), math.Max(a.at.Y-b.at.Y-b.h, b.at.Y-a.at.Y-a.h)); apart < gap-1 { // columns are whole mm
						t.Fatalf("blocks %d and %d are %.2f mm apart", a.sheet, b.sheet, apart)
					}
				}
			}
			blocks = rest
		}
	})
}

// bow is a part with a bent line through it.
func bow(sag float64) draw.Part {
	p := draw.Part{Width: 200, Height: sag, Nests: true}
	var line []draw.Point
	for i := range 101 {
		x := 2 * float64(i)
		line = append(line, draw.Pt(x, sag*(1-math.Pow((x-100)/100, 2))))
	}
	p.Drawing.Line(draw.Cut, draw.Pen{Width: 0.2}, line...)
	return p
}

// Curves that bend alike lie closer than their rectangles, and their lines keep apart.
func TestCurvesNest(t *testing.T) {
	const sag = 20
	a, b := newBlock(bow(sag), 0, 0), newBlock(bow(sag), 1, 0)
	on, rest := layPage([]*block{a, b}, 200.5, 100, math.Inf(1))
	require.Empty(t, rest)
	down := on[1].at.Y - on[0].at.Y
	assert.Less(t, down, sag/2.0, "nested")
	assert.Greater(t, down, gap/1.0, "and apart")
	a.part.Nests, b.part.Nests = false, false
	a.measure()
	b.measure()
	on, _ = layPage([]*block{a, b}, 200.5, 100, math.Inf(1))
	assert.Greater(t, on[1].at.Y-on[0].at.Y, float64(sag))
}

// What a wide block closes off above itself is filled, and what would close off much waits.
func TestRoomAboveIsUsed(t *testing.T) {
	blocks := []*block{newBlock(framedPart(40, 80), 0, 0), newBlock(framedPart(100, 30), 1, 0), newBlock(framedPart(50, 60), 2, 0)}
	on, rest := layPage(blocks, 100, 120, math.Inf(1))
	require.Empty(t, rest)
	assert.Equal(t, 2, on[2].sheet)
	assert.Less(t, on[2].at.Y, on[1].at.Y, "in the pocket")
	on, rest = layPage(blocks, 100, 120, 0.1)
	require.Empty(t, rest)
	assert.Equal(t, []int{0, 2, 1}, []int{on[0].sheet, on[1].sheet, on[2].sheet})
}

// A part that is split goes on to the right or on the next page, whole in all; what follows
// something stands on no page before it; what leads its section has
// all of it behind it; and no section runs ahead by more than three.
func TestSplitPartsAndOrder(t *testing.T) {
	text := textColumn(80, "Head", strings.Repeat("one two three four five six seven eight nine ten ", 12))
	whole := len(text.Drawing.Items)
	require.Greater(t, text.Height, 25.0)
	on, rest := layPage([]*block{newBlock(text, 0, 0)}, 170, 0.6*text.Height, math.Inf(1))
	require.Empty(t, rest)
	require.Len(t, on, 2)
	assert.Greater(t, on[1].at.X, on[0].at.X)
	assert.Equal(t, whole, len(on[0].part.Drawing.Items)+len(on[1].part.Drawing.Items))

	tall, low := newBlock(framedPart(50, 90), 0, 0), newBlock(framedPart(50, 10), 1, 0)
	low.after = true
	far := newBlock(framedPart(50, 10), 2, ahead+1)
	next := newBlock(framedPart(50, 10), 3, ahead)
	on, rest = layPage([]*block{newBlock(framedPart(50, 50), 9, 0), tall, low, next, far}, 60, 100, math.Inf(1))
	require.Len(t, on, 2)
	assert.Equal(t, 3, on[1].sheet, "of a section not too far on, to fill the page")
	require.Len(t, rest, 3)
	assert.Equal(t, []int{0, 1, 2}, []int{rest[0].sheet, rest[1].sheet, rest[2].sheet})

	tall.part.Leads, low.after = true, false
	on, rest = layPage([]*block{newBlock(framedPart(50, 50), 9, 0), tall, low, next}, 60, 100, math.Inf(1))
	require.Len(t, on, 2)
	assert.Equal(t, 3, on[1].sheet, "not of the section whose first part waits")
	require.Len(t, rest, 2)
}

func TestUseIsTheShareThatIsCovered(t *testing.T) {
	b := newBlock(framedPart(97, 97), 0, 0)
	assert.InDelta(t, 97.0*97/1e4, use([]placed{{b, draw.Pt(1.5, 1.5)}}, 100, 100), 0.07, "with half the gap about it")
	assert.Zero(t, use(nil, 100, 100))
}
