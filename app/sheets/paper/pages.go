package paper

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/pdf"
)

// Page is a page ready to be printed.
type Page struct {
	Width, Height float64      // of paper, mm
	Scale         pdf.Scale    // takes the printer's error out
	Drawing       draw.Drawing // true mm from the page's upper left corner
	Number        int          // from 1
	Section       string       // of its sheets
	Title         string       // as in its heading
	Starts        []Start      // the sheets that begin on it
}

// Start is where a sheet begins.
type Start struct {
	Sheet int     // its number among the sheets given, from 0
	Y     float64 // on the page, true mm
}

// Pages lays sheets out on pages, in their order. The error says what is wrong
// with a setting or a sheet.
func Pages(sheets []draw.Sheet, setup Setup) ([]Page, error) {
	setup, err := setup.filled()
	if err != nil {
		return nil, err
	}
	leaves, err := layOut(sheets, setup)
	if err != nil {
		return nil, err
	}
	pages := make([]Page, len(leaves))
	for i, l := range leaves {
		pages[i] = l.finished(setup, i+1, len(leaves))
	}
	return pages, nil
}

// leaf is a page before it is numbered.
type leaf struct {
	page
	drawing        func(*draw.Drawing) // draws what stands in its window
	section, title string
	piece          string
	starts         []Start
	links          []link // of a page of contents
}

// finished draws a leaf with its heading and foot.
func (l leaf) finished(setup Setup, number, of int) Page {
	p := Page{Width: l.width, Height: l.height, Scale: l.scale(), Number: number, Section: l.section, Title: l.title, Starts: l.starts}
	l.drawing(&p.Drawing)
	heading(&p.Drawing, l.page, l.title, setup.Ship, l.piece, fmt.Sprintf("page %d of %d", number, of))
	foot(&p.Drawing, draw.Pt(l.left(), l.bottom()-footHeight), l.right()-l.left())
	return p
}

func layOut(sheets []draw.Sheet, setup Setup) ([]leaf, error) {
	for _, s := range sheets {
		if !within(s.Width, 1e-3, 1e5) || !within(s.Height, 1e-3, 1e5) {
			return nil, fmt.Errorf("sheet %q is %v by %v mm, too large for any paper", s.Name, s.Width, s.Height)
		}
	}
	var out []leaf
	for i := 0; i < len(sheets); {
		if shared, n, ok := share(sheets, i, setup); ok {
			out = append(out, shared...)
			i += n
			continue
		}
		out = append(out, alone(&sheets[i], i, setup)...)
		i++
	}
	return out, nil
}

// longestRoll is how long a page of a roll may become, true mm; what shares a
// page of it stays within a length that is easily handled.
const (
	longestRoll = 4500
	handyRoll   = 1000
)

// alone lays one sheet out by itself, upright or lying, whichever takes fewer
// pages; else whichever is the sheet's own way.
func alone(s *draw.Sheet, index int, setup Setup) []leaf {
	own := s.Width > s.Height
	best, lying := setup.gridFor(s, own), own
	other := setup.gridFor(s, !own)
	// On a roll, a sheet that lies across it wastes the least.
	across := setup.isRoll() && own && other.pieces() == best.pieces()
	if other.pieces() < best.pieces() || across {
		best, lying = other, !own
	}
	var out []leaf
	for row := range best.rows {
		for column := range best.columns {
			out = append(out, pieceLeaf(s, best, column, row, lying, setup))
		}
	}
	out[0].starts = []Start{{Sheet: index, Y: out[0].top()}}
	return out
}

func (s Setup) gridFor(sheet *draw.Sheet, lying bool) grid {
	w, h := s.page(lying, longestRoll).window()
	return gridOf(sheet, w, h, s.Overlap)
}

func pieceLeaf(s *draw.Sheet, g grid, column, row int, lying bool, setup Setup) leaf {
	p := setup.page(lying, longestRoll)
	if setup.isRoll() {
		w := math.Min(g.w, s.Width+g.gx-g.columns[column])
		h := math.Min(g.h, s.Height+g.gy-g.rows[row])
		p = p.trimmed(lying, w, h)
	}
	return leaf{page: p, section: s.Section, title: s.Title, piece: g.placeName(column, row), drawing: func(d *draw.Drawing) {
		if g.pieces() == 1 {
			d.Add(&s.Drawing, draw.Pt(p.left(), p.windowTop()))
			return
		}
		part := g.piece(s, column, row)
		d.Add(&part, draw.Pt(p.left()-g.columns[column], p.windowTop()-g.rows[row]))
		keyMap(d, p, g, column, row)
	}}
}
