package trace

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/draw"
	_ "image/jpeg"
	_ "image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
)

// Limits of a picture. They keep memory below 450 MiB while one is read, and
// refuse a hostile one before anything is allocated for it.
const (
	largestFile  = 64 << 20  // bytes
	largestPDF   = 512 << 20 // bytes, of which only one page is drawn
	largestKept  = 340 << 20 // bytes, of the pixels as kept
	largestRoom  = 430 << 20 // bytes, of the file, the pixels as decoded and the pixels as kept
	longestSide  = 30000     // pixels
	mostPixels   = 256e6     // of the file
	shortestSide = 16        // pixels
	mostSmaller  = 8         // times by which a picture too large to be kept whole is reduced
	mostScans    = 100       // of a progressive JPEG: more only waste time
)

// Endings are the extensions of the files that can be traced, in lower case.
var Endings = []string{".png", ".jpg", ".jpeg", ".pdf"}

// PictureOf gives the picture that a file is, by its extension, or whose tracing
// it is; ok is false for any other file.
func PictureOf(path string) (picture string, ok bool) {
	picture = strings.TrimSuffix(path, KeptSuffix)
	return picture, slices.Contains(Endings, strings.ToLower(filepath.Ext(picture)))
}

// deflateMost is the greatest compression that deflate can reach: 1032 to 1
// (RFC 1951: a match of 258 bytes takes at least two bits).
const deflateMost = 1032

// kept is the number of bytes per pixel in a Picture: RGBA, and a third more
// for the smaller copies.
const kept = 4 * 4.0 / 3

// Picture is a picture that has been read, with smaller copies of it for
// drawing it small. It never changes.
type Picture struct {
	Name string
	Path string // of its file; empty if it is not from a file
	Page int    // of a PDF, from 1; 0 for any other file

	Smaller int           // how many times smaller than in its file it is kept
	levels  []*image.RGBA // each half as wide and high as the one before
}

// readPicture reads a PNG or JPEG picture, upright as its camera recorded. One
// too large to be kept whole is reduced by a whole number: each pixel is then
// the mean of a square of them. The error is one sentence that names the file
// as name, or wraps the context's if that ends first.
func readPicture(ctx context.Context, r io.Reader, name string) (*Picture, error) {
	data, err := contents(until(ctx, io.LimitReader(r, largestFile+1)), sizeOf(r))
	if err != nil {
		return nil, tongue.Errorf("%s: the picture cannot be read: %w", name, err)
	}
	if len(data) > largestFile {
		return nil, tongue.Errorf("%s: the file is larger than the %d MiB that are read; save the picture smaller", name, largestFile>>20)
	}
	smaller, err := checkPicture(data, name)
	if err != nil {
		return nil, err
	}
	m, err := decoded(ctx, data, smaller)
	if ctx.Err() != nil {
		return nil, tongue.Errorf("%s: reading it was stopped; nothing was opened", name)
	}
	if err != nil {
		return nil, tongue.Errorf("%s: the picture is damaged (%w); scan it or save it again", name, err)
	}
	return &Picture{Name: name, Smaller: smaller, levels: halved(m)}, nil
}

// decoded gives the pixels upright and reduced by the factor. A PNG is read row
// by row, so that it is never held whole.
func decoded(ctx context.Context, data []byte, smaller int) (*image.RGBA, error) {
	if rowByRow(data) {
		return decodePNG(until(ctx, bytes.NewReader(data)), smaller, orientation(data))
	}
	m, _, err := image.Decode(until(ctx, bytes.NewReader(data)))
	if err != nil {
		return nil, err
	}
	return upright(ctx, m, smaller, orientation(data))
}

// sizeOf is how many bytes a file has, 0 where that is not known.
func sizeOf(r io.Reader) int {
	switch r := r.(type) {
	case *os.File:
		if s, err := r.Stat(); err == nil {
			return int(min(s.Size(), largestFile+1))
		}
	case interface{ Len() int }:
		return min(r.Len(), largestFile+1)
	}
	return 0
}

// contents reads everything, into memory allocated at once where the size is
// known.
func contents(r io.Reader, size int) ([]byte, error) {
	b := bytes.NewBuffer(make([]byte, 0, size+bytes.MinRead))
	_, err := b.ReadFrom(r)
	return b.Bytes(), err
}

