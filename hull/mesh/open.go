package mesh

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"os"
	"regexp"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
)

// Limits of meshes.
const (
	largestFile   = 1 << 30  // bytes
	mostCorners   = 3 << 20  // of a mesh that is held in memory
	mostTriangles = 6 << 20  // likewise
	mostCut       = 4 << 20  // pieces of all sections together
	mostSection   = 20000    // pieces of one section
	headSize      = 64 << 10 // bytes by which a file is recognised
	stlHead       = 84       // bytes before the triangles of a binary STL
	stlTriangle   = 50       // bytes of each triangle
	lookEvery     = 4096     // triangles between two checks of the context
)

// Format is a format of meshes.
type Format string

// The formats that are read.
const (
	stlFormat     Format = "stl"
	objFormat     Format = "obj"
	threeMFFormat Format = "3mf"
)

// triangle is three corners, in the mesh's own unit.
type triangle [3]mgl64.Vec3

// surface is a mesh that can be visited more than once, always in the same
// order. An error from visit ends the pass.
type surface interface {
	each(ctx context.Context, visit func(*triangle) error) error
}

// FormatOf gives the format of the mesh file at a path, from its contents; empty
// where it is not a mesh, or cannot be read.
func FormatOf(path string) Format {
	f, err := keep.OpenPlain(path, largestFile)
	if err != nil {
		return ""
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return ""
	}
	return formatOf(f, info.Size())
}

// formatOf gives the format of a file of the given size.
func formatOf(r io.ReaderAt, size int64) Format {
	head := make([]byte, min(size, headSize))
	n, err := r.ReadAt(head, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return ""
	}
	head = head[:n]
	switch {
	case isBinarySTL(head, size), isTextSTL(head):
		return stlFormat
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		if z, err := zip.NewReader(r, size); err == nil && modelIn(z) != nil {
			return threeMFFormat
		}
	case isOBJ(head):
		return objFormat
	}
	return ""
}

// isBinarySTL recognises a binary STL by its size, which follows from the number
// of triangles that it declares. One that was truncated, or has more after it,
// is recognised by zeros in that number's place in a file that is not text.
func isBinarySTL(head []byte, size int64) bool {
	if len(head) < stlHead {
		return false
	}
	announced := int64(binary.LittleEndian.Uint32(head[80:]))
	if stlHead+announced*stlTriangle == size {
		return true
	}
	if isTextSTL(head) || bytes.HasPrefix(head, []byte("PK")) {
		return false
	}
	if bytes.HasPrefix(bytes.ToLower(head), []byte("solid")) || bytes.Contains(bytes.ToLower(head[:80]), []byte("stl")) {
		return bytes.IndexByte(head[80:], 0) >= 0
	}
	return false
}

var (
	textSTL = regexp.MustCompile(`(?i)^\s*solid\b[^\n\r]*[\n\r]\s*(facet\s|endsolid\b)`)
	objLine = regexp.MustCompile(`^(v|vn|vt|vp|f|o|g|s|l|p|mtllib|usemtl|vertex)[ \t]`)
	vertex  = regexp.MustCompile(`(?m)^\s*v[ \t]+[-+.0-9]`)
)

func isTextSTL(head []byte) bool {
	return textSTL.Match(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")))
}

// isOBJ recognises an OBJ by its first line that is not a comment, and a corner
// in it.
func isOBJ(head []byte) bool {
	text := bytes.TrimPrefix(head, []byte("\xef\xbb\xbf"))
	if !vertex.Match(text) {
		return false
	}
	for line := range bytes.Lines(text) {
		line = bytes.TrimSpace(line)
		if len(line) == 0 || line[0] == '#' {
			continue
		}
		return objLine.Match(append(line, ' '))
	}
	return false
}

// opened is a mesh's file, and what it says about itself.
type opened struct {
	surface
	format Format
	unit   float64 // mm to a unit; 0 where the file does not say
	close  func()
}

// open opens a mesh; the kinds that are held in memory are read whole. The error
// is a Fault or wraps that of the context.
func open(ctx context.Context, path string, progress func(float64)) (*opened, error) {
	f, err := keep.OpenPlain(path, largestFile)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err != nil {
		_ = f.Close() // nothing was written
		return nil, fault.OfFile(path, "cannot be read", "check the file and the disk it is on", err)
	}
	m := &opened{format: formatOf(f, info.Size()), close: func() { _ = f.Close() }}
	switch m.format {
	case stlFormat:
		m.surface, err = openSTL(f, info.Size(), progress)
	case objFormat:
		m.surface, err = readOBJ(ctx, told(f, info.Size(), progress))
	case threeMFFormat:
		var held *held
		if held, m.unit, err = read3MF(ctx, f, info.Size(), progress); err == nil {
			m.surface = held
		}
	default:
		err = fault.Fault{What: tongue.T("it is not a mesh that the program reads"), Mend: tongue.T("give an STL, OBJ or 3MF")}
	}
	if err != nil {
		m.close()
		return nil, err
	}
	return m, nil
}

// told is a reader that reports its progress.
func told(f *os.File, size int64, progress func(float64)) io.Reader {
	return &telling{r: f, size: size, progress: progress}
}

// telling reports the share of a file that has been read, at every hundredth.
type telling struct {
	r         io.Reader
	read      int64
	size      int64
	hundredth int64
	progress  func(float64)
}

func (t *telling) Read(p []byte) (int, error) {
	n, err := t.r.Read(p)
	t.read += int64(n)
	if h := t.read * 100 / max(t.size, 1); h > t.hundredth {
		t.hundredth = h
		t.progress(min(float64(h)/100, 1))
	}
	return n, err
}

// held is a mesh in memory whose corners are known by number.
type held struct {
	corners   []mgl64.Vec3
	triangles [][3]int32
}

func (h *held) each(ctx context.Context, visit func(*triangle) error) error {
	for i, t := range h.triangles {
		if i%lookEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if err := visit(&triangle{h.corners[t[0]], h.corners[t[1]], h.corners[t[2]]}); err != nil {
			return err
		}
	}
	return nil
}

// add adds a triangle; it is a fault if there are too many.
func (h *held) add(a, b, c int32) error {
	if len(h.triangles) >= mostTriangles {
		return fault.Fault{What: tongue.T("it has more than %d triangles, the most that the program reads", mostTriangles), Mend: tongue.T("export it coarser")}
	}
	h.triangles = append(h.triangles, [3]int32{a, b, c})
	return nil
}

// corner adds a corner; it is a fault if there are too many, or if it is not a
// point.
func (h *held) corner(p mgl64.Vec3) error {
	if len(h.corners) >= mostCorners {
		return fault.Fault{What: tongue.T("it has more than %d corners, the most that the program reads", mostCorners), Mend: tongue.T("export it coarser")}
	}
	if !finite(p) {
		return fault.Fault{What: tongue.T("corner %d is not finite", len(h.corners)+1), Mend: tongue.T("export the mesh again")}
	}
	h.corners = append(h.corners, p)
	return nil
}

// finite reports whether all coordinates of a corner are finite.
func finite(p mgl64.Vec3) bool {
	for _, v := range p {
		if math.IsNaN(v) || math.Abs(v) > math.MaxFloat32 {
			return false
		}
	}
	return true
}

// inWords is a format as shown to the builder.
func (f Format) inWords() string { return strings.ToUpper(string(f)) }
