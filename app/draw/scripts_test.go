package draw

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWhatTheLetteringHasIsOneRun(t *testing.T) {
	for _, text := range []string{"Coaster", "Größe 12½°", "Чайка", "Γλάρος"} {
		runs := Runs(text)
		require.Len(t, runs, 1, text)
		assert.Equal(t, text, runs[0].Text)
		assert.Positive(t, runs[0].Width)
		assert.Empty(t, Lacking(text))
	}
	assert.InDelta(t, 3*TextWidth("Чайка", 1), TextWidth("Чайка", 3), 1e-12)
}

// The fonts are those that the checks install: Georgian is in DejaVu's, Chinese in Droid's.
func TestLettersOfOtherScriptsAreOutlines(t *testing.T) {
	for _, text := range []string{"鷗", "カモメ", "თოლია", "שחף"} {
		require.Empty(t, Lacking(text), text)
		runs := Runs("No. " + text + " A")
		require.Len(t, runs, 3, text)
		assert.Equal(t, "No. ", runs[0].Text)
		assert.Equal(t, "A", strings.TrimSpace(runs[2].Text))
		assert.NotEmpty(t, runs[1].Contours)
		assert.InDelta(t, runs[0].Width, runs[1].X, 1e-12)
		assert.InDelta(t, runs[1].X+runs[1].Width, runs[2].X, 1e-12)
		for _, c := range runs[1].Contours {
			for _, p := range c {
				assert.True(t, p.X > -0.2 && p.X < runs[1].Width+0.2 && p.Y > -1.2 && p.Y < 0.5, "%v", p)
			}
		}
	}
	assert.InDelta(t, 3, Runs("カモメ")[0].Width, 0.01, "each as wide as an em")
}

// Its first letter stands rightmost.
func TestLeftwardScriptsRunLeftwards(t *testing.T) {
	ends := func(text string) float64 { return Runs(text)[0].Width }
	whole, first := Runs("שחף"), Runs("ש")
	require.Len(t, whole, 1)
	rightmost := [][]Point{}
	for _, c := range whole[0].Contours {
		if c[0].X > ends("שחף")-ends("ש") {
			rightmost = append(rightmost, c)
		}
	}
	require.Len(t, rightmost, len(first[0].Contours))
	assert.InDelta(t, first[0].Contours[0][0].X, rightmost[0][0].X-(ends("שחף")-ends("ש")), 1e-6)
}

// The letter and its accent come of one font, whose accent knows its place: over the letter.
func TestAccentsStandOverTheirLetters(t *testing.T) {
	assert.Equal(t, []Run{{Text: "é", Width: TextWidth("é", 1)}}, Runs("e\u0301"), "one letter where there is one")
	runs := Runs("x\u0302")
	require.Len(t, runs, 1)
	require.GreaterOrEqual(t, len(runs[0].Contours), 2)
	letter, accent := boxOf(runs[0].Contours[0]), boxOf(runs[0].Contours[1])
	assert.Less(t, accent.y1, letter.y0)
	assert.InDelta(t, (letter.x0+letter.x1)/2, (accent.x0+accent.x1)/2, 0.05)
	assert.Equal(t, TextWidth("a", 1)+runs[0].Width, TextWidth("ax\u0302", 1), "only that letter leaves the lettering")
}

func TestWhatNoFontHasIsASquare(t *testing.T) {
	bare := &fonts{}
	assert.False(t, bare.have('鷗'))
	text := ""
	for _, r := range bare.set("No. 鷗", paperface()) {
		text += r.Text
	}
	assert.Equal(t, "No. □", text)
}
