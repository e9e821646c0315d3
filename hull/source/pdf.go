package source

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/tool"
)

// vectorTool is poppler's program that turns a page of a PDF into a drawing
// (SVG).
const vectorTool = "pdftocairo"

// largestPage is the most bytes that the drawing of a page may have; package drawing
// reads no more.
const largestPage = 32 << 20

// pagePatience is the longest that a page may take, however busy the computer is; the
// limit on processor time usually stops it sooner.
const pagePatience = 10 * time.Minute

// isPDF recognises a PDF by how it begins.
func isPDF(head []byte) bool { return bytes.HasPrefix(head, []byte("%PDF-")) }

// pdf reads the lines on a page of a PDF as a drawing, at the size of the paper. They
// are named line-1, line-2 and so on in the order in which they are drawn, since a
// PDF keeps no names; the table beside it can use these names to say what they are.
func (c *Checked) pdf(ctx context.Context, path string, how drawing.Options) error {
	page := max(how.Page, 1)
	svg, err := pageDrawing(ctx, path, page)
	if err != nil {
		return err
	}
	text, lines, pictures := plainDrawing(svg)
	if lines == 0 {
		f := fault.Fault{File: path, What: tongue.T("page %d has no lines in it", page), Mend: tongue.T("choose another page with --page N")}
		if pictures {
			f.What, f.Mend = tongue.T("page %d is a picture without lines, perhaps a scan", page), tongue.T("trace the frames on it in the window: Trace a picture, in the Plan menu")
		}
		return f
	}
	d, found := drawing.Check(bytes.NewReader(text), path, how)
	c.Kind, c.Hull, c.Drawing, c.Notes, c.Faults = PDF, &d.Hull, d, d.Notes, found
	for i := range c.Faults {
		if c.Faults[i].File == path {
			c.Faults[i].Line = 0 // the line of a text that nobody sees
			if strings.HasPrefix(c.Faults[i].What, "no outline of the drawing shows") {
				c.Faults[i].Mend = tongue.T("open it in the window, or put a table with the header outline,frame,x_mm and rows such as line-1,A,120 beside it, under its name with the ending .csv")
			}
		}
	}
	return nil
}

// pageDrawing turns a page into a drawing with poppler.
func pageDrawing(ctx context.Context, path string, page int) ([]byte, error) {
	wrong := func(mend, what string, args ...any) error {
		return fault.Fault{File: path, What: tongue.T(what, args...), Mend: tongue.T(mend)}
	}
	program, err := exec.LookPath(vectorTool)
	if err != nil {
		return nil, wrong("install poppler's utilities, or save the page as SVG", "a PDF needs the program %s, which is not installed", vectorTool)
	}
	whole, err := filepath.Abs(path) // so that no name is taken for an option
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	bounded, cancel := context.WithTimeout(ctx, pagePatience)
	defer cancel()
	n := strconv.Itoa(page)
	out, told := tool.Output{Most: largestPage}, tool.Output{Most: 1 << 20}
	// Otherwise the page is made slightly smaller, because its size is rounded up to
	// whole points.
	run := tool.Bounded(bounded, program, "-svg", "-noshrink", "-nocenter", "-f", n, "-l", n, whole, "-")
	run.Stdout, run.Stderr = &out, &told
	err = run.Run()
	const less = "save the page as SVG, with the lines of the frames alone"
	switch {
	case ctx.Err() != nil:
		return nil, tongue.Errorf("%s: reading page %s was stopped: %w", path, n, ctx.Err())
	case err != nil && (bounded.Err() != nil || tool.OutOfTime(err)):
		return nil, wrong(less, "page %s could not be read in %d seconds", n, tool.Seconds)
	case errors.Is(err, tool.ErrTooMuch):
		return nil, wrong(less, "page %s has more than %d MB, the most that the program reads", n, largestPage>>20)
	case err != nil && tool.OutOfMemory(told.String()):
		return nil, wrong(less, "page %s needs more than the limit of %d GiB of memory", n, tool.Memory>>30)
	case strings.Contains(told.String(), "Incorrect password"):
		return nil, wrong("save it without one, or save the page as SVG", "the PDF is locked by a password")
	case strings.Contains(told.String(), "Wrong page range"):
		return nil, wrong("choose another page with --page N", "there is no page %s", n)
	case err != nil || out.Len() == 0:
		return nil, wrong("check the file, or save the page as SVG", "page %s cannot be read", n)
	}
	return out.Bytes(), nil
}

var (
	pageGlyphs  = regexp.MustCompile(`(?s)<use [^>]*href="#glyph[^>]*/>`)
	pageDefs    = regexp.MustCompile(`(?s)<defs>.*?</defs>`)
	pageLine    = regexp.MustCompile(`<path `)
	pagePicture = regexp.MustCompile(`<image[ >]`)
	pageSize    = regexp.MustCompile(`^((?s:.*?)<svg [^>]*?width="[\d.]+)("[^>]*? height="[\d.]+)("[^>]*>)`)
)

// plainDrawing is the drawing of a page without its letters, with its lines numbered and
// its size in points: newer versions of the library that writes it omit the unit. lines
// is how many lines there are, and pictures whether there are any pictures.
func plainDrawing(svg []byte) (text []byte, lines int, pictures bool) {
	pictures = pagePicture.Match(svg)
	svg = pageSize.ReplaceAll(svg, []byte("${1}pt${2}pt${3}"))
	svg = pageGlyphs.ReplaceAll(svg, nil)
	drawn := pageDefs.ReplaceAllFunc(svg, func(defs []byte) []byte {
		return bytes.ReplaceAll(defs, []byte("<path "), []byte("<path\n"))
	})
	drawn = pageLine.ReplaceAllFunc(drawn, func([]byte) []byte {
		lines++
		return fmt.Appendf(nil, `<path id="line-%d" `, lines)
	})
	return drawn, lines, pictures
}
