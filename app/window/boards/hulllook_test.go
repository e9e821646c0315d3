package boards

import (
	"image"
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/app/window/windowtest"
	"github.com/strakewright/strakewright/hull"
)

// The keys look at the hull from the named places, in the order of the menu, and Home
// from where it was seen first; a turn of the hand leaves them.
func TestKeysLookAtTheHullFromNamedPlaces(t *testing.T) {
	w := newBoards(t)
	w.desk.Win.SetContent(w.Hull)
	w.desk.Win.Resize(fyne.NewSize(300, 260))
	v, b := w.hull, w.hull.board
	w.seen()
	first := v.cam
	checked := func() (out []string) {
		for _, m := range v.prospectMenu() {
			if m.Checked {
				out = append(out, m.Label)
			}
		}
		return out
	}
	for i, p := range prospects {
		b.TypedRune(rune('1' + i))
		w.seen()
		assert.Equal(t, p.of == scene.AtTheBench, v.cam.KeelUp, p.name)
		require.Len(t, checked(), 1)
		assert.True(t, strings.HasPrefix(checked()[0], p.name), "%s: %s", p.name, checked())
	}
	b.TypedRune('7')
	w.seen()
	assert.InDelta(t, -math.Pi/2, v.cam.Pitch, 1e-9, "from below")
	b.TypedRune('2')
	w.seen()
	bow := math.Pi / 2
	if w.desk.Plan().Hull.Bow == hull.BowFirst {
		bow = -bow
	}
	assert.InDelta(t, bow, v.cam.Yaw, 1e-9, "from the bow")
	windowtest.Press(b, draw.Pt(10, 10))
	windowtest.Move(b, draw.Pt(10, 10), draw.Pt(40, 10))
	windowtest.Release(b, draw.Pt(40, 10))
	w.seen()
	assert.Empty(t, checked())
	turned := v.cam
	v.wheel(draw.Pt(50, 50), 3)
	windowtest.ButtonNamed(t, w.Hull, "Fit").OnTapped()
	w.seen()
	assert.Equal(t, turned.Yaw, v.cam.Yaw, "fitted as it was turned")
	fitted := scene.Facing(v.made.scene, turned.Yaw, turned.Pitch).Fit(v.made.scene, v.w, v.h).Zoom
	assert.InDelta(t, fitted, v.cam.Zoom, 1e-9)
	b.TypedRune('+')
	assert.InDelta(t, nearerBy, v.cam.Zoom/fitted, 1e-9)
	b.TypedRune('-')
	assert.InDelta(t, 1, v.cam.Zoom/fitted, 1e-9)
	windowtest.TypeKey(b, fyne.KeyHome)
	w.seen()
	assert.Equal(t, first, v.cam)
}

// While the hand turns the hull it is drawn with fewer pixels, and fine again when it
// lets go; so when a handle is dragged.
func TestHullIsFineWhenItStandsStill(t *testing.T) {
	w := newBoards(t)
	w.desk.Win.Resize(fyne.NewSize(500, 400))
	v, b := w.hull, w.hull.board
	w.seen()
	require.True(t, v.render.Fine)
	windowtest.Press(b, draw.Pt(10, 10))
	windowtest.Move(b, draw.Pt(10, 10), draw.Pt(30, 10))
	w.seen()
	assert.False(t, v.render.Fine)
	windowtest.Release(b, draw.Pt(30, 10))
	require.Nil(t, b.drawn, "it is drawn anew")
	w.seen()
	assert.True(t, v.render.Fine)
	h := w.handle(t, 1, w.desk.Plan().Layers[0].Lines[1].Hold)
	windowtest.Press(w.profile.board, h.At)
	windowtest.Move(w.profile.board, h.At, draw.Pt(h.At.X, h.At.Y+3))
	w.seen()
	assert.False(t, v.render.Fine)
	windowtest.Release(w.profile.board, h.At)
	w.seen()
	assert.True(t, v.render.Fine)
	shown := slices.Clone(b.paint(b.w, b.h).(*image.RGBA).Pix)
	v.made = nil
	assert.Equal(t, v.paint(b.w, b.h, v.scale).(*image.RGBA).Pix, shown, "and exact")
}

// The bar of a map stands beside the drawing, not in it; its figures are the limits of
// its steps, and the greatest ones stand on the hull.
func TestMapHasItsBarBesideTheDrawing(t *testing.T) {
	w := newBoards(t)
	w.desk.Win.SetContent(w.Hull)
	w.desk.Win.Resize(fyne.NewSize(340, 300))
	v := w.hull
	w.seen()
	assert.False(t, v.bar.raster.Visible(), "wood needs none")
	high := v.board.Size().Height
	v.tintingMenu()[1].Action()
	require.Equal(t, scene.ByEdgeSet, v.tinting)
	w.Hull.(*fyne.Container).Refresh()
	require.True(t, v.bar.raster.Visible())
	assert.Equal(t, "Edge-set", v.look.shows.Text)
	assert.Less(t, v.board.Size().Height, high)
	place := func(o fyne.CanvasObject) fyne.Position {
		return fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	}
	assert.GreaterOrEqual(t, place(v.bar.raster).Y, place(v.board).Y+v.board.Size().Height)

	wide := int(v.bar.raster.Size().Width)
	img := v.bar.paint(wide, barHeight).(*image.RGBA)
	texts := labels(&v.bar.d)
	assert.Subset(t, texts, []string{"-0.30", "-0.20", "-0.10", "+0.10", "+0.20", "+0.30", "bent down", "bent up"})
	seen := map[any]bool{}
	for x := range wide {
		seen[img.RGBAAt(x, 20)] = true
	}
	assert.GreaterOrEqual(t, len(seen), 2*(2*scene.Steps)+1, "a colour for each step, and its hatching")

	w.seen()
	texts = labels(&v.labels)
	peaks := scene.Peaks(w.desk.Layer(), scene.ByEdgeSet)
	require.NotEmpty(t, peaks)
	require.NotEmpty(t, texts)
	for _, text := range texts {
		assert.True(t, slices.ContainsFunc(peaks, func(p scene.Peak) bool { return percentOf(p.Value)+" %" == text }), text)
	}
}

func labels(d *draw.Drawing) (out []string) {
	for _, i := range d.Items {
		if l, ok := i.(draw.Label); ok {
			out = append(out, l.Text)
		}
	}
	return out
}

// The hull asks for the whole board by its button or F, and gives it back so, or by
// Escape.
func TestHullTakesTheWholeBoard(t *testing.T) {
	w := newBoards(t)
	var asked []bool
	w.OnFull(func(full bool) { asked = append(asked, full) })
	b := w.hull.board
	b.TypedRune('f')
	b.TypedRune('F')
	w.hull.look.full.OnTapped()
	windowtest.TypeKey(b, fyne.KeyEscape)
	windowtest.TypeKey(b, fyne.KeyEscape)
	assert.Equal(t, []bool{true, false, true, false}, asked)
}

// The row of buttons never keeps the pane from being made narrow.
func TestButtonsLeaveThePaneItsLeastSize(t *testing.T) {
	w := newBoards(t)
	w.desk.Win.SetContent(container.NewStack(w.Hull))
	assert.LessOrEqual(t, w.hull.look.object.MinSize().Width, w.hull.board.MinSize().Width)
}
