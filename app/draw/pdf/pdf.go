// Package pdf writes drawings as a PDF file to print, on which a mm of the drawing
// is a mm of paper. Lines, dashes, fills, marks and labels are vectors, black and
// grey, lettered in an embedded font (scripts that it lacks are outlines), with
// bookmarks and links. Viewers are told to print it without scaling. The same
// drawings of the same date always give the same bytes.
//
//	doc := pdf.New("Tick strips")
//	doc.Page(210, 297, pdf.Scale{})
//	doc.Draw(&drawing)
//	doc.Bookmark("Frame K", 0, 20)
//	err := doc.Write(w)
package pdf

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"time"

	"github.com/go-pdf/fpdf"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/visible"
)

// LongestPage is the longest side of a page that readers of PDF accept, mm
// (14400 units of 1/72 in.; ISO 32000-1, annex C.2).
const LongestPage = 5080

// Scale enlarges a page's drawings about its upper left corner, so that a
// printer that prints too small or too large comes out right: the factors along
// the width and down the height. 0 is taken as 1.
type Scale struct{ X, Y float64 }

// Link names a place that links lead to; it may be used before the place is
// known.
type Link int

// Document is a PDF being made, page after page. It is for one goroutine.
type Document struct {
	pdf   *fpdf.Fpdf
	lines []bookmark // of the outline
	open  bool       // a page is open, within its scale
	scale Scale      // of the open page
	pen   draw.Pen
	ink   color.NRGBA // of the pen
	fill  color.NRGBA
	text  color.NRGBA
	size  float64
}

// bookmark is a line of the outline.
type bookmark struct {
	text  string
	level int
	page  int
	below float64 // how high it is over the page's lower side, mm of paper
}

const family = "lettering"

// origin is the date of a document that was given none, since its bytes must not
// depend on the clock.
var origin = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// New begins a document without pages.
func New(title string) *Document {
	p := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	p.SetAutoPageBreak(false, 0)
	p.SetMargins(0, 0, 0)
	p.SetCatalogSort(true)
	p.SetTitle(visible.Text(title), true)
	p.SetCreator("Strakewright", true)
	p.SetProducer("Strakewright", true)
	p.SetLineJoinStyle("round")
	p.AddUTF8FontFromBytes(family, "", draw.Lettering())
	d := &Document{pdf: p}
	d.Date(origin)
	return d
}

// Date dates the document: when what it shows was made, not when it is written.
// The zero time leaves it at the first day of 2000.
func (d *Document) Date(made time.Time) {
	if made.IsZero() {
		made = origin
	}
	d.pdf.SetCreationDate(made)
	d.pdf.SetModificationDate(made)
}

// Page begins the next page, width by height in mm of paper. What follows is
// drawn on it, in mm as printed under its scale.
func (d *Document) Page(width, height float64, s Scale) {
	d.endPage()
	if s.X == 0 {
		s.X = 1
	}
	if s.Y == 0 {
		s.Y = 1
	}
	d.pdf.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
	d.pdf.SetFont(family, "", 10)
	d.pdf.TransformBegin()
	d.pdf.TransformScale(100*s.X, 100*s.Y, 0, 0)
	d.open, d.scale = true, s
	d.pen, d.size = draw.Pen{Width: -1}, -1
	d.ink, d.fill, d.text = color.NRGBA{}, color.NRGBA{}, color.NRGBA{}
}

func (d *Document) endPage() {
	if d.open {
		d.setDash(nil) // otherwise the next page would begin with it
		d.pdf.TransformEnd()
	}
	d.open = false
}

// Draw draws a drawing on the open page.
func (d *Document) Draw(drawing *draw.Drawing) {
	for _, it := range drawing.Items {
		switch it := it.(type) {
		case draw.Stroke:
			d.stroke(it)
		case draw.Fill:
			d.area(it.Points, it.Role)
		case draw.Mark:
			d.mark(it)
		case draw.Label:
			d.label(it)
		}
	}
}

func (d *Document) stroke(s draw.Stroke) {
	if c := draw.Print.Colour(s.Role); c != d.ink {
		d.pdf.SetDrawColor(int(c.R), int(c.G), int(c.B))
		d.ink = c
	}
	if s.Pen.Width != d.pen.Width {
		d.pdf.SetLineWidth(s.Pen.Width)
		d.pen.Width = s.Pen.Width
	}
	d.setDash(s.Pen.Dash)
	d.path(s.Points)
	d.pdf.DrawPath("D")
}

func (d *Document) setDash(dash []float64) {
	if len(dash) == 0 && len(d.pen.Dash) == 0 {
		return
	}
	d.pdf.SetDashPattern(dash, 0)
	d.pen.Dash = dash
}

func (d *Document) path(pts []draw.Point) {
	d.pdf.MoveTo(pts[0].X, pts[0].Y)
	for _, p := range pts[1:] {
		d.pdf.LineTo(p.X, p.Y)
	}
}

