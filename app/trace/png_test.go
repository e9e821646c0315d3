package trace

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// noisyPNG is a PNG of random samples, each row predicted in a different way,
// whose pixels come in several chunks.
func noisyPNG(r *rand.Rand, w, h int, depth, colour byte, through bool) []byte {
	var b bytes.Buffer
	b.WriteString(pngHead)
	head := binary.BigEndian.AppendUint32(nil, uint32(w))
	head = binary.BigEndian.AppendUint32(head, uint32(h))
	chunk(&b, "IHDR", append(head, depth, colour, 0, 0, 0))
	chunk(&b, "gAMA", []byte{0, 0, 0xb1, 0x8f})
	random := func(n int) []byte {
		out := make([]byte, n)
		for i := range out {
			out[i] = byte(r.Uint32())
		}
		return out
	}
	if colour == 3 {
		chunk(&b, "PLTE", random(3<<depth))
	}
	if through {
		switch colour {
		case 0:
			chunk(&b, "tRNS", []byte{0, 1})
		case 2:
			chunk(&b, "tRNS", []byte{0, 1, 0, 1, 0, 1})
		case 3:
			chunk(&b, "tRNS", random(2))
		}
	}
	var z bytes.Buffer
	zw := zlib.NewWriter(&z)
	for y := range h {
		_, _ = zw.Write([]byte{byte(y % 5)})
		row := random((w*samplesOf[colour]*int(depth) + 7) / 8)
		if through && colour == 2 && y == 0 { // one pixel of the transparent colour
			copy(row[3:], bytes.Repeat([]byte{1}, 3))
		}
		_, _ = zw.Write(row)
	}
	_ = zw.Close()
	for data := z.Bytes(); len(data) > 0; {
		n := min(len(data), 1000)
		chunk(&b, "IDAT", data[:n])
		data = data[n:]
	}
	chunk(&b, "IEND", nil)
	return b.Bytes()
}

// The standard library's decoder, which holds a picture whole, is the
// reference for the one that goes row by row.
func TestRowByRowGivesWhatTheStandardLibraryGives(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for _, c := range []struct {
		colour byte
		depths []byte
	}{{0, []byte{1, 2, 4, 8, 16}}, {2, []byte{8, 16}}, {3, []byte{1, 2, 4, 8}}, {4, []byte{8, 16}}, {6, []byte{8, 16}}} {
		for _, depth := range c.depths {
			for _, through := range []bool{false, true} {
				if through && (depth == 16 || c.colour > 3) {
					continue
				}
				data := noisyPNG(r, 53, 41, depth, c.colour, through)
				m, err := png.Decode(bytes.NewReader(data))
				require.NoError(t, err)
				want := opaque(m)
				p, err := readPicture(t.Context(), bytes.NewReader(data), "x.png")
				require.NoError(t, err)
				got := p.levels[0]
				require.Equal(t, want.Rect, got.Rect)
				for i := range want.Pix {
					// draw.Over computes in 16 bits, and may round the last one differently
					require.InDelta(t, want.Pix[i], got.Pix[i], 1, "colour %d, depth %d, seen through %v, byte %d", c.colour, depth, through, i)
				}
			}
		}
	}
}

func TestADamagedPNGIsToldOf(t *testing.T) {
	data := noisyPNG(rand.New(rand.NewPCG(1, 2)), 64, 64, 8, 2, false)
	for n := range 40 {
		_, err := readPicture(t.Context(), bytes.NewReader(data[:len(data)*n/41]), "x.png")
		assert.Error(t, err, n)
	}
	bad := bytes.Clone(data)
	bad[len(bad)/2] ^= 1
	_, err := readPicture(t.Context(), bytes.NewReader(bad), "x.png")
	assert.ErrorContains(t, err, "damaged")
}

