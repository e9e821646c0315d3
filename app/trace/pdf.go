package trace

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/tool"
)

// pageSide is the longer side in pixels of the picture made of a PDF page: 430
// dots an inch on A4.
const pageSide = 5000

// pagePatience is the longest that a page may take, however busy the computer
// is; the limit on processor time usually stops it sooner.
const pagePatience = 10 * time.Minute

// countPatience is how long counting the pages may take.
const countPatience = 30 * time.Second

// pageTool is poppler's program that turns pages into pictures.
const pageTool = "pdftoppm"

// readPage turns a page into a picture with poppler.
func readPage(ctx context.Context, path string, page int) (*Picture, error) {
	name := filepath.Base(path)
	program, err := exec.LookPath(pageTool)
	if err != nil {
		return nil, tongue.Errorf("%s: a PDF needs the program %s, which is not installed; install poppler's utilities, or save the page as PNG", name, pageTool)
	}
	whole, err := filepath.Abs(path) // so that no name is taken for an option
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	stopped := ctx
	ctx, cancel := context.WithTimeout(ctx, pagePatience)
	defer cancel()
	n := strconv.Itoa(max(page, 1))
	out, told := tool.Output{Most: largestFile}, tool.Output{Most: largestFile}
	c := tool.Bounded(ctx, program, "-png", "-singlefile", "-f", n, "-l", n, "-scale-to", strconv.Itoa(pageSide), whole)
	c.Stdout, c.Stderr = &out, &told
	err = c.Run()
	switch {
	case stopped.Err() == nil && (ctx.Err() != nil || tool.OutOfTime(err)):
		return nil, tongue.Errorf("%s: page %s could not be drawn in %d seconds; save the page as PNG", name, n, tool.Seconds)
	case errors.Is(err, tool.ErrTooMuch):
		return nil, tongue.Errorf("%s: page %s makes too large a picture; save the page as PNG at a lower resolution", name, n)
	case stopped.Err() != nil:
		return nil, tongue.Errorf("%s: drawing page %s was stopped; nothing was opened", name, n)
	case err != nil && tool.OutOfMemory(told.String()):
		return nil, tongue.Errorf("%s: page %s takes more than the %d GiB of memory that drawing it may take; save the page as PNG at a lower resolution", name, n, tool.Memory>>30)
	case err != nil && strings.Contains(told.String(), "Incorrect password"):
		return nil, tongue.Errorf("%s: the PDF is locked by a password; save it without one, or save the page as PNG", name)
	case err != nil && strings.Contains(told.String(), "Wrong page range"):
		return nil, tongue.Errorf("%s: there is no page %s; choose another page", name, n)
	case err != nil || out.Len() == 0:
		return nil, tongue.Errorf("%s: page %s cannot be drawn; check the file, or save the page as PNG", name, n)
	}
	return readPicture(stopped, &out.Buffer, tongue.T("%s page %s", name, n))
}

// countTool is poppler's program that counts pages.
const countTool = "pdfinfo"

// Pages is how many pages a PDF has, 0 where that is not known, and 1 for one
// that cannot be read: opening it says why.
func Pages(ctx context.Context, path string) int {
	program, err := exec.LookPath(countTool)
	if err != nil {
		return 0
	}
	whole, err := filepath.Abs(path)
	if err != nil {
		return 0
	}
	ctx, cancel := context.WithTimeout(ctx, countPatience)
	defer cancel()
	out, told := tool.Output{Most: largestFile}, tool.Output{Most: largestFile}
	c := tool.Bounded(ctx, program, whole)
	c.Stdout, c.Stderr = &out, &told
	if c.Run() != nil {
		return 1
	}
	for line := range strings.Lines(out.String()) {
		if n, ok := strings.CutPrefix(line, "Pages:"); ok {
			pages, err := strconv.Atoi(strings.TrimSpace(n))
			if err != nil {
				return 0
			}
			return pages
		}
	}
	return 0
}
