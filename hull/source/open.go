package source

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"regexp"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/plaintext"
	"github.com/strakewright/strakewright/hull/workbook"
)

// Open reads the plan at a path, or makes a new plan of the hull source there, whichever
// the file is by what stands in it; kind tells which. A new plan is titled after the
// file's name. The error is the first Fault of the file.
func Open(path string) (p *hull.Plan, kind Kind, err error) {
	c := Check(path, drawing.Options{})
	switch {
	case len(c.Faults) > 0:
		return nil, c.Kind, c.Faults[0]
	case c.Plan != nil:
		return c.Plan, c.Kind, nil
	}
	return c.newPlan(path), c.Kind, nil
}

// TakeOff reads the hull source at a path and gives a new plan of it, titled after
// the file's name, and what the builder should know of the source, a sentence each.
// How a drawing is taken off goes before what it says itself. The error is the first
// Fault of the file; a plan is none to take a hull off.
func TakeOff(path string, how drawing.Options) (p *hull.Plan, notes []string, err error) {
	c := check(context.Background(), path, false, how)
	if len(c.Faults) > 0 {
		return nil, nil, c.Faults[0]
	}
	return c.newPlan(path), c.Notes, nil
}

// newPlan is a plan of the hull that was read, under the file's name without its
// ending.
func (c *Checked) newPlan(path string) *hull.Plan {
	return hull.NewPlan(keep.Title(path), *c.Hull)
}

// Kind is what a file holds.
type Kind string

// The kinds of file.
const (
	PlanFile Kind = "plan"
	Points   Kind = "points"  // a table of points
	Offsets  Kind = "offsets" // a shipyard's table of offsets
	Girths   Kind = "girths"  // measured girths alone
	List     Kind = "list"    // of points, with or without a header
	SVG      Kind = "svg"     // a drawing of the frames
	DXF      Kind = "dxf"     // likewise
	PDF      Kind = "pdf"     // likewise, a page of it

	tracingKind  Kind = "tracing"  // of a picture; it is read elsewhere
	workbookKind Kind = "workbook" // what the table in it is takes its place
)

// TracingFormat stands at the beginning of the file of a tracing, which is no
// plan yet.
const TracingFormat = "strakewright tracing"

// Checked is what Check found in a file.
type Checked struct {
	Kind    Kind             // empty where nothing could be read
	Plan    *hull.Plan       // of a plan file, as far as it could be read; else nil
	Hull    *hull.Hull       // of the plan or source, as far as it could be read; empty or nil if not at all
	Drawing *drawing.Drawing // what was found in a drawing; else nil
	Sheets  []string         // those of a workbook that hold tables, the one that is read first
	Notes   []string         // what the builder should know of it, a sentence each
	Faults  []fault.Fault
}

// Check reads a plan file or a hull source, whichever the file is by what
// stands in it, and gives all that is wrong with it. How a drawing is taken off goes
// before what it says itself. Where its frames stand is read from the table beside
// it, under its name with the ending .csv, if there is one with the header
// frame,x_mm (or _cm, _in), or outline,frame,x_mm, which tells as well what the lines
// are.
//
// Of a workbook the table on its first sheet that has one is read, or that on the sheet
// which how names; of a PDF the lines on a page.
func Check(path string, how drawing.Options) Checked {
	return CheckContext(context.Background(), path, how)
}

// CheckContext is Check; where the context ends first, its error is that of the one
// fault.
func CheckContext(ctx context.Context, path string, how drawing.Options) Checked {
	return check(ctx, path, true, how)
}

// check reads a file; a plan only where these are wanted.
func check(ctx context.Context, path string, plans bool, how drawing.Options) Checked {
	if IsMesh(path) {
		return checkedMesh(path, how)
	}
	c, err := keep.Opened(path, hull.LargestFile, func(r io.Reader) (*Checked, error) {
		b := plaintext.Unpacked(r)
		c := &Checked{Kind: kindOf(b)}
		if err := c.refuse(path, how); err != nil {
			return nil, err
		}
		switch c.Kind {
		case workbookKind:
			err := c.workbook(ctx, b, path, how)
			return c, err
		case PDF:
			err := c.pdf(ctx, path, how)
			if err == nil {
				err = c.with(ctx, path, how)
			}
			return c, err
		}
		switch c.Kind {
		case tracingKind:
			return nil, fault.Fault{File: path, What: tongue.T("this is the tracing of a picture, not a plan or a hull source"), Mend: tongue.T("open it in the window, finish it there, and make the plan")}
		case PlanFile:
			if !plans {
				return nil, fault.Fault{File: path, What: tongue.T("this is a plan, not a hull source"), Mend: tongue.T("open it as a plan")}
			}
			if c.Plan, c.Faults = hull.CheckPlan(b, path); c.Plan != nil {
				c.Hull = &c.Plan.Hull
			}
		case SVG, DXF:
			c.drawing(b, path, how)
			if err := c.with(ctx, path, how); err != nil {
				return nil, err
			}
		default:
			c.table(b, path, false)
		}
		return c, nil
	})
	if err != nil {
		return Checked{Faults: []fault.Fault{fault.Of(path, err)}}
	}
	return *c
}

