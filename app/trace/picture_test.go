package trace

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var nan = math.NaN()

// chunk writes a chunk of a PNG file.
func chunk(b *bytes.Buffer, kind string, data []byte) {
	_ = binary.Write(b, binary.BigEndian, uint32(len(data)))
	body := append([]byte(kind), data...)
	b.Write(body)
	_ = binary.Write(b, binary.BigEndian, crc32.ChecksumIEEE(body))
}

// blankPNG is a PNG file of zeroes, compressed as far as possible.
func blankPNG(w, h int, depth, colour byte, raw int) []byte {
	var b bytes.Buffer
	b.WriteString("\x89PNG\r\n\x1a\n")
	head := binary.BigEndian.AppendUint32(nil, uint32(w))
	head = binary.BigEndian.AppendUint32(head, uint32(h))
	chunk(&b, "IHDR", append(head, depth, colour, 0, 0, 0))
	var z bytes.Buffer
	zw, _ := zlib.NewWriterLevel(&z, zlib.BestCompression)
	zeroes := make([]byte, 1<<16)
	for raw > 0 {
		n, _ := zw.Write(zeroes[:min(raw, len(zeroes))])
		raw -= n
	}
	_ = zw.Close()
	chunk(&b, "IDAT", z.Bytes())
	chunk(&b, "IEND", nil)
	return b.Bytes()
}

func TestPicturesAreReadUpright(t *testing.T) {
	m := image.NewNRGBA(image.Rect(5, 5, 45, 37))
	m.Set(6, 8, color.NRGBA{255, 0, 0, 255})
	m.Set(20, 20, color.NRGBA{0, 0, 0, 128})
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, m))
	p, err := readPicture(t.Context(), &b, "a.png")
	require.NoError(t, err)
	w, h := p.Size()
	assert.Equal(t, []int{40, 32}, []int{w, h})
	assert.InDelta(t, 0.299*255, p.grey(Pt(1.5, 3.5)), 1e-9)
	assert.InDelta(t, 255, p.grey(Pt(30.5, 3.5)), 1e-9, "what is seen through is paper")
	assert.InDelta(t, 127, p.grey(Pt(15.5, 15.5)), 1.5)
	assert.InDelta(t, 255, p.grey(Pt(-100, 300)), 1e-9)

	b.Reset()
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 64, 48)), nil))
	p, err = readPicture(t.Context(), &b, "a.jpg")
	require.NoError(t, err)
	assert.InDelta(t, 0, p.grey(Pt(30, 30)), 1e-9)
}

// counted is a file that counts the bytes read from it.
type counted struct {
	*bytes.Reader
	read int // bytes
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.Reader.Read(p)
	c.read += n
	return n, err
}

