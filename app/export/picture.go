package export

import (
	"image"
	"image/png"
	"io"
	"path/filepath"
	"strings"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/pdf"
	"github.com/strakewright/strakewright/app/draw/svg"
	"github.com/strakewright/strakewright/app/sheets/paper"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Picture is a view as shown on the screen, to be kept as a file: in units of the
// screen, as many to an inch as CSS's px (CSS Values and Units Level 3, 5.2).
type Picture struct {
	Title         string
	Stamp         paper.Stamp // which state of the plan it shows, on SVG and PDF
	Width, Height float64
	Drawing       *draw.Drawing      // nil for a view that is painted, not drawn in lines
	Paint         func() image.Image // as pixels
}

// unitsPerInch is the number of CSS's px in an inch.
const unitsPerInch = 96

// Writer returns the function that writes the picture to a file, in the format of the
// path's extension: SVG and PDF, in black and grey as on paper, or PNG in the colours
// of the screen. The error says which extensions there are.
func (p *Picture) Writer(path string) (func(io.Writer) error, error) {
	ending := strings.ToLower(filepath.Ext(path))
	switch {
	case ending == ".png":
		return func(w io.Writer) error { return png.Encode(w, p.Paint()) }, nil
	case ending != ".svg" && ending != ".pdf":
		return nil, tongue.Errorf("%s: give the picture one of the endings %s", filepath.Base(path), p.endings())
	case p.Drawing == nil:
		return nil, tongue.Errorf("%s: this view is made of pixels: save it as .png", filepath.Base(path))
	}
	stamped := paper.Stamped(*p.sheet(), p.Title, p.Stamp)
	s := &stamped
	if ending == ".svg" {
		return func(w io.Writer) error { return svg.Write(w, s) }, nil
	}
	return func(w io.Writer) error {
		doc := pdf.New(p.Title)
		doc.Date(p.Stamp.Date)
		doc.Page(s.Width, s.Height, pdf.Scale{})
		doc.Draw(&s.Drawing)
		return doc.Write(w)
	}, nil
}

func (p *Picture) endings() string {
	if p.Drawing == nil {
		return ".png"
	}
	return tongue.T(".svg, .pdf or .png")
}

// sheet is the visible part of the drawing, in mm.
func (p *Picture) sheet() *draw.Sheet {
	seen := p.Drawing.Part(draw.Pt(0, 0), draw.Pt(p.Width, p.Height), func(it draw.Item) bool {
		at := draw.Pt(0, 0)
		switch it := it.(type) {
		case draw.Mark:
			at = it.At
		case draw.Label:
			at = it.At
		}
		return at.X >= 0 && at.Y >= 0 && at.X <= p.Width && at.Y <= p.Height
	})
	const mm = 25.4 / unitsPerInch
	return &draw.Sheet{Title: p.Title, Drawing: seen.Scaled(mm), Width: p.Width * mm, Height: p.Height * mm}
}