// The eight orientations a camera records, for a picture whose corners are
// known (Exif 2.3: what row 0 and column 0 of the file show).
func TestPicturesAreTurnedAsTheirCameraNoted(t *testing.T) {
	const w, h = 48, 32
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	for y := range 8 { // the corner of row 0 and column 0 is dark, and the rest of row 0 is grey
		for x := range 16 {
			g := uint8(255 * min(x/8, 1) / 2)
			m.Set(x, y, color.RGBA{g, g, g, 255})
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, m, &jpeg.Options{Quality: 100}))
	for turn, c := range map[byte]struct{ corner, along Point }{
		1: {Pt(4, 4), Pt(12, 4)},
		2: {Pt(w-4, 4), Pt(w-12, 4)},
		3: {Pt(w-4, h-4), Pt(w-12, h-4)},
		4: {Pt(4, h-4), Pt(12, h-4)},
		5: {Pt(4, 4), Pt(4, 12)},
		6: {Pt(h-4, 4), Pt(h-4, 12)},
		7: {Pt(h-4, w-4), Pt(h-4, w-12)},
		8: {Pt(4, w-4), Pt(4, w-12)},
	} {
		for _, order := range []string{"MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00%c\x00\x00", "II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00%c\x00\x00\x00"} {
			exif := append([]byte("Exif\x00\x00"), fmt.Sprintf(order, turn)...)
			part := append([]byte{0xff, 0xe1, 0, byte(len(exif) + 2)}, exif...)
			data := append(append(bytes.Clone(b.Bytes()[:2]), part...), b.Bytes()[2:]...)
			p, err := readPicture(t.Context(), bytes.NewReader(data), "x.jpg")
			require.NoError(t, err)
			gw, gh := p.Size()
			assert.Equal(t, turn >= 5, gh > gw, "turn %d", turn)
			assert.InDelta(t, 0, p.grey(c.corner), 6, "turn %d", turn)
			assert.InDelta(t, 127, p.grey(c.along), 6, "turn %d", turn)
		}
	}
}

func TestAPictureIsMadeSmallerByMeans(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 50, 35))
	r := rand.New(rand.NewPCG(7, 7))
	for i := range m.Pix {
		m.Pix[i] = byte(r.Uint32())
	}
	for i := 3; i < len(m.Pix); i += 4 {
		m.Pix[i] = 255
	}
	got, err := upright(context.Background(), m, 3, 1)
	require.NoError(t, err)
	assert.Equal(t, image.Rect(0, 0, 16, 11), got.Rect)
	sum := 0.0
	for y := 6; y < 9; y++ {
		for x := 12; x < 15; x++ {
			sum += float64(m.RGBAAt(x, y).G)
		}
	}
	assert.InDelta(t, sum/9, got.RGBAAt(4, 2).G, 0.5+1e-9)
}

func TestReadingCanBeStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	_, err := readPicture(ctx, bytes.NewReader(blankPNG(64, 64, 8, 2, 64*193)), "x.png")
	assert.Error(t, err)
	_, err = upright(ctx, image.NewGray(image.Rect(0, 0, 64, 64)), 1, 1)
	assert.ErrorIs(t, err, context.Canceled)
}

