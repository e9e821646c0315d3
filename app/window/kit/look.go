package kit

import (
	"image"

	"github.com/strakewright/strakewright/app/draw"

	"fyne.io/fyne/v2"
)

// Look is how drawings look on the screen.
type Look struct {
	Dark   bool
	Pixels *draw.Pixels
}

func (l *Look) Palette() *draw.Palette {
	if l.Dark {
		return &draw.Dark
	}
	return &draw.Light
}

// Sheet keeps the image that drawings are rendered to, and what renders them, so
// that several can be at it at once.
type Sheet struct {
	img    *image.RGBA
	pixels *draw.Pixels
}

// Render gives a drawing as an image, which the next call draws over.
func (s *Sheet) Render(l *Look, dr *draw.Drawing, w, h int, scale float64) image.Image {
	if s.img == nil || s.img.Rect.Dx() != w || s.img.Rect.Dy() != h {
		s.img = image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	}
	if s.pixels == nil {
		s.pixels = l.Pixels.Another()
	}
	s.pixels.Render(s.img, dr, l.Palette(), draw.View{Scale: scale})
	return s.img
}

// Over renders a drawing over an image.
func (s *Sheet) Over(img *image.RGBA, l *Look, dr *draw.Drawing, scale float64) {
	if s.pixels == nil {
		s.pixels = l.Pixels.Another()
	}
	s.pixels.Over(img, dr, l.Palette(), draw.View{Scale: scale})
}

// Point is a place on the screen as a place of a drawing.
func Point(p fyne.Position) draw.Point { return draw.Pt(float64(p.X), float64(p.Y)) }
