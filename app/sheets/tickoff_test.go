package sheets

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// Every turn stands on the sheet, and what is glued is ticked.
func TestTickOff(t *testing.T) {
	k := planked(t, assets.Skiff())
	p := k.Plan.Clone()
	first := progress.Turns(k)[0]
	p.Record.Add(first.Side, hull.Entry{Date: "2026-03-01", EntryKind: hull.Glued, Layer: 1, Strake: first.ID})
	k, err := loft.Plank(p)
	require.NoError(t, err)
	cut, err := k.CutLayers(context.Background())
	require.NoError(t, err)
	text := words(tickOff(k, cut, Usual()))
	assert.Equal(t, 1, strings.Count(text, "[x]"))
	assert.Equal(t, len(progress.Turns(k)), strings.Count(text, "[x]")+strings.Count(text, "[ ]"), "one piece a turn: no strake of the skiff is longer than a strip")
	for _, turn := range progress.Turns(k) {
		assert.Contains(t, text, " "+short(turn.ID)+" ")
	}
	for i, p := range answer.CuttingOf(k, 0, cut[0], nil).Pieces {
		assert.Contains(t, text, fmt.Sprintf(" %d %s %s %s %.1f ", i+1, p.Strake, p.Side, cutFrom(&p), p.Length), "with the strip or the sheet that it is cut from")
	}
	bought := words(shopping(k, cut, Usual()))
	assert.Contains(t, bought, "1 strip ")
	assert.Contains(t, bought, "1 sheet ")
}

// Every strake that ends in another is told, and its number stands amidships too where it
// is laid there.
func TestDropStrakesAndNumbersAmidships(t *testing.T) {
	k := coaster(t)
	l := k.Layers[0]
	require.NotEmpty(t, l.Drops)
	text := words(dropped(k, 1, Usual()))
	for _, d := range l.Drops {
		assert.Contains(t, text, fmt.Sprintf("%s %s %s %s %.2f ", d.Strake, d.Into, l.Surface.FrameName(d.From), l.Surface.FrameName(d.To), d.Nib))
	}
	assert.Empty(t, dropped(barrel(t), 1, Usual()))
	expanded := words(numberMaps(k, 1, Usual())[1:])
	for _, st := range l.Strakes {
		assert.GreaterOrEqual(t, strings.Count(expanded, short(st.ID)+" "), 3, "%s: at an end or two, and twice amidships", st.ID)
	}
}
