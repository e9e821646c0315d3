package window

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"strakewright/app/draw/views"
	"strakewright/hull"
)

// outlineUse is what the builder says that the lines of a drawing are.
type outlineUse struct {
	path  string
	lines []hull.Outline // Frame and Mark as they are meant; Mark is views.Unused of what is not read
	x     hull.Stations  // of the frames, as far as they are known
	half  half           // what is taken of whole outlines
}

// half is what is taken of outlines that have both halves.
type half int

// Both halves and their mean, or the one to a side of the centre line.
const (
	bothHalves half = iota
	rightHalf
	leftHalf
)

// useOf is what the drawing itself says.
func useOf(path string, c *hull.Checked) outlineUse {
	u := outlineUse{path: path, lines: slices.Clone(c.Drawing.Outlines), x: hull.Stations{}}
	for i := range u.lines {
		if o := &u.lines[i]; o.Frame == "" && o.Mark == "" {
			o.Mark = views.Unused
		}
	}
	if c.Hull != nil {
		for _, f := range c.Hull.Frames {
			u.x[f.Name] = f.X()
		}
	}
	u.namedStations()
	return u
}

// namedStations finds, in the names of the file, where frames stand that could
// not be read for another fault.
func (u *outlineUse) namedStations() {
	var text []byte
	for i := range u.lines {
		name := u.lines[i].Frame
		if _, known := u.x[name]; known || name == "" {
			continue
		}
		if text == nil {
			data, err := os.ReadFile(u.path)
			if err != nil {
				return
			}
			text = data
		}
		said := regexp.MustCompile(`(?i)(?:^|["'>\s])(?:frame[-_ ])?` + regexp.QuoteMeta(name) + `[-_ ]x[-_ ](-?\d+(?:[.,]\d+)?) ?(mm|cm|in)?(?:$|["'<\s])`)
		if m := said.FindSubmatch(text); m != nil {
			v, err := strconv.ParseFloat(strings.Replace(string(m[1]), ",", ".", 1), 64)
			if err == nil {
				u.x[name] = v * map[string]float64{"": 1, "mm": 1, "cm": 10, "in": 25.4}[strings.ToLower(string(m[2]))]
			}
		}
	}
}

// read makes the hull of the lines as they are meant, by the same reader that
// reads drawings: they are written out as one, under the names it goes by.
func (u *outlineUse) read() (*hull.Drawing, []hull.Fault) {
	x := hull.Stations{}
	for i := range u.lines {
		o := &u.lines[i]
		if o.Mark != "" {
			continue
		}
		v, known := u.x[o.Frame]
		if o.Frame == "" || !known || math.IsNaN(v) {
			return &hull.Drawing{}, []hull.Fault{{Frame: o.Frame, What: fmt.Sprintf("outline %d has no %s", i+1, map[bool]string{true: "name of its frame", false: "x"}[o.Frame == ""]), Mend: "choose it in the list and type it, or set it to \"not used\""}}
		}
		x[o.Frame] = v
	}
	if len(x) == 0 {
		return &hull.Drawing{}, []hull.Fault{{What: "no outline is a frame's yet", Mend: "choose each in the list, or on the drawing, and type its frame and x"}}
	}
	d, faults := hull.CheckSVG(bytes.NewReader(u.svg()), "", x)
	for i := range faults {
		faults[i].Line = 0 // of what was written out, not of the builder's file
	}
	return d, faults
}

// svg writes the lines out, each under the name of what it is.
func (u *outlineUse) svg() []byte {
	var b bytes.Buffer
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" width="1000mm" height="1000mm" viewBox="0 0 1000 1000">` + "\n")
	for i := range u.lines {
		o := &u.lines[i]
		if o.Mark == views.Unused || len(o.Points) == 0 {
			continue
		}
		name := "frame-" + o.Frame
		if o.Mark != "" {
			name = strings.TrimSuffix(o.Mark+"-"+o.Frame, "-")
		}
		parts := []hull.Outline{*o}
		if o.Mark == "" && u.half != bothHalves {
			parts = halved(o, u.centre(o.Frame), u.half)
		}
		b.WriteString(`<g id="`)
		_ = xml.EscapeText(&b, []byte(name)) // a buffer takes all
		b.WriteString(`">`)
		for k := range parts {
			writePath(&b, &parts[k])
		}
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// writePath writes one line, y downwards; a point as a small circle.
func writePath(b *bytes.Buffer, o *hull.Outline) {
	pts := o.Points
	if len(pts) == 1 {
		fmt.Fprintf(b, `<circle cx="%.5f" cy="%.5f" r="0.1"/>`, pts[0][0], -pts[0][1])
		return
	}
	if n := len(pts); o.Closed && pts[0].Sub(pts[n-1]).Len() < 1e-6 {
		pts = pts[:n-1]
	}
	b.WriteString(`<path d="`)
	for j, p := range pts {
		fmt.Fprintf(b, "%c%.5f %.5f", "ML"[min(j, 1)], p[0], -p[1])
	}
	if o.Closed {
		b.WriteString("Z")
	}
	b.WriteString(`"/>`)
}

// centre is where the centre line of a frame is: its mark, or that of all
// frames, or else the middle of its outlines.
func (u *outlineUse) centre(frame string) float64 {
	for _, of := range []string{frame, ""} {
		if lo, hi := u.breadth("centre", of); lo <= hi {
			return (lo + hi) / 2
		}
	}
	lo, hi := u.breadth("", frame)
	return (lo + hi) / 2
}

// breadth is from where to where across the lines of a mark and frame go; the
// first is the greater where there are none.
func (u *outlineUse) breadth(mark, frame string) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range u.lines {
		if o := &u.lines[i]; o.Mark == mark && o.Frame == frame {
			for _, p := range o.Points {
				lo, hi = min(lo, p[0]), max(hi, p[0])
			}
		}
	}
	return lo, hi
}

// halved gives what of an outline lies to one side of a centre line, cut there.
// A closed outline comes in one piece where it crosses the line twice: it is
// begun on the other side.
func halved(o *hull.Outline, centre float64, side half) []hull.Outline {
	sign := 1.0
	if side == leftHalf {
		sign = -1
	}
	pts := o.Points
	off := func(p mgl64.Vec2) float64 { return sign * (p[0] - centre) }
	if n := len(pts); o.Closed && n > 2 {
		ring := pts
		if pts[0].Sub(pts[n-1]).Len() < 1e-6 {
			ring = pts[:n-1]
		}
		if k := slices.IndexFunc(ring, func(p mgl64.Vec2) bool { return off(p) < 0 }); k >= 0 {
			pts = append(slices.Concat(ring[k:], ring[:k]), ring[k])
		} else {
			return []hull.Outline{*o}
		}
	}
	var out []hull.Outline
	var run []mgl64.Vec2
	end := func() {
		if len(run) > 1 {
			out = append(out, hull.Outline{Points: run})
		}
		run = nil
	}
	for i, p := range pts {
		if i > 0 && (off(pts[i-1]) < 0) != (off(p) < 0) {
			t := off(pts[i-1]) / (off(pts[i-1]) - off(p))
			run = append(run, pts[i-1].Add(p.Sub(pts[i-1]).Mul(t)))
		}
		if off(p) < 0 {
			end()
			continue
		}
		run = append(run, p)
	}
	end()
	return out
}
