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

// Open reads the plan at a path, or makes a new plan from the hull source there, as the
// file's contents show; kind says which it was. A new plan takes its title from the
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

// TakeOff reads the hull source at a path and returns a new plan made from it,
// titled after the file's name, with notes on what the builder should know about the
// source, a sentence each. The options override what a drawing says itself. The
// error is the first Fault of the file; a hull cannot be taken off a plan.
func TakeOff(path string, how drawing.Options) (p *hull.Plan, notes []string, err error) {
	c := check(context.Background(), path, false, how)
	if len(c.Faults) > 0 {
		return nil, nil, c.Faults[0]
	}
	return c.newPlan(path), c.Notes, nil
}

// newPlan is a plan of the hull that was read, named after the file without its
// extension.
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
	Girths   Kind = "girths"  // only measured girths
	List     Kind = "list"    // a list of points, with or without a header
	SVG      Kind = "svg"     // a drawing of the frames
	DXF      Kind = "dxf"     // likewise
	PDF      Kind = "pdf"     // likewise, a page of it

	tracingKind  Kind = "tracing"  // over a picture; another package reads it
	workbookKind Kind = "workbook" // replaced by the kind of the table in it
)

// TracingFormat begins the file of a tracing, which is not a plan yet.
const TracingFormat = "strakewright tracing"

// Checked is what Check found in a file.
type Checked struct {
	Kind    Kind             // empty where nothing could be read
	Plan    *hull.Plan       // of a plan file, as far as it could be read; otherwise nil
	Hull    *hull.Hull       // of the plan or source, as far as it could be read; empty or nil if not at all
	Drawing *drawing.Drawing // what was found in a drawing; otherwise nil
	Sheets  []string         // those of a workbook that hold tables, starting with the one that is read
	Notes   []string         // what the builder should know about it, a sentence each
	Faults  []fault.Fault
}

// Check reads a plan file or a hull source, as the file's contents show, and returns
// everything that is wrong with it. The options override what a drawing says itself.
// Where its frames stand is read from the table beside it, which has its name with the
// ending .csv, if there is one with the header frame,x_mm (or _cm, _in), or
// outline,frame,x_mm, which also says what the lines are.
//
// Of a workbook it reads the table on the first sheet that has one, or on the sheet
// named in how; of a PDF the lines on a page.
func Check(path string, how drawing.Options) Checked {
	return CheckContext(context.Background(), path, how)
}

// CheckContext is Check; if the context ends first, the only fault holds its error.
func CheckContext(ctx context.Context, path string, how drawing.Options) Checked {
	return check(ctx, path, true, how)
}

// check reads a file; it reads plans only if plans is set.
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

// refuse refuses options that do not apply to the kind of file.
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

// pointsColumn matches in the header of a table of points, whatever is wrong
// with the rest of it.
var pointsColumn = regexp.MustCompile(`[xyz]_(mm|cm|in)`)

// kindOf says what a file holds by how it begins, without reading on; a table
// of points if nothing else is recognised.
func kindOf(b *bufio.Reader) Kind {
	head, _ := b.Peek(b.Size()) // a shorter file is no error
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
