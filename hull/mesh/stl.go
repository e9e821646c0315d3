package mesh

import (
	"bufio"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"os"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// stl is an STL that is read again on each pass.
type stl struct {
	file     *os.File
	size     int64
	binary   bool
	count    int64 // triangles, of a binary one
	progress func(float64)
}

func openSTL(f *os.File, size int64, progress func(float64)) (*stl, error) {
	head := make([]byte, min(size, headSize))
	if _, err := f.ReadAt(head, 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, tongue.Errorf("reading the beginning: %w", err)
	}
	s := &stl{file: f, size: size, binary: isBinarySTL(head, size), progress: progress}
	if !s.binary {
		return s, nil
	}
	s.count = int64(binary.LittleEndian.Uint32(head[80:]))
	if there := (size - stlHead) / stlTriangle; s.count > there {
		return nil, fault.Fault{What: tongue.T("it announces %d triangles and holds %d: the file is cut short", s.count, there), Mend: tongue.T("copy or export it again")}
	}
	return s, nil
}

func (s *stl) each(ctx context.Context, visit func(*triangle) error) error {
	if _, err := s.file.Seek(0, io.SeekStart); err != nil {
		return tongue.Errorf("reading the mesh again: %w", err)
	}
	r := bufio.NewReaderSize(told(s.file, s.size, s.progress), 1<<20)
	if s.binary {
		return s.eachBinary(ctx, r, visit)
	}
	return eachText(ctx, r, visit)
}

func (s *stl) eachBinary(ctx context.Context, r *bufio.Reader, visit func(*triangle) error) error {
	if _, err := r.Discard(stlHead); err != nil {
		return tongue.Errorf("reading the beginning: %w", err)
	}
	var b [stlTriangle]byte
	var t triangle
	for i := range s.count {
		if i%lookEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if _, err := io.ReadFull(r, b[:]); err != nil {
			return tongue.Errorf("reading triangle %d: %w", i+1, err)
		}
		for k := range 9 {
			t[k/3][k%3] = float64(math.Float32frombits(binary.LittleEndian.Uint32(b[12+4*k:])))
		}
		if !finite(t[0]) || !finite(t[1]) || !finite(t[2]) {
			return fault.Fault{What: tongue.T("a corner of triangle %d is not finite", i+1), Mend: tongue.T("export the mesh again")}
		}
		if err := visit(&t); err != nil {
			return err
		}
	}
	return nil
}

// eachText reads a text STL by its lines that begin with "vertex".
func eachText(ctx context.Context, r io.Reader, visit func(*triangle) error) error {
	lines := bufio.NewScanner(r)
	var t triangle
	line, n, ended := 0, 0, false
	for lines.Scan() {
		if line++; line%lookEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		words := strings.Fields(lines.Text())
		if len(words) == 0 {
			continue
		}
		switch strings.ToLower(words[0]) {
		case "endsolid":
			ended = true
		case "facet":
			n, ended = 0, false
		case "vertex":
			p, err := cornerOf(words[1:], line)
			if err != nil {
				return err
			}
			if n > 2 {
				return fault.Fault{Line: line, What: tongue.T("a facet has more than three corners"), Mend: tongue.T("export the mesh again as triangles")}
			}
			t[n] = p
			if n++; n < 3 {
				continue
			}
			if err := visit(&t); err != nil {
				return err
			}
		case "endfacet":
			if n != 3 {
				return fault.Fault{Line: line, What: tongue.T("a facet ends after %d of its three corners", n), Mend: tongue.T("export the mesh again")}
			}
		}
	}
	if err := lineFault(lines.Err(), line); err != nil {
		return err
	}
	if !ended {
		return fault.Fault{Line: line, What: tongue.T("the file ends before its endsolid: it is cut short"), Mend: tongue.T("copy or export it again")}
	}
	return nil
}

// lineFault words an error from reading by lines.
func lineFault(err error, line int) error {
	if errors.Is(err, bufio.ErrTooLong) {
		return fault.Fault{Line: line + 1, What: tongue.T("the line is too long for a mesh"), Mend: tongue.T("check that it is the right file")}
	}
	return err
}

// cornerOf reads the three numbers of a corner; further ones (a weight, a
// colour) are ignored.
func cornerOf(words []string, line int) (mgl64.Vec3, error) {
	var p mgl64.Vec3
	if len(words) < 3 {
		return p, fault.Fault{Line: line, What: tongue.T("a corner has fewer than three numbers"), Mend: tongue.T("give its x, y and z")}
	}
	for k := range p {
		v, err := number(words[k])
		if err != nil {
			return p, fault.Fault{Line: line, What: tongue.T("%s is not a number", fault.Name(words[k])), Mend: tongue.T("give the corner's x, y and z")}
		}
		p[k] = v
	}
	if !finite(p) {
		return p, fault.Fault{Line: line, What: tongue.T("a corner is not finite"), Mend: tongue.T("export the mesh again")}
	}
	return p, nil
}
