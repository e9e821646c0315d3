package mesh

import (
	"bufio"
	"context"
	"io"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// number reads a number with a decimal point.
func number(s string) (float64, error) { return strconv.ParseFloat(s, 64) }

// longestLine is the most bytes in a line of an OBJ: a face with many corners.
const longestLine = 1 << 20

// readOBJ reads corners and faces; faces with more than three corners are
// divided from their first corner.
func readOBJ(ctx context.Context, r io.Reader) (*held, error) {
	h := &held{}
	lines := bufio.NewScanner(r)
	lines.Buffer(make([]byte, 64<<10), longestLine)
	var face []int32
	line, before := 0, ""
	for lines.Scan() {
		if line++; line%lookEvery == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		text := lines.Text()
		if on, more := strings.CutSuffix(strings.TrimRight(text, "\r"), `\`); more && len(before) < longestLine {
			before += on + " "
			continue
		}
		text, before = before+text, ""
		words := strings.Fields(text)
		if len(words) == 0 {
			continue
		}
		var err error
		switch words[0] {
		case "v":
			p, wrong := cornerOf(words[1:], line)
			if err = wrong; err == nil {
				err = h.corner(p)
			}
		case "f":
			if face, err = faceOf(words[1:], len(h.corners), face[:0], line); err == nil {
				err = h.fan(face)
			}
		}
		if err != nil {
			return nil, err
		}
	}
	return h, lineFault(lines.Err(), line)
}

// faceOf reads the corners of a face, such as 3, 3/1, 3//2 or 3/1/2, counted from
// 1, or back from the last if negative.
func faceOf(words []string, corners int, face []int32, line int) ([]int32, error) {
	for _, w := range words {
		if w[0] == '#' {
			break
		}
		at, _, _ := strings.Cut(w, "/")
		i, err := strconv.Atoi(at)
		switch {
		case err != nil:
			return nil, fault.Fault{Line: line, What: tongue.T("%s is not a corner of a face", fault.Name(w)), Mend: tongue.T("export the mesh again")}
		case i < 0:
			i += corners
		default:
			i--
		}
		if i < 0 || i >= corners {
			return nil, fault.Fault{Line: line, What: tongue.T("a face names corner %s, and there are %d so far", at, corners), Mend: tongue.T("export the mesh again")}
		}
		face = append(face, int32(i))
	}
	return face, nil
}

// fan divides a face into triangles; one with fewer than three corners has
// none.
func (h *held) fan(face []int32) error {
	for k := 2; k < len(face); k++ {
		if err := h.add(face[0], face[k-1], face[k]); err != nil {
			return err
		}
	}
	return nil
}
