package window

import (
	"image"

	"strakewright/app/draw"
)

// picture paints itself to an image of w x h pixels; scale is how many of them
// go to one of the board's own units.
type picture interface {
	paint(w, h int, scale float64) image.Image
}

// paint draws the view; Fyne calls it when the screen is drawn.
func (b *board) paint(w, h int) image.Image {
	scale := 1.0
	if bw, _ := b.size(); bw > 0 {
		scale = float64(w) / bw
	}
	return b.view.paint(w, h, scale)
}

// sheet keeps the image that drawings are rendered to.
type sheet struct{ img *image.RGBA }

// render gives a drawing as an image, which the next call draws over.
func (s *sheet) render(d *desk, dr *draw.Drawing, w, h int, scale float64) image.Image {
	if s.img == nil || s.img.Rect.Dx() != w || s.img.Rect.Dy() != h {
		s.img = image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	}
	d.pixels.Render(s.img, dr, d.palette(), draw.View{Scale: scale})
	return s.img
}
