// Package svg writes a sheet as an SVG file at full size, to print, to cut or to
// edit: width and height in mm, one unit of the drawing to the mm, black and grey,
// text as text. The same sheet always gives the same bytes.
//
// Items keep their order; neighbouring items of one role share a group whose class
// is the role's name. No style sheet is used, since few cutters read one.
package svg

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/visible"
)

// Write writes a sheet as an SVG document.
func Write(w io.Writer, s *draw.Sheet) error {
	p := printer{w: bufio.NewWriter(w)}
	p.printf("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	p.printf("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n",
		mm(s.Width), mm(s.Height), mm(s.Width), mm(s.Height))
	p.printf("<title>%s</title>\n", escaped(s.Title))
	p.printf("<rect width=\"%s\" height=\"%s\" fill=\"#ffffff\"/>\n", mm(s.Width), mm(s.Height))
	p.items(s.Drawing.Items)
	p.printf("</svg>\n")
	if err := p.w.Flush(); err != nil {
		return tongue.Errorf("writing the SVG: %w", err)
	}
	return nil
}

// printer writes items; its writer keeps the first error until it is flushed.
type printer struct {
	w *bufio.Writer
}

func (p printer) printf(format string, args ...any) { fmt.Fprintf(p.w, format, args...) }

func (p printer) items(items []draw.Item) {
	group := ""
	for _, it := range items {
		if g := roleOf(it).String(); g != group {
			if group != "" {
				p.printf("</g>\n")
			}
			p.printf("<g class=\"%s\">\n", g)
			group = g
		}
		p.item(it)
	}
	if group != "" {
		p.printf("</g>\n")
	}
}

func roleOf(it draw.Item) draw.Role {
	switch it := it.(type) {
	case draw.Stroke:
		return it.Role
	case draw.Fill:
		return it.Role
	case draw.Mark:
		return it.Role
	case draw.Label:
		return it.Role
	}
	return draw.Ink
}

func (p printer) item(it draw.Item) {
	switch it := it.(type) {
	case draw.Stroke:
		p.stroke(it)
	case draw.Fill:
		p.fill(it)
	case draw.Mark:
		for _, f := range it.Fills() {
			p.fill(f)
		}
	case draw.Label:
		p.label(it)
	}
}

func (p printer) stroke(s draw.Stroke) {
	p.printf("<polyline points=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"%s\" stroke-linejoin=\"round\"",
		points(s.Points), ink(s.Role), mm(s.Pen.Width))
	if len(s.Pen.Dash) > 0 {
		lengths := make([]string, len(s.Pen.Dash))
		for i, d := range s.Pen.Dash {
			lengths[i] = mm(d)
		}
		p.printf(" stroke-dasharray=\"%s\"", strings.Join(lengths, " "))
	}
	p.printf("/>\n")
}

func (p printer) fill(f draw.Fill) {
	p.printf("<polygon points=\"%s\" fill=\"%s\"/>\n", points(f.Points), ink(f.Role))
}

// label gives the text's width on paper as well, so that a sans-serif font other
// than ours does not run into its neighbours; but not for letters that no font on this
// computer has, which the reader's may.
func (p printer) label(l draw.Label) {
	anchor := map[draw.Align]string{draw.Left: "start", draw.Centre: "middle", draw.Right: "end"}[l.Align]
	width := fmt.Sprintf(" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\"", mm(draw.TextWidth(l.Text, l.Size)))
	if draw.Lacking(l.Text) != "" {
		width = ""
	}
	p.printf("<text x=\"%s\" y=\"%s\" font-family=\"sans-serif\" font-size=\"%s\" text-anchor=\"%s\"%s fill=\"%s\">%s</text>\n",
		mm(l.At.X), mm(l.At.Y), mm(l.Size), anchor, width, ink(l.Role), escaped(l.Text))
}

func points(pts []draw.Point) string {
	var b strings.Builder
	for i, p := range pts {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(mm(p.X))
		b.WriteByte(',')
		b.WriteString(mm(p.Y))
	}
	return b.String()
}

// mm writes a length to a tenth of a micrometre, without trailing zeros.
func mm(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e4)/1e4+0, 'f', -1, 64)
}

func ink(r draw.Role) string { return hex(draw.Print.Colour(r)) }

func hex(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// escaped escapes a text for XML; characters that XML cannot hold become
// U+FFFD.
func escaped(s string) string {
	var b strings.Builder
	// A strings.Builder never fails.
	_ = xml.EscapeText(&b, []byte(visible.Text(s)))
	return b.String()
}
