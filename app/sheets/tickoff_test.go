package sheets

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
}
