package trace

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// spoiltName is the variable that says how many spoilt files are tried, and of what
// seed, as 2000,7; without it a few are.
const spoiltName = "STRAKEWRIGHT_TEST_SPOILT"

func spoiltAsked(t *testing.T) (count int, seed uint64) {
	text := os.Getenv(spoiltName)
	if text == "" {
		return 40, 1
	}
	n, s, _ := strings.Cut(text, ",")
	count, err := strconv.Atoi(n)
	require.NoError(t, err)
	seed, err = strconv.ParseUint(s, 10, 64)
	require.NoError(t, err)
	return count, seed
}

// TestSpoiltPicturesAreRefusedOrRead spoils pictures of several kinds, and tracings: each
// is read, or refused in one line.
func TestSpoiltPicturesAreRefusedOrRead(t *testing.T) {
	count, seed := spoiltAsked(t)
	r := rand.New(rand.NewPCG(seed, 3))
	sound := soundPictures(t, r)
	dir := t.TempDir()
	read := 0
	for i := range count {
		of := sound[i%len(sound)]
		path := filepath.Join(dir, "spoilt"+of.ending)
		data := spoilt(r, of.data)
		if of.ending == ".png" && r.IntN(2) == 0 {
			withSums(data)
		}
		require.NoError(t, os.WriteFile(path, data, 0o600))
		var err error
		if of.ending == KeptSuffix {
			_, err = ReadKept(path)
		} else {
			_, err = Open(t.Context(), path, 1)
		}
		if err == nil {
			read++
			continue
		}
		require.NotContains(t, err.Error(), "\n", "%d", i)
		require.NotContains(t, err.Error(), "runtime error", "%d", i)
	}
	t.Logf("%d spoilt, %d of them still read", count, read)
	require.Positive(t, read)
}

type soundPicture struct {
	ending string
	data   []byte
}

func soundPictures(t *testing.T, r *rand.Rand) []soundPicture {
	t.Helper()
	grey, paletted := image.NewGray(image.Rect(0, 0, 60, 40)), image.NewPaletted(image.Rect(0, 0, 50, 50), color.Palette{color.White, color.Black, color.Gray{99}})
	for i := range grey.Pix {
		grey.Pix[i] = byte(r.Uint32())
	}
	var out []soundPicture
	add := func(ending string, encode func(*bytes.Buffer) error) {
		var b bytes.Buffer
		require.NoError(t, encode(&b))
		out = append(out, soundPicture{ending, b.Bytes()})
	}
	add(".jpg", func(b *bytes.Buffer) error { return jpeg.Encode(b, grey, nil) })
	add(".png", func(b *bytes.Buffer) error { return png.Encode(b, grey) })
	add(".png", func(b *bytes.Buffer) error { return png.Encode(b, paletted) })
	for _, colour := range []byte{2, 3, 6} {
		out = append(out, soundPicture{".png", noisyPNG(r, 30, 26, 8, colour, colour < 4)})
	}
	k := Kept{Format: keptFormat, Version: keptVersion, Bow: "first", Pictures: []keptPicture{{File: "body.png", Pixels: [2]int{600, 400},
		Scale: &keptScale{Points: [][2]float64{{10, 10}, {500, 12}}, Distance: 120}, keptDatum: keptDatum{Centre: &[2]float64{300, 0}, Base: &[2]float64{0, 380}}}},
		Frames: []keptFrame{{Name: "A", X: 12, Halves: [2][]keptMark{{{At: [2]float64{310, 40}}, {At: [2]float64{330, 300}, Snapped: true}}, nil}}}}
	path := filepath.Join(t.TempDir(), "sound"+KeptSuffix)
	require.NoError(t, k.Write(path))
	_, err := ReadKept(path)
	require.NoError(t, err)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return append(out, soundPicture{KeptSuffix, data})
}

// withSums sets the sums of a PNG's chunks right, as far as chunks can be told, so that
// what is spoilt within them is read.
func withSums(b []byte) {
	const begins, least = 8, 12 // bytes: the head of the file, and a chunk without data
	for at := begins; at+least <= len(b); {
		n := int(binary.BigEndian.Uint32(b[at:]))
		if n > len(b)-at-least {
			return
		}
		binary.BigEndian.PutUint32(b[at+8+n:], crc32.ChecksumIEEE(b[at+4:at+8+n]))
		at += least + n
	}
}

// spoilt changes bits and bytes, leaves out, says again, breaks off.
func spoilt(r *rand.Rand, data []byte) []byte {
	b := slices.Clone(data)
	for range 1 + r.IntN(4) {
		if len(b) == 0 {
			return b
		}
		from := r.IntN(len(b))
		to := min(len(b), from+1+r.IntN(20))
		switch r.IntN(7) {
		case 0, 1:
			b[from] ^= 1 << r.IntN(8)
		case 2:
			for i := from; i < to; i++ {
				b[i] = byte(r.Uint32())
			}
		case 3:
			b = slices.Delete(b, from, to)
		case 4:
			b = slices.Concat(b[:to], slices.Repeat(b[from:to], 1+r.IntN(50)), b[to:])
		case 5:
			b = b[:from]
		case 6:
			b = slices.Insert(b, from, []byte{0xff, 0xff, 0xff, 0x7f}...)
		}
	}
	return b
}
