// Package proof helps tests to measure a sheet as it is printed or cut: it runs
// the programs that others print and cut with, and finds lines in their pixels.
package proof

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Installed gives the path of an outside program; without it the test is
// skipped, or fails where STRAKEWRIGHT_EXTERNAL asks for all checks.
func Installed(t testing.TB, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		if os.Getenv("STRAKEWRIGHT_EXTERNAL") != "" {
			t.Fatalf("%s is not installed: go run ./cmd/dev test installs it", program)
		}
		t.Skipf("%s is not installed; go run ./cmd/dev test installs it and runs this check", program)
	}
	return path
}

// Run runs an outside program and returns its output; the test fails if the
// program does.
func Run(t testing.TB, program string, args ...string) string {
	t.Helper()
	out, err := exec.Command(Installed(t, program), args...).CombinedOutput()
	require.NoError(t, err, "%s: %s", program, out)
	return string(out)
}

// File writes bytes to a file of the test's own.
func File(t testing.TB, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, data, 0o600))
	return path
}

// Print is a page as pixels.
type Print struct {
	image.Image
	PerMM float64 // pixels per mm
}

// dpi is the resolution of proofs, pixels per inch: 0.042 mm a pixel.
const dpi = 600

// PDF renders a page of a PDF, counted from 1, with poppler.
func PDF(t testing.TB, path string, page int) Print {
	t.Helper()
	n := fmt.Sprint(page)
	out := filepath.Join(t.TempDir(), "page")
	Run(t, "pdftoppm", "-gray", "-r", fmt.Sprint(dpi), "-f", n, "-l", n, "-singlefile", path, out)
	data, err := os.ReadFile(out + ".pgm")
	require.NoError(t, err)
	return Print{Image: greymap(t, data), PerMM: dpi / 25.4}
}

// greymap reads a PGM of a byte a pixel, as pdftoppm writes it. A page has tens of
// millions of pixels: packing them as a PNG and unpacking that takes many times as long as
// drawing them.
func greymap(t testing.TB, data []byte) *image.Gray {
	t.Helper()
	var width, height, white int
	head, pixels := data, data
	for range 3 { // P5, the size and the value of white stand on a line each
		_, rest, found := bytes.Cut(pixels, []byte("\n"))
		require.True(t, found, "the page's picture breaks off")
		pixels = rest
	}
	_, err := fmt.Fscanf(bytes.NewReader(head), "P5\n%d %d\n%d\n", &width, &height, &white)
	require.NoError(t, err)
	require.Equal(t, 255, white)
	require.Len(t, pixels, width*height)
	return &image.Gray{Pix: pixels, Stride: width, Rect: image.Rect(0, 0, width, height)}
}

// SVG renders an SVG with librsvg.
func SVG(t testing.TB, path string) Print {
	t.Helper()
	out := filepath.Join(t.TempDir(), "sheet.png")
	Run(t, "rsvg-convert", "--dpi-x", fmt.Sprint(dpi), "--dpi-y", fmt.Sprint(dpi), "-o", out, path)
	return readPrint(t, out)
}

func readPrint(t testing.TB, path string) Print {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	return Print{Image: img, PerMM: dpi / 25.4}
}

// Across gives the middles in mm of the dark runs met on the way from x0 to x1
// at a height y, all in mm of paper.
func (p Print) Across(y, x0, x1 float64) []float64 {
	row := int(y * p.PerMM)
	return p.middles(x0, x1, func(i int) color.Color { return p.At(i, row) })
}

// Down is Across from y0 down to y1 at a place x.
func (p Print) Down(x, y0, y1 float64) []float64 {
	column := int(x * p.PerMM)
	return p.middles(y0, y1, func(i int) color.Color { return p.At(column, i) })
}

// middles weights each pixel by its darkness, so that an antialiased line is
// found to a fraction of a pixel.
func (p Print) middles(from, to float64, at func(int) color.Color) []float64 {
	var out []float64
	sum, moment := 0.0, 0.0
	for i := int(from * p.PerMM); i <= int(to*p.PerMM); i++ {
		dark := 1 - float64(color.GrayModel.Convert(at(i)).(color.Gray).Y)/255
		if dark > 0.02 {
			sum += dark
			moment += dark * (float64(i) + 0.5)
			continue
		}
		if sum > 0.5 {
			out = append(out, moment/sum/p.PerMM)
		}
		sum, moment = 0, 0
	}
	return out
}
