package draw

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestBoundsHoldAllInk(t *testing.T) {
	var d Drawing
	_, _, ok := d.Bounds()
	assert.False(t, ok)
	d.Line(Cut, Pen{Width: 2}, Pt(0, 0), Pt(10, 0))
	d.Mark(Pt(20, 5), Disc, 4, Ink)
	from, to, ok := d.Bounds()
	assert.True(t, ok)
	assert.Equal(t, [2]Point{{-1, -1}, {22, 7}}, [2]Point{from, to})
	d.Text(Pt(5, 0), "wide", Ink, 50, Right)
	from, _, _ = d.Bounds()
	assert.InDelta(t, 5-TextWidth("wide", 50), from.X, 1e-9)
	assert.InDelta(t, -39, from.Y, 1e-9)
}
