package app

import (
	"archive/zip"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
)

// gig is a hull of known shape: each frame a quarter of an ellipse, from the sheer at
// its half-breadth down to the keel on the centre line; mm.
var gig = []struct {
	name           string
	x, broad, deep float64
}{{"A", 0, 22, 48}, {"B", 36, 34, 45}, {"C", 95, 41, 43}, {"D", 150, 37, 44}, {"E", 195, 27, 46}}

// gigPoint is a point of a frame; part is 0 at the sheer and 1 at the keel.
func gigPoint(frame int, part float64) (y, z float64) {
	sin, cos := math.Sincos(math.Pi / 2 * part)
	if part == 1 {
		cos = 0
	}
	return gig[frame].broad * cos, gig[frame].deep * (1 - sin)
}

// gigGirth is the length of a frame by Simpson's rule, to 1e-9 of it.
func gigGirth(frame int) float64 {
	const n = 400
	sum := 0.0
	for i := range n + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / n)
		weight := float64(2 + 2*(i%2))
		if i == 0 || i == n {
			weight = 1
		}
		sum += weight * math.Hypot(gig[frame].broad*sin, gig[frame].deep*cos)
	}
	return sum * math.Pi / 2 / n / 3
}

const gigPoints = 17 // of each frame

// gigRows passes each point of the hull to a function.
func gigRows(f func(frame int, x, y, z float64)) {
	for i := range gig {
		for k := range gigPoints {
			y, z := gigPoint(i, float64(k)/(gigPoints-1))
			f(i, gig[i].x, y, z)
		}
	}
}

// gigText writes a line for each point below a head.
func gigText(head, format string, args func(name string, x, y, z float64) []any) string {
	var b strings.Builder
	b.WriteString(head)
	gigRows(func(i int, x, y, z float64) { fmt.Fprintf(&b, format, args(gig[i].name, x, y, z)...) })
	return b.String()
}

func gigBlocks() string {
	var b strings.Builder
	last := -1
	gigRows(func(i int, x, y, z float64) {
		if i != last {
			fmt.Fprintf(&b, "\n// Station %s (x = %g)\n", gig[i].name, x)
		}
		last = i
		fmt.Fprintf(&b, "%.9f\t%.9f\n", y, z)
	})
	return b.String()
}

// gigByWaterline lists the points row by row across the frames.
func gigByWaterline() string {
	var b strings.Builder
	for k := range gigPoints {
		for i := range gig {
			y, z := gigPoint(i, float64(k)/(gigPoints-1))
			fmt.Fprintf(&b, "%g, %.9f, %.9f # of %s\n", gig[i].x, y, z, gig[i].name)
		}
	}
	return b.String()
}

// gigXLSX is a workbook whose first sheet holds no hull; the table is in the middle of
// the second, each frame's name in a merged cell beside its points.
func gigXLSX(t *testing.T, path string) {
	f := excelize.NewFile()
	require.NoError(t, f.SetSheetName("Sheet1", "Costs"))
	require.NoError(t, f.SetSheetRow("Costs", "A1", &[]any{"lime", 3, 4.5}))
	_, err := f.NewSheet("Lines")
	require.NoError(t, err)
	rounded, err := f.NewStyle(&excelize.Style{NumFmt: 1}) // shows whole numbers
	require.NoError(t, err)
	require.NoError(t, f.SetCellStr("Lines", "A1", "The gig, of 2026"))
	require.NoError(t, f.SetSheetRow("Lines", "C4", &[]any{"Frame", "x_mm", "y_mm", "z_mm"}))
	row, last := 4, -1
	gigRows(func(i int, x, y, z float64) {
		if row++; i != last {
			row++ // a blank one
			require.NoError(t, f.SetCellStr("Lines", fmt.Sprintf("C%d", row), gig[i].name))
			require.NoError(t, f.MergeCell("Lines", fmt.Sprintf("C%d", row), fmt.Sprintf("C%d", row+gigPoints-1)))
			require.NoError(t, f.SetCellStr("Lines", fmt.Sprintf("H%d", row), "measured twice"))
		}
		last = i
		decimal := strings.Replace(fmt.Sprintf("%.9f", z), ".", ",", 1) // as text
		require.NoError(t, f.SetSheetRow("Lines", fmt.Sprintf("D%d", row), &[]any{x, y, decimal}))
	})
	require.NoError(t, f.SetCellStyle("Lines", "D5", fmt.Sprintf("E%d", row), rounded))
	require.NoError(t, f.SetCellStr("Lines", fmt.Sprintf("C%d", row+2), "end of the table"))
	require.NoError(t, f.SaveAs(path))
}

