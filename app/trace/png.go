package trace

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"io"

	"github.com/strakewright/strakewright/assets/tongue"
)

// pngHead begins every PNG file.
const pngHead = "\x89PNG\r\n\x1a\n"

// headEnd is where the chunks after IHDR begin; the interlace method is the
// byte before its checksum.
const (
	headEnd   = 33
	crossedAt = 28
)

// rowByRow reports whether a file is a PNG whose rows run from top to bottom.
// The standard library holds a PNG whole, at 4 or 8 bytes a pixel; it is used
// only for those that are interlaced.
func rowByRow(data []byte) bool {
	return len(data) >= headEnd && bytes.HasPrefix(data, []byte(pngHead)) && data[crossedAt] == 0
}

// pngChunk gives the first chunk of a kind that comes before the pixels.
func pngChunk(data []byte, kind string) []byte {
	for i := len(pngHead); i+8 <= len(data); {
		length := int(binary.BigEndian.Uint32(data[i:]))
		name := string(data[i+4 : i+8])
		if name == "IDAT" || length < 0 || length > len(data)-i-8 {
			return nil
		}
		if name == kind {
			return data[i+8 : i+8+length]
		}
		i += 12 + length
	}
	return nil
}

// pngForm is how a PNG holds its pixels (PNG specification, third edition,
// 11.2.1 IHDR, 11.2.2 PLTE and 11.3.1.1 tRNS).
type pngForm struct {
	w, h     int
	depth    int // bits a sample
	colour   byte
	palette  []byte
	through  []byte // of tRNS
	channels int
}

// samplesOf is how many samples a pixel has, by its colour type.
var samplesOf = map[byte]int{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}

// decodePNG reads a PNG that is not interlaced, row by row. Its header has been
// checked before.
func decodePNG(r io.Reader, smaller int, turn turning) (*image.RGBA, error) {
	c := &chunks{r: r}
	if _, err := io.CopyN(io.Discard, r, int64(len(pngHead))); err != nil {
		return nil, err
	}
	f, err := readForm(c)
	if err != nil {
		return nil, err
	}
	z, err := zlib.NewReader(&pixels{chunks: c})
	if err != nil {
		return nil, err
	}
	s := newShrinker(f.w, f.h, smaller, turn)
	if err := f.rows(z, s.row); err != nil {
		return nil, err
	}
	return s.out, nil
}

// chunks reads the chunks of a PNG, checking the checksum of each.
type chunks struct {
	r    io.Reader
	kind string
	left uint32
	sum  uint32
}

// next goes to the next chunk.
func (c *chunks) next() error {
	var head [8]byte
	if _, err := io.ReadFull(c.r, head[:]); err != nil {
		return noEnd(err)
	}
	c.left, c.kind = binary.BigEndian.Uint32(head[:]), string(head[4:])
	c.sum = crc32.ChecksumIEEE(head[4:])
	return nil
}

// Read reads from the current chunk, and checks its checksum at the end.
func (c *chunks) Read(p []byte) (int, error) {
	if c.left == 0 {
		return 0, io.EOF
	}
	n, err := c.r.Read(p[:min(uint32(len(p)), c.left)])
	c.left -= uint32(n)
	c.sum = crc32.Update(c.sum, crc32.IEEETable, p[:n])
	if err == nil && c.left == 0 {
		err = c.check()
	}
	return n, noEnd(err)
}

func (c *chunks) check() error {
	var sum [4]byte
	if _, err := io.ReadFull(c.r, sum[:]); err != nil {
		return noEnd(err)
	}
	if binary.BigEndian.Uint32(sum[:]) != c.sum {
		return tongue.New("a check sum is wrong")
	}
	return nil
}

// all gives the whole current chunk, of at most most bytes.
func (c *chunks) all(most uint32) ([]byte, error) {
	if c.left > most {
		return nil, tongue.New("a part is too long")
	}
	if c.left == 0 {
		return nil, c.check()
	}
	out := make([]byte, c.left)
	_, err := io.ReadFull(c, out)
	return out, err
}