// Hostile files: one sentence, less than 500 MiB, no more read of the file than
// allowed, and no pixel unpacked: nothing is allocated besides the file itself,
// except where the harm comes after a valid header.
func TestHostilePicturesAreRefusedAtOnce(t *testing.T) {
	var scans bytes.Buffer
	require.NoError(t, jpeg.Encode(&scans, image.NewGray(image.Rect(0, 0, 64, 48)), nil))
	scans.Write(bytes.Repeat([]byte{0xff, 0xda, 0, 2}, 5000))
	noise := image.NewGray(image.Rect(0, 0, 3000, 3000))
	r := rand.New(rand.NewPCG(1, 1))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(r.Uint32())
	}
	var whole bytes.Buffer
	require.NoError(t, png.Encode(&whole, noise))
	claims := blankPNG(20, 20, 8, 2, 1200)
	binary.BigEndian.PutUint32(claims[16:], 1<<31-1)
	binary.BigEndian.PutUint32(claims[29:], crc32.ChecksumIEEE(claims[12:29]))
	for name, c := range map[string]struct {
		data []byte
		says string
	}{
		"nothing":               {nil, "the file is empty"},
		"text":                  {[]byte("frame,x_mm,y_mm,z_mm\n"), "not a picture"},
		"a GIF":                 {[]byte("GIF89a\x10\x00\x10\x00\x00\x00\x00"), "not a picture"},
		"a head alone":          {blankPNG(2000, 2000, 8, 2, 9)[:20], "damaged"},
		"a bomb":                {blankPNG(25000, 25000, 8, 2, 1<<26), "too large"},
		"a bomb of 16 bits":     {blankPNG(17000, 17000, 16, 6, 1<<26), "too large"},
		"a claim without data":  {blankPNG(7000, 7000, 8, 2, 3000), "ends long before"},
		"an impossible claim":   {claims, ""},
		"a sliver":              {blankPNG(29000, 1, 8, 2, 90000), "only"},
		"a long strip":          {blankPNG(60000, 20, 8, 2, 90000), "too large"},
		"cut off in the middle": {whole.Bytes()[:whole.Len()/2], "damaged"},
		"a JPEG of many scans":  {scans.Bytes(), "layers"},
		"too long a file":       {bytes.Repeat([]byte{0}, largestFile+5), "larger than"},
	} {
		t.Run(name, func(t *testing.T) {
			file := &counted{Reader: bytes.NewReader(c.data)}
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			most := peak(func() {
				_, err := readPicture(t.Context(), file, "x.png")
				runtime.ReadMemStats(&after)
				require.Error(t, err)
				assert.Contains(t, err.Error(), c.says)
				assert.NotContains(t, err.Error(), "\n")
				assert.True(t, strings.HasPrefix(err.Error(), "x.png: "), err.Error())
			})
			assert.Less(t, most, uint64(500<<20))
			assert.LessOrEqual(t, file.read, largestFile+1)
			if made := after.TotalAlloc - before.TotalAlloc; name != "cut off in the middle" {
				assert.Less(t, made, uint64(min(len(c.data), largestFile)+1<<20), "bytes")
			}
		})
	}
}

// peak is the most memory the program held from the system while f ran, checked
// every millisecond.
func peak(f func()) uint64 {
	debug.FreeOSMemory()
	done, out := make(chan struct{}), make(chan uint64)
	go func() {
		most := uint64(0)
		for {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.Sys-m.HeapReleased)
			select {
			case <-done:
				out <- most
				return
			case <-time.After(time.Millisecond):
			}
		}
	}()
	f()
	close(done)
	return <-out
}

// The largest pictures accepted stay below 500 MiB.
func TestTheLargestPictureKeepsToItsRoom(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes a second or two")
	}
	for _, c := range []struct {
		w, h          int
		depth, colour byte
		bytes         int
	}{
		{8100, 8100, 8, 2, 3},
		{5100, 5100, 16, 6, 8},
		{15900, 15900, 8, 2, 3}, // reduced
	} {
		data := blankPNG(c.w, c.h, c.depth, c.colour, (c.w*c.bytes+1)*c.h)
		most := peak(func() {
			p, err := readPicture(t.Context(), bytes.NewReader(data), "x.png")
			require.NoError(t, err)
			w, _ := p.Size()
			assert.Equal(t, c.w/p.Smaller, w)
			assert.Equal(t, c.w > 10000, p.Smaller > 1)
		})
		assert.Less(t, most, uint64(500<<20), "%d x %d of %d bits", c.w, c.h, c.depth)
	}
}

func TestJPEGRoomGoesByItsHead(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewRGBA(image.Rect(0, 0, 64, 48)), nil))
	assert.InDelta(t, 1.5, jpegRead(b.Bytes()), 1e-9, "Go writes colours shared by four pixels")
	progressive := bytes.Replace(b.Bytes(), []byte{0xff, 0xc0}, []byte{0xff, 0xc2}, 1)
	assert.InDelta(t, 7.5, jpegRead(progressive), 1e-9)
	assert.InDelta(t, 20, jpegRead([]byte{0xff, 0xd8}), 1e-9)
}