// refuse refuses what is told of how to read a file that its kind does not have.
func (c *Checked) refuse(path string, how drawing.Options) error {
	sheet, page := how.Sheet != "", how.Page != 0
	how.Sheet, how.Page = "", 0
	switch {
	case how.Stations != nil && c.Kind != SVG && c.Kind != DXF && c.Kind != PDF:
		return fault.Fault{File: path, What: tongue.T("it is neither a drawing nor a mesh, so it takes no stations"), Mend: tongue.T("leave them out")}
	case how != (drawing.Options{}) && c.Kind != SVG && c.Kind != DXF && c.Kind != PDF:
		return fault.Fault{File: path, What: tongue.T("it is not a drawing, so it takes no scale, halves or table beside it"), Mend: tongue.T("leave these options out")}
	case sheet && c.Kind != workbookKind:
		return fault.Fault{File: path, What: tongue.T("it is not a workbook, so it has no sheets"), Mend: tongue.T("leave out the name of the sheet")}
	case page && c.Kind != PDF:
		return fault.Fault{File: path, What: tongue.T("it is not a PDF, so it has no pages"), Mend: tongue.T("leave out the number of the page")}
	}
	return nil
}

// drawing reads a drawing with the table beside it.
func (c *Checked) drawing(r io.Reader, path string, how drawing.Options) {
	d, found := drawing.Check(r, path, how)
	c.Hull, c.Drawing, c.Notes, c.Faults = &d.Hull, d, d.Notes, found
}

// with joins the drawing of the other plan to one of waterlines or buttocks.
func (c *Checked) with(ctx context.Context, path string, how drawing.Options) error {
	if how.With == "" || !c.Drawing.Whole {
		return nil
	}
	shows, said := drawing.ShowsButtocks, drawing.Lines{}
	if how.Lines != nil {
		if said = *how.Lines; said.Shows == drawing.ShowsButtocks {
			shows = drawing.ShowsWaterlines
		}
	}
	second := drawing.Options{}
	if said.Shows != "" {
		second.Lines = &drawing.Lines{Shows: shows}
	}
	other := check(ctx, how.With, false, second)
	switch {
	case other.Drawing == nil && len(other.Faults) > 0:
		return other.Faults[0]
	case other.Drawing == nil:
		return fault.Fault{File: how.With, What: tongue.T("it is not a drawing, so it cannot be the other plan"), Mend: tongue.T("give the drawing of the buttocks, or of the waterlines")}
	case !other.Drawing.Whole:
		return other.Faults[0]
	}
	d, found, err := drawing.Joined(ctx, c.Drawing, other.Drawing, how)
	if err != nil {
		return err
	}
	for i := range found {
		found[i].File, found[i].Line = path, 0
	}
	c.Hull, c.Drawing, c.Notes, c.Faults = &d.Hull, d, d.Notes, found
	return nil
}

// pointsColumn is in the header of a table of points, whatever is wrong with the
// rest of it.
var pointsColumn = regexp.MustCompile(`[xyz]_(mm|cm|in)`)

// kindOf tells, without reading on, what a file holds by what it begins with; a
// table of points where nothing else is known.
func kindOf(b *bufio.Reader) Kind {
	head, _ := b.Peek(b.Size()) // a shorter text than that is no error
	head = bytes.TrimLeft(bytes.TrimPrefix(head, []byte(plaintext.BOM)), " \t\r\n")
	line := head
	if i := bytes.IndexAny(head, "\r\n"); i >= 0 {
		line = head[:i]
	}
	first := line
	if i := bytes.IndexAny(line, ",;\t"); i >= 0 {
		first = line[:i]
	}
	key := strings.ToLower(strings.Trim(string(first), "\" "))
	switch {
	case len(head) > 0 && head[0] == '{' && bytes.Contains(head[:min(len(head), 100)], []byte(`"`+TracingFormat+`"`)):
		return tracingKind
	case len(head) > 0 && head[0] == '{':
		return PlanFile
	case workbook.Is(head):
		return workbookKind
	case isPDF(head):
		return PDF
	case drawing.IsSVG(head):
		return SVG
	case drawing.IsDXF(head):
		return DXF
	case beginsOffsets(key) && !pointsColumn.Match(bytes.ToLower(line)):
		return Offsets
	case key == "frame" && bytes.Contains(bytes.ToLower(line), []byte("girth")):
		return Girths
	case beginsList(head):
		return List
	}
	return Points
}