// skip skips the current chunk.
func (c *chunks) skip() error {
	if c.left == 0 {
		return c.check()
	}
	_, err := io.Copy(io.Discard, c)
	return err
}

func noEnd(err error) error {
	if errors.Is(err, io.EOF) {
		return io.ErrUnexpectedEOF
	}
	return err
}

// readForm reads up to the first chunk of pixels, which is then the current
// one.
func readForm(c *chunks) (*pngForm, error) {
	f := &pngForm{}
	for {
		if err := c.next(); err != nil {
			return nil, err
		}
		var err error
		switch c.kind {
		case "IHDR":
			var head []byte
			if head, err = c.all(13); err == nil {
				err = f.head(head)
			}
		case "PLTE":
			f.palette, err = c.all(3 * 256)
		case "tRNS":
			f.through, err = c.all(256)
		case "IDAT":
			err = f.whole()
			return f, err
		case "IEND":
			return nil, tongue.New("there are no pixels")
		default:
			err = c.skip()
		}
		if err != nil {
			return nil, err
		}
	}
}

func (f *pngForm) head(head []byte) error {
	if len(head) != 13 || f.w != 0 {
		return tongue.New("the head is wrong")
	}
	f.w, f.h = int(binary.BigEndian.Uint32(head)), int(binary.BigEndian.Uint32(head[4:]))
	f.depth, f.colour = int(head[8]), head[9]
	f.channels = samplesOf[f.colour]
	return nil
}

// whole says what is missing before the pixels.
func (f *pngForm) whole() error {
	switch {
	case f.w == 0 || f.channels == 0:
		return tongue.New("the head is missing")
	case f.colour == 3 && len(f.palette) < 3:
		return tongue.New("the palette is missing")
	}
	return nil
}

// pixels reads the compressed pixels, which continue from chunk to chunk.
type pixels struct {
	chunks *chunks
	ended  bool
}

func (p *pixels) Read(b []byte) (int, error) {
	for p.chunks.left == 0 {
		if p.ended {
			return 0, io.ErrUnexpectedEOF
		}
		if err := p.chunks.next(); err != nil {
			return 0, err
		}
		if p.chunks.kind != "IDAT" {
			p.ended = true
			return 0, io.ErrUnexpectedEOF
		}
		if p.chunks.left == 0 {
			if err := p.chunks.check(); err != nil {
				return 0, err
			}
		}
	}
	return p.chunks.Read(b)
}

// rows decompresses the rows and passes each on as four bytes a pixel, on
// white.
func (f *pngForm) rows(r io.Reader, take func(rgba []byte)) error {
	length := (f.w*f.channels*f.depth + 7) / 8
	before := max(1, f.channels*f.depth/8) // bytes to the pixel at the left
	now, last := make([]byte, 1+length), make([]byte, 1+length)
	rgba := make([]byte, 4*f.w)
	give := f.giver()
	for range f.h {
		if _, err := io.ReadFull(r, now); err != nil {
			return noEnd(err)
		}
		if err := unfilter(now[0], now[1:], last[1:], before); err != nil {
			return err
		}
		give(rgba, now[1:])
		take(rgba)
		now, last = last, now
	}
	return nil
}

// unfilter reverses the prediction in a row (PNG specification, 9.2).
func unfilter(kind byte, row, up []byte, before int) error {
	switch kind {
	case 0:
	case 1:
		for i := before; i < len(row); i++ {
			row[i] += row[i-before]
		}
	case 2:
		for i, u := range up {
			row[i] += u
		}
	case 3:
		for i := range min(before, len(row)) {
			row[i] += up[i] / 2
		}
		for i := before; i < len(row); i++ {
			row[i] += byte((int(row[i-before]) + int(up[i])) / 2)
		}
	case 4:
		for i := range min(before, len(row)) {
			row[i] += up[i]
		}
		for i := before; i < len(row); i++ {
			row[i] += paeth(int(row[i-before]), int(up[i]), int(up[i-before]))
		}
	default:
		return tongue.New("a row is wrong")
	}
	return nil
}