// Drawn small, a thin line greys its surroundings instead of vanishing.
func TestDrawnSmallThinLinesStay(t *testing.T) {
	p := shaded(512, 64, func(x, _ float64) float64 { return 255 - 255*band(math.Mod(x, 32)-16, 1) })
	dst := image.NewRGBA(image.Rect(0, 0, 64, 8))
	p.Draw(dst, Scaling(8), color.RGBA{1, 2, 3, 255})
	sum := 0.0
	for x := range 64 {
		sum += float64(dst.RGBAAt(x, 4).R) / 64
	}
	assert.InDelta(t, 255*(1-2.0/32), sum, 4)
	p.Draw(dst, Scaling(80), color.RGBA{1, 2, 3, 255})
	assert.Equal(t, color.RGBA{1, 2, 3, 255}, dst.RGBAAt(40, 4), "beyond the picture is the ground")
	p.Draw(dst, Scaling(1), color.RGBA{})
	assert.Less(t, dst.RGBAAt(16, 4).R, uint8(20), "at full size it is what it is")
}

func TestOpenTellsWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	_, err := Open(context.Background(), filepath.Join(dir, "none.png"), 1)
	assert.ErrorIs(t, err, os.ErrNotExist)
	_, err = Open(context.Background(), dir, 1)
	assert.ErrorContains(t, err, "folder")
}

// onePage is a PDF of a page 200 x 100 points with a filled square; poppler
// repairs the missing cross-reference table.
const onePage = `%PDF-1.4
1 0 obj <</Type/Catalog/Pages 2 0 R>> endobj
2 0 obj <</Type/Pages/Kids[3 0 R]/Count 1>> endobj
3 0 obj <</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]/Contents 4 0 R>> endobj
4 0 obj <</Length 18>> stream
20 20 60 60 re f
endstream endobj
trailer <</Root 1 0 R>>
`

func TestAPageOfAPDF(t *testing.T) {
	path := filepath.Join(t.TempDir(), "-f plan.pdf")
	require.NoError(t, os.WriteFile(path, []byte(onePage), 0o600))
	t.Run("without the program", func(t *testing.T) {
		t.Setenv("PATH", t.TempDir())
		_, err := Open(context.Background(), path, 1)
		assert.ErrorContains(t, err, "not installed")
	})
	external(t, pageTool)
	p, err := Open(context.Background(), path, 1)
	require.NoError(t, err)
	w, h := p.Size()
	assert.Equal(t, []int{5000, 2500}, []int{w, h})
	assert.Less(t, p.grey(Pt(1250, 1250)), 10.0)
	assert.Greater(t, p.grey(Pt(3000, 1250)), 250.0)
	assert.Equal(t, path, p.Path)
	assert.Equal(t, 1, p.Page)
	if _, err := exec.LookPath(countTool); err == nil {
		assert.Equal(t, 1, Pages(context.Background(), path))
		two := filepath.Join(t.TempDir(), "two.pdf")
		require.NoError(t, os.WriteFile(two, []byte(strings.Replace(onePage, "/Kids[3 0 R]/Count 1", "/Kids[3 0 R 3 0 R]/Count 2", 1)), 0o600))
		assert.Equal(t, 2, Pages(context.Background(), two))
	}
	_, err = Open(context.Background(), path, 7)
	assert.ErrorContains(t, err, "no page 7")
	require.NoError(t, os.WriteFile(path, []byte("%PDF-1.4\nnothing"), 0o600))
	_, err = Open(context.Background(), path, 1)
	assert.ErrorContains(t, err, "cannot be drawn")
	stopped, stop := context.WithCancel(context.Background())
	stop()
	_, err = Open(stopped, path, 1)
	assert.Error(t, err)
}

// external gives the path of a program that a check needs; without it the check is
// skipped, or fails where STRAKEWRIGHT_EXTERNAL asks for all checks.
func external(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path
	}
	if os.Getenv("STRAKEWRIGHT_EXTERNAL") != "" {
		t.Fatalf("%s is not installed, and all checks are asked for", name)
	}
	t.Skipf("%s is not installed", name)
	return ""
}