func (d *Document) area(pts []draw.Point, role draw.Role) {
	d.filled(role)
	d.path(pts)
	d.pdf.ClosePath()
	d.pdf.DrawPath("F")
}

// filled sets the colour of what is filled next.
func (d *Document) filled(role draw.Role) {
	if c := draw.Print.Colour(role); c != d.fill {
		d.pdf.SetFillColor(int(c.R), int(c.G), int(c.B))
		d.fill = c
	}
}

func (d *Document) mark(m draw.Mark) {
	for _, f := range m.Fills() {
		d.area(f.Points, f.Role)
	}
}

func (d *Document) label(l draw.Label) {
	if c := draw.Print.Colour(l.Role); c != d.text {
		d.pdf.SetTextColor(int(c.R), int(c.G), int(c.B))
		d.text = c
	}
	if l.Size != d.size {
		d.pdf.SetFontUnitSize(l.Size)
		d.size = l.Size
	}
	from, _ := l.Box()
	for _, run := range draw.Runs(l.Text) {
		at := draw.Pt(from.X+run.X*l.Size, l.At.Y)
		if run.Text != "" {
			d.pdf.Text(at.X, at.Y, run.Text)
		} else if len(run.Contours) > 0 {
			d.letters(run.Contours, at, l)
		}
	}
}

// letters fills the outlines of letters that the lettering lacks.
func (d *Document) letters(contours [][]draw.Point, at draw.Point, l draw.Label) {
	d.filled(l.Role)
	for _, c := range contours {
		pts := make([]draw.Point, len(c))
		for i, p := range c {
			pts[i] = draw.Pt(at.X+p.X*l.Size, at.Y+p.Y*l.Size)
		}
		d.path(pts)
		d.pdf.ClosePath()
	}
	d.pdf.DrawPath("F")
}

// Bookmark adds to the outline an entry that leads to a height y of the open
// page. Level 0 is the outermost; an entry may be one level below the last.
func (d *Document) Bookmark(text string, level int, y float64) {
	_, height, _ := d.pdf.PageSize(d.pdf.PageNo())
	y *= d.scale.Y
	d.lines = append(d.lines, bookmark{visible.Text(text), level, d.pdf.PageNo(), height - y})
}

// outline adds the bookmarks, all at the end: fpdf counts their heights up from the
// lower side of its last page, whatever page they are on.
func (d *Document) outline() {
	last := d.pdf.PageNo()
	_, height, _ := d.pdf.PageSize(last)
	for _, l := range d.lines {
		d.pdf.SetPage(l.page)
		d.pdf.Bookmark(l.text, l.level, height-l.below)
	}
	d.pdf.SetPage(last)
	d.lines = nil
}

// NewLink returns a place to link to, which Target sets later.
func (d *Document) NewLink() Link { return Link(d.pdf.AddLink()) }

// Target makes a link lead to a height y of the open page.
func (d *Document) Target(l Link, y float64) {
	d.pdf.SetLink(int(l), y*d.scale.Y, d.pdf.PageNo())
}

// LinkArea makes the rectangle between two corners of the open page lead to a
// link's place.
func (d *Document) LinkArea(from, to draw.Point, l Link) {
	d.pdf.Link(from.X*d.scale.X, from.Y*d.scale.Y, (to.X-from.X)*d.scale.X, (to.Y-from.Y)*d.scale.Y, int(l))
}

// Write ends the document and writes it.
func (d *Document) Write(w io.Writer) error {
	d.endPage()
	d.outline()
	var b bytes.Buffer
	err := d.pdf.Output(&b)
	if err == nil {
		_, err = w.Write(unscaled(b.Bytes()))
	}
	if err != nil {
		return tongue.Errorf("writing the PDF: %w", err)
	}
	return nil
}

// unscaled asks viewers, in a finished document's catalogue, to print it without
// scaling (ISO 32000-1, 12.2, table 150), which fpdf has no word for. The catalogue
// is its last object, so that of all places in the file only that of the
// cross-reference table behind it moves.
func unscaled(doc []byte) []byte {
	const preference = "/ViewerPreferences <</PrintScaling /None>>\n"
	table := bytes.LastIndex(doc, []byte("\nxref\n")) + 1
	end := bytes.LastIndex(doc[:table], []byte(">>\nendobj\n"))
	old := fmt.Appendf(nil, "startxref\n%d\n", table)
	at := bytes.LastIndex(doc, old)
	if table <= 0 || end < 0 || at < 0 {
		return doc
	}
	out := append([]byte{}, doc[:end]...)
	out = append(out, preference...)
	out = append(out, doc[end:at]...)
	out = fmt.Appendf(out, "startxref\n%d\n", table+len(preference))
	return append(out, doc[at+len(old):]...)
}