// paeth is whichever of left, up and upper left is nearest to the value
// predicted from them.
func paeth(left, up, corner int) byte {
	a, b := up-corner, left-corner
	c := a + b
	a, b, c = max(a, -a), max(b, -b), max(c, -c)
	switch {
	case a <= b && a <= c:
		return byte(left)
	case b <= c:
		return byte(up)
	}
	return byte(corner)
}

// giver returns the function that turns a row as stored into four bytes a
// pixel.
func (f *pngForm) giver() func(rgba, row []byte) {
	wide := f.depth / 8 // bytes a sample, 0 for smaller ones
	switch {
	case f.colour == 3:
		return f.palettes
	case f.colour == 0 && wide <= 1:
		return f.greys
	}
	if f.depth == 16 && f.colour >= 4 {
		return f.through16
	}
	return func(rgba, row []byte) {
		for x := range f.w {
			p := row[x*f.channels*wide:][:f.channels*wide]
			o := rgba[4*x:][:4]
			switch f.colour {
			case 0, 4:
				o[0], o[1], o[2] = p[0], p[0], p[0]
			default:
				o[0], o[1], o[2] = p[0], p[wide], p[2*wide]
			}
			switch {
			case f.colour >= 4:
				onWhite(o, p[(f.channels-1)*wide])
			case f.keyed(p):
				o[0], o[1], o[2] = 255, 255, 255
			}
		}
	}
}

// through16 does it for samples of 16 bits with transparency.
func (f *pngForm) through16(rgba, row []byte) {
	for x := range f.w {
		p := row[x*f.channels*2:][:f.channels*2]
		a := uint64(binary.BigEndian.Uint16(p[len(p)-2:]))
		for k := range 3 {
			c := uint64(binary.BigEndian.Uint16(p[2*min(k, f.channels-2):]))
			rgba[4*x+k] = byte((c*a/65535 + 65535 - a) >> 8)
		}
	}
}

// onWhite lays a colour on white.
func onWhite(o []byte, alpha byte) {
	if alpha == 255 {
		return
	}
	a := uint32(alpha)
	for k := range 3 {
		o[k] = byte((uint32(o[k])*a + 255*(255-a) + 127) / 255)
	}
}

// keyed reports whether a pixel has the one colour that is transparent.
func (f *pngForm) keyed(p []byte) bool {
	if len(f.through) < 2*f.channels {
		return false
	}
	if f.depth == 16 {
		return bytes.Equal(p, f.through[:2*f.channels])
	}
	for k, v := range p {
		if f.through[2*k] != 0 || v != f.through[2*k+1] {
			return false
		}
	}
	return true
}

// sample is the value of a packed sample of up to 8 bits.
func (f *pngForm) sample(row []byte, x int) byte {
	bit := x * f.depth
	return row[bit/8] >> (8 - f.depth - bit%8) & byte(1<<f.depth-1)
}

// greys does it for greys of up to 8 bits.
func (f *pngForm) greys(rgba, row []byte) {
	most := 1<<f.depth - 1
	for x := range f.w {
		v := f.sample(row, x)
		g := byte(int(v) * 255 / most)
		if f.keyed([]byte{v}) {
			g = 255
		}
		rgba[4*x], rgba[4*x+1], rgba[4*x+2] = g, g, g
	}
}

// palettes does it for indices into a palette; one beyond its end is black.
func (f *pngForm) palettes(rgba, row []byte) {
	for x := range f.w {
		v := int(f.sample(row, x))
		o := rgba[4*x:][:4]
		o[0], o[1], o[2] = 0, 0, 0
		if 3*v+3 <= len(f.palette) {
			copy(o[:3], f.palette[3*v:3*v+3])
		}
		if v < len(f.through) {
			onWhite(o, f.through[v])
		}
	}
}
