package window

import (
	"image"
	"strakewright/app/draw"

	"fyne.io/fyne/v2"
)

// look is how drawings look on the screen.
type look struct {
	dark   bool
	pixels *draw.Pixels
}

func (l *look) palette() *draw.Palette {
	if l.dark {
		return &draw.Dark
	}
	return &draw.Light
}

// sheet keeps the image that drawings are rendered to, and what renders them, so
// that several can be at it at once.
type sheet struct {
	img    *image.RGBA
	pixels *draw.Pixels
}

// render gives a drawing as an image, which the next call draws over.
func (s *sheet) render(l *look, dr *draw.Drawing, w, h int, scale float64) image.Image {
	if s.img == nil || s.img.Rect.Dx() != w || s.img.Rect.Dy() != h {
		s.img = image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	}
	if s.pixels == nil {
		s.pixels = l.pixels.Another()
	}
	s.pixels.Render(s.img, dr, l.palette(), draw.View{Scale: scale})
	return s.img
}

func point(p fyne.Position) draw.Point { return draw.Pt(float64(p.X), float64(p.Y)) }
