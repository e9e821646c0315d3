package export

import (
	"context"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/dxf"
	"github.com/strakewright/strakewright/app/draw/pdf"
	"github.com/strakewright/strakewright/app/sheets"
	"github.com/strakewright/strakewright/app/sheets/paper"
	"github.com/strakewright/strakewright/app/tables"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/visible"
	"github.com/strakewright/strakewright/loft"
)

// Set is everything that can be written for a plan with some settings. It is
// never changed and may be used from any goroutine.
type Set struct {
	ship     string
	setup    paper.Setup
	summary  []string
	sections []string     // of all sheets
	sheets   []draw.Sheet // those of the chosen sections, each with a different name
	booklet  *paper.Bound
	lacking  string // letters that no font has
	tables   []tables.Table
}

// Progress says how far long work has come.
type Progress struct {
	Done, All int    // steps
	What      string // what was done last
}

// Written says what was written, by names below the folder, with slashes.
type Written struct {
	Files   []string
	Removed []string // files of an earlier set that are not in this one
	Left    []string // what is in no set, or was changed by somebody; folders end with a slash
}

// Make draws the sheets and tables of a planking and lays out the pages. It
// stops with the context's error when the context ends. Any other error is one
// sentence on a setting that does not suit the plan.
func Make(ctx context.Context, k *loft.Planking, s Settings) (*Set, error) {
	sweepPrints()
	if err := s.Check(k); err != nil {
		return nil, err
	}
	out := &Set{ship: k.Plan.Title, setup: s.forPaper(k.Plan)}
	room, err := out.setup.Room()
	if err != nil {
		return nil, err
	}
	choice := tables.Settings{Overhang: s.Overhang, Layer: s.Layer}
	cuts, err := tables.Cut(ctx, k, choice)
	if err != nil {
		return nil, err
	}
	all, err := sheets.All(ctx, k, s.forSheets(k, room, cuts), nil)
	if err != nil {
		return nil, err
	}
	for _, sheet := range all {
		if s.Layer != 0 && !ofLayer(sheet, s.Layer, len(k.Layers)) || k.Plan.Hull.Shapeless() && needsShape(sheet.Section) {
			continue
		}
		if !slices.Contains(out.sections, sheet.Section) {
			out.sections = append(out.sections, sheet.Section)
		}
		if s.Sections == nil || slices.Contains(s.Sections, sheet.Section) {
			out.sheets = append(out.sheets, sheet)
		}
	}
	nameApart(out.sheets)
	out.tables = tables.All(k, choice, cuts)
	marched, err := marchedOut(ctx, k)
	if err != nil {
		return nil, err
	}
	out.summary = summary(k, s, cuts, marched)
	out.lacking = draw.Lacking(out.texts()...)
	if out.lacking != "" {
		out.summary = append([]string{answer.LackingText(out.lacking), ""}, out.summary...)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	out.booklet, err = out.book().Bind()
	return out, err
}

// needsShape tells a section that says nothing true of a hull of which only the girths
// are known.
func needsShape(section string) bool {
	return slices.Contains([]string{tongue.T("Numbering map"), tongue.T("Flat strakes"), tongue.T("Bending"), tongue.T("Filler blocks")}, section)
}

// Sections are the parts of the booklet, including those that were not chosen.
func (s *Set) Sections() []string { return s.sections }

// Pages is how many pages the booklet has.
func (s *Set) Pages() int { return len(s.booklet.Pages) }

// Revision tells the sheets of this plan from those of any other, on every one of them.
func (s *Set) Revision() string { return s.setup.Stamp.Revision }

// Lacking are the letters of the sheets that no font of this computer has: they are
// printed as open squares.
func (s *Set) Lacking() string { return s.lacking }

// texts are all that the sheets say.
func (s *Set) texts() []string {
	out := append([]string{s.ship}, s.summary...)
	said := func(d *draw.Drawing) {
		for _, it := range d.Items {
			if l, ok := it.(draw.Label); ok {
				out = append(out, l.Text)
			}
		}
	}
	for i := range s.sheets {
		said(&s.sheets[i].Drawing)
		for p := range s.sheets[i].Parts {
			said(&s.sheets[i].Parts[p].Drawing)
		}
	}
	return out
}

// Use is the mean share of the room on these pages that is covered; see paper.Pages.
func (s *Set) Use() float64 { return paper.MeanUse(s.booklet.Pages) }

// Page is a page of the booklet, from 0: its drawing in mm as printed by a true
// printer, and its size. It is not to be changed.
func (s *Set) Page(i int) *paper.Page { return &s.booklet.Pages[i] }

// Write writes everything into a folder, all or nothing: if it fails or the
// context ends (with the context's error), everything stays as it was. The
// folder is made if there is none. Existing files are overwritten only on
// request; otherwise the error wraps fs.ErrExist and names the first. Files
// that an earlier set wrote there and this one lacks are removed; files that
// have been changed since stay, under another name where theirs is needed. If
// the program is killed, the next set for that folder first restores what was
// there. tell, unless nil, is called with the progress.
func (s *Set) Write(ctx context.Context, dir string, replace bool, tell func(Progress)) (*Written, error) {
	if tell == nil {
		tell = func(Progress) {}
	}
	// The booklet takes most of the time: its pages count as steps.
	others := s.files()
	p := Progress{All: s.Pages() + len(others)}
	booklet := file{"booklet.pdf", func(w io.Writer) error {
		return s.Booklet(ctx, w, func(done, of int) {
			p.Done, p.What = done, tongue.T("booklet, page %d of %d", done, of)
			tell(p)
		})
	}}
	files := append([]file{booklet}, others...)
	c, err := writeAll(ctx, dir, files, replace, func(f file) {
		if f.name != booklet.name {
			p.Done, p.What = p.Done+1, f.name
			tell(p)
		}
	})
	if err != nil {
		return nil, err
	}
	return &Written{append(namesOf(files), listName), c.removed, c.left}, nil
}

// Booklet writes only the booklet, as PDF, and reports how many of its pages are
// done.
func (s *Set) Booklet(ctx context.Context, w io.Writer, progress func(done, of int)) error {
	return s.booklet.Write(ctx, w, progress)
}

func (s *Set) book() paper.Book {
	return paper.Book{Title: tongue.T("Planking sheets"), Setup: s.setup, Guide: guide(), Summary: s.summary, Sheets: s.sheets}
}

// files are all files but the booklet.
func (s *Set) files() []file {
	var out []file
	for _, section := range s.sections {
		if own := s.sheetsOf(section); len(own) > 0 {
			out = append(out, file{"pdf/" + fileName(section) + ".pdf", func(w io.Writer) error { return s.sectionPDF(w, section, own) }})
		}
	}
	for i := range s.sheets {
		sheet := s.sheets[i]
		out = append(out, file{"svg/" + sheet.Name + ".svg", func(w io.Writer) error { return paper.WriteSVG(w, sheet, s.ship, s.setup.Stamp) }})
	}
	for i := range s.sheets {
		if sheet := s.sheets[i]; sheet.Cut {
			out = append(out, file{"dxf/" + sheet.Name + ".dxf", func(w io.Writer) error {
				stamped := paper.Stamped(sheet, s.ship, s.setup.Stamp)
				return dxf.Write(w, &stamped)
			}})
		}
	}
	for i := range s.tables {
		t := &s.tables[i]
		out = append(out, file{"tables/" + t.Name + ".csv", t.WriteCSV})
	}
	if stated := s.stated(); stated != "" {
		out = append(out, file{"revision.txt", func(w io.Writer) error {
			_, err := io.WriteString(w, stated)
			return err
		}})
	}
	return append(out, file{"tables.xlsx", func(w io.Writer) error {
		return tables.WriteXLSX(w, tables.Of{Title: s.ship, Revision: s.setup.Stamp.Revision, Date: s.setup.Stamp.Date}, s.tables)
	}})
}

// stated says which state of the plan all files of the set are of: a CSV table has no place
// for it that every program would take for something else than a row.
func (s *Set) stated() string {
	stamp := s.setup.Stamp
	if stamp.Revision == "" {
		return ""
	}
	lines := []string{visible.Text(s.ship), tongue.T("revision %s", stamp.Revision)}
	if !stamp.Date.IsZero() {
		lines = append(lines, stamp.Date.Format(time.DateOnly))
	}
	return strings.Join(append(lines, tongue.T("All sheets and tables of this folder are of this revision; sheets.sha256 lists them.")), "\n") + "\n"
}

// sheetsOf are the sheets of a section.
func (s *Set) sheetsOf(section string) []draw.Sheet {
	var out []draw.Sheet
	for _, sheet := range s.sheets {
		if sheet.Section == section {
			out = append(out, sheet)
		}
	}
	return out
}

// sectionPDF writes the sheets of a section on pages of their own.
func (s *Set) sectionPDF(w io.Writer, section string, own []draw.Sheet) error {
	pages, err := paper.Pages(own, s.setup)
	if err != nil {
		return err
	}
	doc := pdf.New(section + ", " + s.ship)
	doc.Date(s.setup.Stamp.Date)
	for i := range pages {
		p := &pages[i]
		doc.Page(p.Width, p.Height, p.Scale)
		doc.Draw(&p.Drawing)
		for _, start := range p.Starts {
			doc.Bookmark(own[start.Sheet].Title, 0, start.Y)
		}
	}
	return doc.Write(w)
}
