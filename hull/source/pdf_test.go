package source

import (
	"context"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/drawing"
)

// pages writes a PDF, each page drawn by a function.
func pages(t *testing.T, draw ...func(f *fpdf.Fpdf)) string {
	t.Helper()
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 100.4, Ht: 80.3}})
	f.SetFont("Helvetica", "", 12)
	for _, d := range draw {
		f.AddPage()
		d(f)
	}
	path := filepath.Join(t.TempDir(), "lines.pdf")
	require.NoError(t, f.OutputFileAndClose(path))
	return path
}

func needVectors(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath(vectorTool); err != nil {
		t.Skipf("there is no %s", vectorTool)
	}
}

func ruled(f *fpdf.Fpdf) {
	f.Text(10, 10, "Sheer")
	f.Line(10, 20, 90, 20)
	f.Line(10, 30, 30, 60)
}

// The lines of a page have the size that they have on paper, and letters are not
// lines.
func TestLinesOfAPage(t *testing.T) {
	needVectors(t)
	c := Check(pages(t, ruled), drawing.Options{})
	assert.Equal(t, PDF, c.Kind)
	require.Len(t, c.Drawing.Outlines, 2)
	for i, want := range [][2]float64{{80, 0}, {20, 30}} {
		p := c.Drawing.Outlines[i].Points
		d := p[len(p)-1].Sub(p[0])
		assert.InDelta(t, want[0], d[0], 0.005, "hundredths of a point are written")
		assert.InDelta(t, want[1], max(d[1], -d[1]), 0.005)
	}
	assert.Contains(t, c.Faults[0].Error(), "no outline of the drawing shows which frame it is: it has lines without a name; open it in the window, or put a table with the header outline,frame,x_mm and rows such as line-1,A,120 beside it, under its name with the ending .csv.")
}

func TestPagesRefused(t *testing.T) {
	needVectors(t)
	scan := filepath.Join(t.TempDir(), "scan.png")
	file, err := os.Create(scan)
	require.NoError(t, err)
	require.NoError(t, png.Encode(file, image.NewGray(image.Rect(0, 0, 40, 30))))
	require.NoError(t, file.Close())
	locked := func(f *fpdf.Fpdf) { f.SetProtection(0, "keel", "rabbet"); ruled(f) }
	path := pages(t, ruled, func(f *fpdf.Fpdf) { f.Image(scan, 0, 0, 100, 80, false, "", 0, "") }, func(f *fpdf.Fpdf) { f.Text(10, 10, "Notes") })
	for page, says := range map[int]string{
		2: "lines.pdf: page 2 is a picture without lines, perhaps a scan; trace the frames on it in the window: Trace a picture, in the Plan menu.",
		3: "lines.pdf: page 3 has no lines in it; choose another page with --page N.",
		4: "lines.pdf: there is no page 4; choose another page with --page N.",
	} {
		assert.Equal(t, []string{says}, said(Check(path, drawing.Options{Page: page})))
	}
	assert.Equal(t, []string{"lines.pdf: the PDF is locked by a password; save it without one, or save the page as SVG."}, said(Check(pages(t, locked), drawing.Options{})))
	torn := filepath.Join(t.TempDir(), "torn.pdf")
	require.NoError(t, os.WriteFile(torn, []byte("%PDF-1.4\nnothing"), 0o600))
	assert.Equal(t, []string{"torn.pdf: page 1 cannot be read; check the file, or save the page as SVG."}, said(Check(torn, drawing.Options{})))
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	c := CheckContext(ctx, path, drawing.Options{})
	require.Len(t, c.Faults, 1)
	assert.ErrorIs(t, c.Faults[0], context.Canceled)
}

// If poppler is missing, that is reported; its newer versions give the size of a page
// without a unit.
func TestPagesWithoutTheTool(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("there is no sh")
	}
	path := pages(t, ruled)
	dir := t.TempDir()
	t.Setenv("PATH", dir)
	assert.Equal(t, []string{"lines.pdf: a PDF needs the program pdftocairo, which is not installed; install poppler's utilities, or save the page as SVG."}, said(Check(path, drawing.Options{})))
	text, lines, pictures := plainDrawing([]byte(`<?xml version="1.0"?>
<svg xmlns="http://www.w3.org/2000/svg" width="72" height="36" viewBox="0 0 72 36"><defs><path d="M0 0L1 1"/></defs><path d="M0 0L72 0"/><use xlink:href="#glyph-0-1" x="3" y="4"/><image id="i"/></svg>`))
	assert.Equal(t, `<?xml version="1.0"?>
<svg xmlns="http://www.w3.org/2000/svg" width="72pt" height="36pt" viewBox="0 0 72 36"><defs><path
d="M0 0L1 1"/></defs><path id="line-1" d="M0 0L72 0"/><image id="i"/></svg>`, string(text))
	assert.Equal(t, 1, lines)
	assert.True(t, pictures)
}