// A drawing made by another program is read as that program drew it: a white
// sheet with a black square whose edges are known.
func TestAPictureOfAnotherProgram(t *testing.T) {
	tool := external(t, "rsvg-convert")
	dir := t.TempDir()
	svg, path := filepath.Join(dir, "a.svg"), filepath.Join(dir, "a.png")
	require.NoError(t, os.WriteFile(svg, []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="400" height="300">
<rect width="400" height="300" fill="white"/><rect x="100.25" y="50.5" width="200" height="150"/></svg>`), 0o600))
	require.NoError(t, exec.Command(tool, "-o", path, svg).Run())
	p, err := Open(context.Background(), path, 1)
	require.NoError(t, err)
	assert.Equal(t, path, p.Path)
	// An edge a quarter into a pixel is two steps, of 3/4 and of 1/4, a pixel
	// apart. Smoothed by a bell of 0.8 px and the 1/12 px² that lies between
	// pixels, their sum is steepest where 3/4 x exp(−x²/2s²) is 1/4 (1−x)
	// exp(−(1−x)²/2s²), s² = 0.72 px²: at x = 0.175, not 0.25.
	for _, c := range []struct{ near, want Point }{
		{Pt(102, 120), Pt(100.25, 120)}, {Pt(298, 120), Pt(300.25, 120)}, {Pt(200, 48), Pt(200, 50.5)}, {Pt(200, 203), Pt(200, 200.5)},
	} {
		got, ok := p.Snap(c.near, 8)
		require.True(t, ok)
		assert.InDelta(t, 0, got.distance(c.want), 0.08, "%v", c.want)
	}
}

// A circle that one program writes into a PDF and another draws: the snapped
// points lie on it to the 0.3 px required of a clean outline, and the scale is
// recovered from two crossings a known distance apart.
func TestACurveOnAPageIsMeasuredAsItWasDrawn(t *testing.T) {
	external(t, "rsvg-convert")
	external(t, pageTool)
	dir := t.TempDir()
	svg, path := filepath.Join(dir, "a.svg"), filepath.Join(dir, "a.pdf")
	require.NoError(t, os.WriteFile(svg, []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="150mm" viewBox="0 0 200 150">
<g fill="none" stroke="black" stroke-width="0.3"><circle cx="100" cy="75" r="40"/>
<path d="M 15 140 H 185 M 20 135 V 145 M 180 135 V 145"/></g></svg>`), 0o600))
	require.NoError(t, exec.Command("rsvg-convert", "-f", "pdf", "-o", path, svg).Run())
	p, err := Open(context.Background(), path, 1)
	require.NoError(t, err)
	const k = pageSide / 200.0 // pixels per mm
	left, ok := p.SnapCorner(Pt(20*k+5, 140*k-4), 20)
	require.True(t, ok)
	right, ok := p.SnapCorner(Pt(180*k-3, 140*k+6), 20)
	require.True(t, ok)
	c, err := ByTwo(left, right, 160, Level)
	require.NoError(t, err)
	mid, _ := c.ToMM.Apply(Pt(100*k, 75*k))
	for n := range 36 {
		a := float64(n) * math.Pi / 18
		got, ok := p.Snap(Pt((100+40*math.Cos(a))*k+3, (75+40*math.Sin(a))*k-2), 12)
		require.True(t, ok, n)
		q, _ := c.ToMM.Apply(got)
		// each end of the scale is within 0.3 px, which is 0.15 px of the radius, and
		// so is the middle
		assert.InDelta(t, 40, q.distance(mid), 0.6/k, "%d", n)
	}
}

// mostWhole is a number of pixels that is always kept whole.
const mostWhole = 1 << 24

func FuzzOpenPicture(f *testing.F) {
	r := rand.New(rand.NewPCG(9, 9))
	for _, colour := range []byte{0, 2, 3, 4, 6} {
		f.Add(noisyPNG(r, 20, 18, 8, colour, colour < 4))
	}
	f.Add(noisyPNG(r, 20, 18, 1, 0, true))
	f.Add(blankPNG(2000, 2000, 8, 2, 900))
	var b bytes.Buffer
	require.NoError(f, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 24, 24)), nil))
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := readPicture(t.Context(), bytes.NewReader(data), "x.png")
		if err != nil {
			assert.NotContains(t, err.Error(), "\n")
			return
		}
		w, h := p.Size()
		require.True(t, w >= shortestSide && h >= shortestSide)
		c, _, err := image.DecodeConfig(bytes.NewReader(data))
		require.NoError(t, err)
		if c.Width*c.Height > mostWhole {
			return // it may have been reduced
		}
		upright, turned := c.Width == w && c.Height == h, c.Width == h && c.Height == w
		if !upright && !turned {
			t.Fatalf("%d x %d became %d x %d", c.Width, c.Height, w, h)
		}
	})
}
