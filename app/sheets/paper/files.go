package paper

import (
	"io"
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/pdf"
	"github.com/strakewright/strakewright/app/draw/svg"
)

// writePDF writes one sheet as a PDF of as many pages as it takes.
func writePDF(w io.Writer, s draw.Sheet, setup Setup) error {
	pages, err := Pages([]draw.Sheet{s}, setup)
	if err != nil {
		return err
	}
	doc := pdf.New(documentTitle(s.Title, setup.Ship))
	doc.Date(setup.Stamp.Date)
	for i := range pages {
		p := &pages[i]
		doc.Page(p.Width, p.Height, p.Scale)
		doc.Draw(&p.Drawing)
	}
	return doc.Write(w)
}

func documentTitle(title, ship string) string {
	if ship == "" {
		return title
	}
	return title + ", " + ship
}

// WriteSVG writes one sheet as an SVG at full size, in one piece, with its
// title over it, and the bars and its state below it.
func WriteSVG(w io.Writer, s draw.Sheet, ship string, stamp Stamp) error {
	framed := framed(&s, ship, stamp)
	return svg.Write(w, &framed)
}

// framed is a sheet with a margin, a heading and the bars.
func framed(s *draw.Sheet, ship string, stamp Stamp) draw.Sheet {
	const edge = 5
	width := math.Max(s.Width, leastWidth)
	out := *s
	out.Drawing = draw.Drawing{}
	p := page{width: width + 2*edge, mx: 1, my: 1, margin: edge}
	p.height = s.Height + 2*edge + headHeight + p.footHeight() + 2*breath
	out.Width, out.Height = p.width, p.height
	out.Drawing.Add(&s.Drawing, draw.Pt(p.left(), p.windowTop()))
	heading(&out.Drawing, p, s.Title, ship, "")
	p.foot(&out.Drawing, ship, stamp)
	return out
}
