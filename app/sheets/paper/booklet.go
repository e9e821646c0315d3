package paper

import (
	"context"
	"fmt"
	"io"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/pdf"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Book is what a booklet holds.
type Book struct {
	Title   string   // of the whole, as "Planking sheets"
	Setup   Setup    // of its pages
	Guide   []Step   // of the work, for the first page
	Summary []string // paragraphs of the summary
	Sheets  []draw.Sheet
}

// link is a rectangle of a page, in true mm, that leads to a sheet.
type link struct {
	from, to draw.Point
	sheet    int
}

// Bound is a booklet laid out. It is not to be changed.
type Bound struct {
	Pages  []Page
	book   Book
	leaves []leaf
}

// Bind lays a booklet out: which sheet is for what, cautions, summary and all sheets.
// The error is that of Pages.
func (b Book) Bind() (*Bound, error) {
	setup, err := b.Setup.filled()
	if err != nil {
		return nil, err
	}
	b.Setup = setup
	leaves, err := b.leaves()
	if err != nil {
		return nil, err
	}
	return &Bound{finished(leaves, setup), b, leaves}, nil
}

// Write writes a booklet as a PDF with bookmarks. Nothing is written unless the whole
// came about: ctx stops it between pages with ctx's error. progress, unless nil, is told
// of each page.
func (b *Bound) Write(ctx context.Context, w io.Writer, progress func(done, total int)) error {
	bind := binder{doc: pdf.New(documentTitle(b.book.Title, b.book.Setup.Ship)), book: &b.book, links: make([]pdf.Link, len(b.book.Sheets)), named: map[string]bool{}}
	bind.doc.Date(b.book.Setup.Stamp.Date)
	for i := range bind.links {
		bind.links[i] = bind.doc.NewLink()
	}
	for i := range b.Pages {
		if err := ctx.Err(); err != nil {
			return tongue.Errorf("the booklet was stopped: %w", err)
		}
		bind.add(&b.leaves[i], &b.Pages[i])
		if progress != nil {
			progress(i+1, len(b.Pages))
		}
	}
	if err := ctx.Err(); err != nil {
		return tongue.Errorf("the booklet was stopped: %w", err)
	}
	return bind.doc.Write(w)
}

// leaves are all pages of the booklet. The guide is laid out with no numbers in it, and
// drawn again with them.
func (b *Book) leaves() ([]leaf, error) {
	blank := b.guide(make([][]int, len(b.Sheets)))
	front := b.front(&blank)
	all := append(front, b.Sheets...)
	blocks, err := b.Setup.blocksOf(all)
	if err != nil {
		return nil, err
	}
	blocks[0].upright = !b.Setup.isRoll()
	out, err := b.Setup.layOut(blocks, all)
	if err != nil {
		return nil, err
	}
	on := make([][]int, len(b.Sheets))
	for i := range out {
		for _, s := range out[i].holds {
			if n := s - len(front); n >= 0 {
				on[n] = append(on[n], i+1)
			}
		}
		out[i].partFront(front)
	}
	if len(blank.boxes) > 0 {
		numbered := b.guide(on)
		numbered.into(out, 0)
	}
	return out, nil
}

// partFront tells apart where sheets of the front begin and where those of the plan do.
func (l *leaf) partFront(front []draw.Sheet) {
	var starts []Start
	for _, s := range l.starts {
		if s.Sheet < len(front) {
			l.front = append(l.front, begun{front[s.Sheet].Section, s.Y})
			continue
		}
		s.Sheet -= len(front)
		starts = append(starts, s)
	}
	l.starts = starts
}

// binder adds leaves to a document.
type binder struct {
	doc   *pdf.Document
	book  *Book
	links []pdf.Link      // of each sheet
	named map[string]bool // sections and kinds that have a bookmark
}

func (b *binder) add(l *leaf, p *Page) {
	b.doc.Page(p.Width, p.Height, p.Scale)
	b.doc.Draw(&p.Drawing)
	for _, k := range l.links {
		b.doc.LinkArea(k.from, k.to, b.links[k.sheet])
	}
	b.bookmark(l.section, 0, l.top())
	for _, f := range l.front {
		b.bookmark(f.section, 0, f.y)
	}
	for _, s := range p.Starts {
		sheet := &b.book.Sheets[s.Sheet]
		b.bookmark(sheet.Section, 0, s.Y)
		b.bookmark(sheet.CommonTitle(), 1, s.Y)
		b.doc.Target(b.links[s.Sheet], s.Y)
	}
}

// bookmark names a section or a kind of sheets where it begins.
func (b *binder) bookmark(title string, level int, y float64) {
	if key := fmt.Sprint(level, title); !b.named[key] {
		b.named[key] = true
		b.doc.Bookmark(title, level, y)
	}
}