// stoppable is a reader that fails once its work has been stopped.
type stoppable struct {
	ctx context.Context
	r   io.Reader
}

func until(ctx context.Context, r io.Reader) io.Reader { return stoppable{ctx, r} }

func (s stoppable) Read(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.r.Read(p)
}

// newPicture makes a picture from an image, which it may keep.
func newPicture(m image.Image, name string) *Picture {
	return &Picture{Name: name, Smaller: 1, levels: halved(opaque(m))}
}

// checkPicture refuses a picture by its header, before it is decoded, and
// returns by how much it is to be reduced.
func checkPicture(data []byte, name string) (smaller int, err error) {
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case len(data) == 0:
		return 0, tongue.Errorf("%s: the file is empty; scan it or save it again", name)
	case errors.Is(err, image.ErrFormat):
		return 0, tongue.Errorf("%s: it is not a picture that the program reads; save it as PNG, JPEG or PDF", name)
	case err != nil:
		return 0, tongue.Errorf("%s: the header of the picture is damaged (%w); scan it or save it again", name, err)
	}
	w, h := c.Width, c.Height
	if min(w, h) < shortestSide {
		return 0, tongue.Errorf("%s: the picture is only %d x %d pixels; scan it larger", name, w, h)
	}
	tooLarge := tongue.Errorf("%s: the picture is %d x %d pixels, too large to work on; scan it at a lower resolution or cut it down", name, w, h)
	pixels := float64(w) * float64(h)
	if max(w, h) > longestSide || pixels > mostPixels {
		return 0, tooLarge
	}
	switch kind {
	case "png":
		if least := pixels * bitsRead(data) / 8 / deflateMost; float64(len(data)) < least {
			return 0, tongue.Errorf("%s: the picture says it is %d x %d pixels, but the file ends long before; scan it or save it again", name, w, h)
		}
	case "jpeg":
		if bytes.Count(data, []byte{0xff, 0xda}) > mostScans {
			return 0, tongue.Errorf("%s: the picture comes in more than %d layers; save it again as a plain JPEG", name, mostScans)
		}
	}
	if smaller = howMuchSmaller(pixels, min(w, h), pixels*decodedBytes(data, kind, c.ColorModel)+float64(len(data))); smaller == 0 {
		return 0, tooLarge
	}
	return smaller, nil
}

// howMuchSmaller is the factor by which a picture must be reduced, given the
// bytes that reading it takes; 0 where no factor will do.
func howMuchSmaller(pixels float64, side int, reading float64) int {
	for n := 1; n <= mostSmaller && side/n >= shortestSide; n++ {
		room := pixels / float64(n*n) * kept
		if room <= largestKept && reading+room <= largestRoom {
			return n
		}
	}
	return 0
}

// decodedBytes is the memory per pixel while a picture is decoded.
func decodedBytes(data []byte, kind string, m color.Model) float64 {
	switch {
	case rowByRow(data):
		return 0
	case kind == "jpeg":
		return jpegRead(data)
	}
	return bytesRead(m)
}

// bytesRead is the memory per pixel while an image is decoded.
func bytesRead(m color.Model) float64 {
	switch m {
	case color.GrayModel:
		return 1
	case color.Gray16Model:
		return 2
	case color.YCbCrModel:
		return 3
	case color.RGBA64Model, color.NRGBA64Model:
		return 8
	}
	if _, ok := m.(color.Palette); ok {
		return 1
	}
	return 4
}

// jpegRead is the memory per pixel while a JPEG is decoded: a byte a sample,
// and in a progressive one also the 4-byte coefficient. Shared colours have
// fewer samples (ITU-T T.81, B.2.2: the frame header).
func jpegRead(data []byte) float64 {
	for i := 2; i+9 < len(data) && data[i] == 0xff; {
		kind, length := data[i+1], int(data[i+2])<<8|int(data[i+3])
		if kind == 0xff { // a fill byte
			i++
			continue
		}
		if kind >= 0xc0 && kind <= 0xc2 {
			return samples(data[i+4:min(i+2+length, len(data))]) * map[bool]float64{false: 1, true: 5}[kind == 0xc2]
		}
		i += 2 + length
	}
	return 20 // no known header: assume the worst
}

