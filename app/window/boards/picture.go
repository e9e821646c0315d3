package boards

import (
	"image"

	"github.com/strakewright/strakewright/app/draw"
)

// sharper is how many pixels of a picture that is kept go to one of the board's units,
// where the view is drawn in lines.
const sharper = 3

// drawing gives what a view is drawn with in lines, as it stands; nil of one that has none.
func (v *profileView) drawing() *draw.Drawing {
	v.current()
	return &v.v.Drawing
}

func (v *expandedView) drawing() *draw.Drawing {
	v.current()
	return &v.v.Drawing
}

func (v *bodyView) drawing() *draw.Drawing {
	v.current()
	return &v.v.Drawing
}

func (v *gaugeView) drawing() *draw.Drawing  { return &v.v.Drawing }
func (v *noBodyView) drawing() *draw.Drawing { return nil }
func (v eitherView) drawing() *draw.Drawing  { return v.now().drawing() }

// inPixels tells whether a view is painted in pixels on the screen.
func inPixels(v view) bool {
	switch v := v.(type) {
	case *hullView, *noBodyView:
		return true
	case eitherView:
		return inPixels(v.now())
	}
	return false
}

// Drawn gives the board's drawing as it stands, nil where it has none, with what paints it
// in pixels, and its size in the board's own units.
func (b *Board) Drawn() (d *draw.Drawing, paint func() image.Image, w, h float64) {
	w, h = b.size()
	return b.view.drawing(), func() image.Image {
		switch {
		case !inPixels(b.view):
			return b.view.paint(int(w*sharper), int(h*sharper), sharper)
		case b.w > 0:
			return b.image(b.w, b.h) // as it is on the screen: of another size it would be fitted anew
		}
		return b.image(int(w), int(h))
	}, w, h
}
