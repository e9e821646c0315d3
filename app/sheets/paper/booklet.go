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

// Booklet writes a PDF of contents, cautions, summary and all sheets, with
// bookmarks. Nothing is written unless the whole came about: ctx stops it
// between pages with ctx's error. progress, unless nil, is told of each page.
func Booklet(ctx context.Context, w io.Writer, b Book, progress func(done, total int)) error {
	setup, err := b.Setup.filled()
	if err != nil {
		return err
	}
	b.Setup = setup
	leaves, err := b.leaves()
	if err != nil {
		return err
	}
	bind := binder{doc: pdf.New(documentTitle(b.Title, setup.Ship)), book: &b, links: make([]pdf.Link, len(b.Sheets)), named: map[string]bool{}}
	bind.doc.Date(setup.Stamp.Date)
	for i := range bind.links {
		bind.links[i] = bind.doc.NewLink()
	}
	for i, l := range leaves {
		if err := ctx.Err(); err != nil {
			return tongue.Errorf("the booklet was stopped: %w", err)
		}
		bind.add(l, i+1, len(leaves))
		if progress != nil {
			progress(i+1, len(leaves))
		}
	}
	if err := ctx.Err(); err != nil {
		return tongue.Errorf("the booklet was stopped: %w", err)
	}
	return bind.doc.Write(w)
}

// Pages lays out all pages of the booklet, as Booklet writes them.
func (b Book) Pages() ([]Page, error) {
	setup, err := b.Setup.filled()
	if err != nil {
		return nil, err
	}
	b.Setup = setup
	leaves, err := b.leaves()
	if err != nil {
		return nil, err
	}
	pages := make([]Page, len(leaves))
	for i, l := range leaves {
		pages[i] = l.finished(setup, i+1, len(leaves))
	}
	return pages, nil
}

// leaves are all pages of the booklet; the contents are laid out once to count
// their pages and again with the numbers.
func (b *Book) leaves() ([]leaf, error) {
	front := b.front()
	sheets, err := layOut(append(front, b.Sheets...), b.Setup)
	if err != nil {
		return nil, err
	}
	on := make([][]int, len(b.Sheets))
	first := len(b.contents(on)) + 1
	for i := range sheets {
		l := &sheets[i]
		for _, s := range l.holds {
			if n := s - len(front); n >= 0 {
				on[n] = append(on[n], first+i)
			}
		}
		var starts []Start
		for _, s := range l.starts {
			if s.Sheet -= len(front); s.Sheet >= 0 {
				starts = append(starts, s)
			}
		}
		l.starts = starts
	}
	return append(b.contents(on), sheets...), nil
}

// binder adds leaves to a document.
type binder struct {
	doc   *pdf.Document
	book  *Book
	links []pdf.Link      // of each sheet
	named map[string]bool // sections and kinds that have a bookmark
}

func (b *binder) add(l leaf, number, of int) {
	p := l.finished(b.book.Setup, number, of)
	b.doc.Page(p.Width, p.Height, p.Scale)
	b.doc.Draw(&p.Drawing)
	for _, k := range l.links {
		b.doc.LinkArea(k.from, k.to, b.links[k.sheet])
	}
	b.bookmark(l.section, 0, l.top())
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