// gigODS is a workbook that holds a list of points without names.
func gigODS(t *testing.T, path string) {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="urn:o" xmlns:table="urn:t" xmlns:text="urn:x"><office:body><office:spreadsheet><table:table table:name="Notes"><table:table-row><table:table-cell office:value-type="string"><text:p>No table</text:p></table:table-cell></table:table-row></table:table><table:table table:name="Points">`)
	b.WriteString(`<table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="1024"/></table:table-row><table:table-row><table:table-cell/>`)
	cell := func(text string) {
		fmt.Fprintf(&b, `<table:table-cell office:value-type="string"><office:annotation><text:p>a note</text:p></office:annotation><text:p>%s</text:p></table:table-cell>`, text)
	}
	cell("z (cm)")
	cell("x (mm)")
	cell("half-breadth (mm)")
	b.WriteString(`</table:table-row>`)
	number := func(v float64) {
		fmt.Fprintf(&b, `<table:table-cell office:value-type="float" office:value="%.12g"><text:p>%s</text:p></table:table-cell>`, v, strings.Replace(fmt.Sprintf("%.1f", v), ".", ",", 1))
	}
	gigRows(func(_ int, x, y, z float64) {
		b.WriteString(`<table:table-row><table:table-cell/>`)
		number(z / 10)
		number(x)
		number(y)
		b.WriteString(`</table:table-row>`)
	})
	b.WriteString(`<table:table-row table:number-rows-repeated="1048000"><table:table-cell table:number-columns-repeated="1024"/></table:table-row></table:table></office:spreadsheet></office:body></office:document-content>`)
	file, err := os.Create(path)
	require.NoError(t, err)
	z := zip.NewWriter(file)
	w, err := z.Create("content.xml")
	require.NoError(t, err)
	_, err = w.Write([]byte(b.String()))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	require.NoError(t, file.Close())
}

// gigPDF is a body plan on the second page of a PDF, each frame made of four cubic
// curves (which keep within 1e-6 of an ellipse), with the table beside it that says
// which is which.
func gigPDF(t *testing.T, path string) {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 101.3, Ht: 72.7}})
	f.AddPage()
	f.SetFont("Helvetica", "", 12)
	f.Text(10, 20, "The lines stand on the next page.")
	f.AddPage()
	f.Text(5, 8, "The gig")
	table := "outline,frame,x_mm\n"
	for i := range gig {
		const pieces = 4
		at := func(part float64) (x, y, dx, dy float64) {
			sin, cos := math.Sincos(math.Pi / 2 * part)
			arm := 4. / 3 * math.Tan(math.Pi/8/pieces)
			return 50 + gig[i].broad*cos, 60 - gig[i].deep*(1-sin), -gig[i].broad * sin * arm, gig[i].deep * cos * arm
		}
		x, y, dx, dy := at(0)
		f.MoveTo(x, y)
		for k := range pieces {
			ex, ey, edx, edy := at(float64(k+1) / pieces)
			f.CurveBezierCubicTo(x+dx, y+dy, ex-edx, ey-edy, ex, ey)
			x, y, dx, dy = ex, ey, edx, edy
		}
		f.DrawPath("D")
		table += fmt.Sprintf("line-%d,%s,%g\n", i+1, gig[i].name, gig[i].x)
	}
	f.Line(50, 5, 50, 65)
	table += fmt.Sprintf("line-%d,centre,\n", len(gig)+1)
	require.NoError(t, f.OutputFileAndClose(path))
	require.NoError(t, os.WriteFile(strings.TrimSuffix(path, ".pdf")+".csv", []byte(table), 0o600))
}

// The same exact hull is read as it is from every form. 17 points on a frame give its
// girth to 3e-5; the library that writes the PDF rounds the ends of curves to
// hundredths of a point, which is 6e-5 of the girths.
func TestOneHullInEveryGuise(t *testing.T) {
	dir := t.TempDir()
	xyz := func(name string, x, y, z float64) []any { return []any{x, y, z} }
	texts := map[string]string{
		"points.csv":   gigText("frame,x_mm,y_mm,z_mm\n", "%s,%g,%.9f,%.9f\n", func(n string, x, y, z float64) []any { return []any{n, x, y, z} }),
		"plain.xyz":    gigText("", "%g %.9f %.9f\n", xyz),
		"columns.txt":  gigText("# the gig\nz_in y_in x_in\n", "%.12f %.12f %.12f\n", func(_ string, x, y, z float64) []any { return []any{z / 25.4, y / 25.4, x / 25.4} }),
		"other side":   gigText("unit: cm\nx;y;z\n", "%g;-%.9f;%.9f\n", func(_ string, x, y, z float64) []any { return []any{x / 10, y / 10, z / 10} }),
		"commas.txt":   strings.ReplaceAll(gigText("", "%.9f %.9f %.9f\n", xyz), ".", ","),
		"sections.csv": gigText("Section,z,y,x\n", "%s,%.9f,%.9f,%g\n", func(n string, x, y, z float64) []any { return []any{n, z, y, x} }),
		"blocks.txt":   gigBlocks(),
		"waterlines":   gigByWaterline(),
	}
	how := map[string]drawing.Options{}
	for name, text := range texts {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
		how[name] = drawing.Options{}
	}
	gigXLSX(t, filepath.Join(dir, "gig.xlsx"))
	gigODS(t, filepath.Join(dir, "gig.ods"))
	how["gig.xlsx"], how["gig.ods"] = drawing.Options{}, drawing.Options{}
	if _, err := exec.LookPath("pdftocairo"); err == nil {
		gigPDF(t, filepath.Join(dir, "body.pdf"))
		how["body.pdf"] = drawing.Options{Page: 2}
	} else {
		t.Log("the PDF is left out: there is no pdftocairo")
	}
	for name, how := range how {
		c := source.Check(filepath.Join(dir, name), how)
		if !assert.Empty(t, c.Faults, name) || !assert.Len(t, c.Hull.Frames, len(gig), name) {
			continue
		}
		k, err := loft.Plank(hull.NewPlan("", *c.Hull))
		require.NoError(t, err, name)
		for i := range gig {
			within := 3e-5
			if c.Kind == source.PDF {
				within = 6e-5
			}
			assert.InDelta(t, gig[i].x, c.Hull.Frames[i].X(), 1e-6, name)
			assert.InEpsilon(t, gigGirth(i), k.Layers[0].Surface.Girth(i), within, "%s: frame %s", name, gig[i].name)
		}
	}
}
