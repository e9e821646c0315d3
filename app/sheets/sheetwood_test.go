package sheets

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
)

// Every piece that is cut from sheet is named with its place, the picture is said to be
// one, and its outlines lie within the sheet as drawn.
func TestSheetWood(t *testing.T) {
	k := planked(t, assets.Skiff())
	cut, err := k.CutLayers(context.Background())
	require.NoError(t, err)
	c := cut[0]
	require.NotNil(t, c.Sheets)
	all := sheetWood(c, 1, Usual())
	require.NotEmpty(t, all)
	text := words(all)
	assert.Contains(t, text, "not full size")
	assert.Contains(t, text, "grain")
	for i, p := range c.Pieces {
		if p.Mode == hull.Spiled {
			assert.Contains(t, text, fmt.Sprintf(" %d ", i+1))
			assert.Contains(t, text, short(p.ID))
		}
	}
	p := sheetPicture(c, 0, 180)
	outlines := 0
	for _, it := range p.Items {
		if f, ok := it.(draw.Fill); ok && f.Role == draw.TaperSoft {
			outlines++
			for _, q := range f.Points {
				assert.True(t, q.X >= 0 && q.X <= 180 && q.Y >= 0 && q.Y <= p.h)
			}
		}
	}
	assert.Equal(t, len(c.Sheets.Nest.Sheets[0].Pieces), outlines)
	c.Sheets = nil
	assert.Empty(t, sheetWood(c, 1, Usual()))
}