// samples is how many samples a pixel has, according to the frame header.
func samples(head []byte) float64 {
	if len(head) < 6 {
		return 4
	}
	sum, most, n := 0, 1, int(head[5])
	for k := range n {
		if 7+3*k >= len(head) {
			return 4
		}
		hv := int(head[7+3*k]>>4) * int(head[7+3*k]&15)
		sum, most = sum+hv, max(most, hv)
	}
	return float64(sum) / float64(most)
}

// bitsRead is the uncompressed bits per pixel of a PNG file, from its header
// (PNG specification, IHDR: depth and colour type).
func bitsRead(data []byte) float64 {
	if len(data) < 26 {
		return 0
	}
	channels := map[byte]float64{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[data[25]]
	return float64(data[24]) * channels
}

// opaque gives an image as RGBA on white, with its corner at (0, 0).
func opaque(m image.Image) *image.RGBA {
	if r, ok := m.(*image.RGBA); ok && r.Rect.Min == (image.Point{}) && r.Opaque() {
		return r
	}
	b := m.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	if o, ok := m.(interface{ Opaque() bool }); !ok || !o.Opaque() {
		draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
		draw.Draw(out, out.Rect, m, b.Min, draw.Over)
		return out
	}
	draw.Draw(out, out.Rect, m, b.Min, draw.Src)
	return out
}

// halved gives an image and its smaller copies.
func halved(m *image.RGBA) []*image.RGBA {
	levels := []*image.RGBA{m}
	for min(m.Rect.Dx(), m.Rect.Dy()) >= 2*shortestSide {
		m = half(m)
		levels = append(levels, m)
	}
	return levels
}

// half gives an image half as wide and high, each pixel the mean of four.
func half(m *image.RGBA) *image.RGBA {
	w, h := m.Rect.Dx()/2, m.Rect.Dy()/2
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	inBands(h, func(from, to int) {
		for y := from; y < to; y++ {
			a, b := m.Pix[2*y*m.Stride:], m.Pix[(2*y+1)*m.Stride:]
			o := out.Pix[y*out.Stride:]
			for x := range w {
				for k := range 4 {
					i := 8*x + k
					o[4*x+k] = uint8((uint(a[i]) + uint(a[i+4]) + uint(b[i]) + uint(b[i+4]) + 2) / 4)
				}
			}
		}
	})
	return out
}

// inBands divides rows among the cores.
func inBands(rows int, f func(from, to int)) {
	n := max(1, min(runtime.NumCPU(), rows/16))
	var wg sync.WaitGroup
	for k := range n {
		wg.Go(func() { f(rows*k/n, rows*(k+1)/n) })
	}
	wg.Wait()
}

// Size is the picture's width and height in pixels.
func (p *Picture) Size() (w, h int) { return p.levels[0].Rect.Dx(), p.levels[0].Rect.Dy() }

// Holds reports whether a point is in the picture.
func (p *Picture) Holds(at Point) bool {
	w, h := p.Size()
	return at.X >= 0 && at.Y >= 0 && at.X <= float64(w) && at.Y <= float64(h)
}

// grey is the brightness at a point, 0 black to 255 white, interpolated
// bilinearly between the pixels; beyond the edge it is that of the edge.
// Weights of the colours are those of ITU-R BT.601.
func (p *Picture) grey(at Point) float64 {
	m := p.levels[0]
	x, y := at.X-0.5, at.Y-0.5
	fx, fy := math.Floor(x), math.Floor(y)
	tx, ty := x-fx, y-fy
	i, j := int(fx), int(fy)
	return (1-ty)*((1-tx)*greyAt(m, i, j)+tx*greyAt(m, i+1, j)) + ty*((1-tx)*greyAt(m, i, j+1)+tx*greyAt(m, i+1, j+1))
}

func greyAt(m *image.RGBA, i, j int) float64 {
	i, j = min(max(i, 0), m.Rect.Dx()-1), min(max(j, 0), m.Rect.Dy()-1)
	o := j*m.Stride + 4*i
	return 0.299*float64(m.Pix[o]) + 0.587*float64(m.Pix[o+1]) + 0.114*float64(m.Pix[o+2])
}

// Draw draws the picture over the whole of dst: the pixel of dst at q shows the
// point to which back maps q. Where that is outside the picture, ground shows.
// Where several pixels fall on one, the colour comes from a smaller copy, so
// that thin lines do not vanish.
func (p *Picture) Draw(dst *image.RGBA, back Homography, ground color.RGBA) {
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	pw, ph := p.Size()
	inBands(h, func(from, to int) {
		for y := from; y < to; y++ {
			row := dst.Pix[y*dst.Stride:]
			for x := range w {
				q := Point{float64(x) + 0.5, float64(y) + 0.5}
				at, ok := back.Apply(q)
				o := 4 * x
				if !ok || !(at.X >= 0 && at.Y >= 0 && at.X < float64(pw) && at.Y < float64(ph)) {
					row[o], row[o+1], row[o+2], row[o+3] = ground.R, ground.G, ground.B, 255
					continue
				}
				p.sample(row[o:o+4], at, back.stretch(q, at))
			}
		}
	})
}

// sample writes the colour at a point, where each pixel drawn is stretch pixels
// wide.
func (p *Picture) sample(out []uint8, at Point, stretch float64) {
	level := 0
	for stretch > 1.5 && level+1 < len(p.levels) {
		stretch, level = stretch/2, level+1
	}
	m := p.levels[level]
	if stretch < 0.25 { // enlarged so much that single pixels are visible: they are shown as they are
		i, j := min(int(at.X), m.Rect.Dx()-1), min(int(at.Y), m.Rect.Dy()-1)
		copy(out, m.Pix[j*m.Stride+4*i:][:4])
		return
	}
	scale := 1 / float64(int(1)<<level)
	x, y := at.X*scale-0.5, at.Y*scale-0.5
	fx, fy := math.Floor(x), math.Floor(y)
	tx, ty := uint32((x-fx)*256), uint32((y-fy)*256)
	i0, j0 := clampTo(int(fx), m.Rect.Dx()), clampTo(int(fy), m.Rect.Dy())
	i1, j1 := clampTo(int(fx)+1, m.Rect.Dx()), clampTo(int(fy)+1, m.Rect.Dy())
	a, b := m.Pix[j0*m.Stride+4*i0:][:4], m.Pix[j0*m.Stride+4*i1:][:4]
	c, d := m.Pix[j1*m.Stride+4*i0:][:4], m.Pix[j1*m.Stride+4*i1:][:4]
	for k := range 3 {
		top := uint32(a[k])*(256-tx) + uint32(b[k])*tx
		low := uint32(c[k])*(256-tx) + uint32(d[k])*tx
		out[k] = uint8((top*(256-ty) + low*ty) >> 16)
	}
	out[3] = 255
}

func clampTo(i, n int) int { return min(max(i, 0), n-1) }

// Open reads a picture from a file: PNG, JPEG, or a page of a PDF, counted from
// 1. The error is one sentence.
func Open(ctx context.Context, path string, page int) (*Picture, error) {
	pdf, most := IsPDF(path), int64(largestFile)
	if pdf {
		most = largestPDF
	}
	f, err := openPlain(path, most)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	if pdf {
		p, err := readPage(ctx, path, page)
		if err != nil {
			return nil, err
		}
		p.Path, p.Page = path, max(page, 1)
		return p, nil
	}
	p, err := readPicture(ctx, f, filepath.Base(path))
	if err != nil {
		return nil, err
	}
	p.Path = path
	return p, nil
}

// openPlain opens a regular file of at most most bytes; the error names it
// without its folder.
func openPlain(path string, most int64) (*os.File, error) {
	f, err := keep.OpenPlain(path, most)
	var fault fault.Fault
	if errors.As(err, &fault) {
		fault.File = filepath.Base(path)
		return nil, fault
	}
	return f, err
}

// IsPDF reports whether a file is a PDF, by its first bytes or otherwise its
// name.
func IsPDF(path string) bool {
	f, err := openPlain(path, math.MaxInt64)
	if err != nil {
		return strings.EqualFold(filepath.Ext(path), ".pdf")
	}
	defer func() { _ = f.Close() }()
	head := make([]byte, 5)
	n, _ := io.ReadFull(f, head) // a file that is too short is not a PDF
	return bytes.Equal(head[:n], []byte("%PDF-"))
}
