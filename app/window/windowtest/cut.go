package windowtest

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/window/kit"
)

// box is a rectangle of the window.
type box struct{ low, high fyne.Position }

func (b box) and(o box) box {
	return box{fyne.NewPos(max(b.low.X, o.low.X), max(b.low.Y, o.low.Y)), fyne.NewPos(min(b.high.X, o.high.X), min(b.high.Y, o.high.Y))}
}

// least is how much of a text, in units of the window, can be lost unseen: less than the
// thinnest stroke of a letter.
const least = 0.5

// cutTexts gives those texts within an object of which a part is drawn and a part is not,
// and counts those that are drawn. It goes the way of the toolkit's painters: what a scroll
// holds is drawn within it, and likewise all that says so of itself.
func cutTexts(o fyne.CanvasObject, at fyne.Position, clip box) (cut []string, drawn int) {
	if !o.Visible() {
		return nil, 0
	}
	at = at.Add(o.Position())
	all := func(objects []fyne.CanvasObject, clip box) {
		for _, in := range objects {
			c, d := cutTexts(in, at, clip)
			cut, drawn = append(cut, c...), drawn+d
		}
	}
	switch o := o.(type) {
	case *canvas.Text:
		return cutText(o, at, clip)
	case *fyne.Container:
		all(o.Objects, clip)
	case fyne.Widget:
		r := test.WidgetRenderer(o)
		_, clips := r.(interface{ IsClip() })
		if _, scrolls := o.(*container.Scroll); scrolls || clips {
			clip = clip.and(box{at, at.Add(o.Size())})
		}
		all(r.Objects(), clip)
	}
	return cut, drawn
}

// cutText gives a text, drawn at a place, if a part of it is lost.
func cutText(o *canvas.Text, at fyne.Position, clip box) (cut []string, drawn int) {
	size := o.MinSize()
	spare := o.Size().Subtract(size)
	switch o.Alignment {
	case fyne.TextAlignCenter:
		at.X += spare.Width / 2
	case fyne.TextAlignTrailing:
		at.X += spare.Width
	}
	at.Y += max(spare.Height, 0) / 2
	text := box{at, at.Add(size)}
	seen := text.and(clip)
	switch {
	case o.Text == "" || seen.high.X-seen.low.X < least || seen.high.Y-seen.low.Y < least:
		return nil, 0
	case seen.low.X-text.low.X > least || text.high.X-seen.high.X > least || seen.low.Y-text.low.Y > least || text.high.Y-seen.high.Y > least:
		return []string{o.Text}, 1
	}
	return nil, 1
}

// NothingCut checks that a table draws the texts of its cells whole or not at all.
func NothingCut(t *testing.T, table *kit.Table, where string, args ...any) {
	t.Helper()
	d := fyne.CurrentApp().Driver()
	low := d.AbsolutePositionForObject(table)
	cut, drawn := cutTexts(table, low.Subtract(table.Position()), box{low, low.AddXY(table.Size().Width, table.Size().Height)})
	require.Empty(t, cut, append([]any{where}, args...)...)
	assert.Positive(t, drawn)
}

// ScrollOf is what the cells of a table scroll in.
func ScrollOf(table *kit.Table) *container.Scroll {
	for _, o := range test.WidgetRenderer(table).Objects() {
		if s, ok := o.(*container.Scroll); ok {
			return s
		}
	}
	return nil
}

// NothingCutAnywhere scrolls a table by the wheel and by its bars, there and back by odd
// amounts, and checks that nothing is cut on the way.
func NothingCutAnywhere(t *testing.T, table *kit.Table) {
	t.Helper()
	s := ScrollOf(table)
	require.NotNil(t, s)
	by := func(dx, dy float32) bool {
		was := s.Offset
		s.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(dx, dy)})
		return s.Offset != was
	}
	along := func(dx, dy float32) {
		for by(dx, dy) {
			NothingCut(t, table, "by the wheel, at %v", s.Offset)
		}
	}
	NothingCut(t, table, "as it was, at %v", s.Offset)
	table.ScrollToLeading()
	at := s.Offset
	along(-23, 0)
	if s.Content.MinSize().Width > s.Size().Width+23 {
		assert.NotEqual(t, at, s.Offset, "it scrolls")
	}
	along(0, -7)
	along(31, 0)
	along(0, 11)
	bars(s, func(bar fyne.Draggable) {
		for range 4 {
			bar.Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(5.3, 3.1)})
			NothingCut(t, table, "by the bar, at %v", s.Offset)
		}
		bar.DragEnd()
	})
}

// bars calls f with the bars of a scroll.
func bars(s *container.Scroll, f func(fyne.Draggable)) {
	for _, o := range test.WidgetRenderer(s).Objects() {
		if w, ok := o.(fyne.Widget); ok && o != s.Content && o.Visible() {
			for _, in := range test.WidgetRenderer(w).Objects() {
				if bar, ok := in.(fyne.Draggable); ok {
					f(bar)
				}
			}
		}
	}
}
