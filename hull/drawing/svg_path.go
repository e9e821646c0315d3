package drawing

import (
	"math"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
)

// pathData draws the path data of SVG (W3C, Scalable Vector Graphics 2, 9.3). The
// available libraries either keep coordinates to 1/64 of a unit, or bring a
// typesetter, fonts and other versions of the window's own libraries with them and
// put no bound on what they keep (see the contributors' guide); so it is read
// here. wrong describes an error as the end of a sentence; everything before the
// error has been drawn, as 9.5.4 requires.
func pathData(d string, p *pen) (wrong string) {
	s := &pathScanner{text: d}
	var last byte          // the command before
	var control mgl64.Vec2 // the last control point, for smooth curves
	command := byte(0)
	for {
		s.space()
		if s.done() || p.spent() {
			p.lift()
			return ""
		}
		if c := s.text[s.at]; strings.IndexByte("MmLlHhVvCcSsQqTtAaZz", c) >= 0 {
			command = c
			s.at++
		} else if command == 0 || command == 'Z' || command == 'z' {
			p.lift()
			return tongue.T("has %q where a command should be", c)
		}
		if last == 0 && command != 'M' && command != 'm' {
			return tongue.T("does not begin with a move")
		}
		relative := command >= 'a'
		from := mgl64.Vec2{}
		if relative {
			from = p.at
		}
		var v [7]float64
		letter := command &^ 0x20
		for k := range arguments[letter] {
			var ok bool
			if letter == 'A' && (k == 3 || k == 4) {
				v[k], ok = s.flag()
			} else {
				v[k], ok = s.number()
			}
			if !ok {
				p.lift()
				if !s.done() {
					return tongue.T("has %q after the command %c", s.text[s.at], command)
				}
				return tongue.T("breaks off after the command %c", command)
			}
		}
		point := func(k int) mgl64.Vec2 { return from.Add(mgl64.Vec2{v[k], v[k+1]}) }
		mirrored := func(letters string) mgl64.Vec2 {
			if strings.IndexByte(letters, last&^0x20) >= 0 {
				return p.at.Mul(2).Sub(control)
			}
			return p.at
		}
		if letter != 'M' && letter != 'Z' && len(p.cur.pts) == 0 { // after a close
			p.move(p.at)
		}
		switch letter {
		case 'M':
			p.move(point(0))
		case 'L':
			p.lineTo(point(0))
		case 'H':
			p.lineTo(mgl64.Vec2{from[0] + v[0], p.at[1]})
		case 'V':
			p.lineTo(mgl64.Vec2{p.at[0], from[1] + v[0]})
		case 'C':
			control = point(2)
			p.cubic(point(0), control, point(4))
		case 'S':
			b := mirrored("CS")
			control = point(0)
			p.cubic(b, control, point(2))
		case 'Q':
			control = point(0)
			p.quadratic(control, point(2))
		case 'T':
			control = mirrored("QT")
			p.quadratic(control, point(0))
		case 'A':
			p.ellipticArc(v[0], v[1], v[2], v[3] != 0, v[4] != 0, point(5))
		case 'Z':
			p.close()
		}
		last = command
		switch command { // further pairs after a move are lines
		case 'M':
			command = 'L'
		case 'm':
			command = 'l'
		}
	}
}

// arguments is the number of figures that each command takes.
var arguments = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

// quadratic draws a Bézier curve of degree two as one of degree three.
func (p *pen) quadratic(b, c mgl64.Vec2) {
	a := p.at
	p.cubic(a.Add(b.Sub(a).Mul(2./3)), c.Add(b.Sub(c).Mul(2./3)), c)
}

// ellipticArc draws SVG's elliptical arc to a point (SVG 2, B.2.4 and B.2.5).
func (p *pen) ellipticArc(rx, ry, degrees float64, large, sweep bool, to mgl64.Vec2) {
	a := p.at
	rx, ry = math.Abs(rx), math.Abs(ry)
	if rx == 0 || ry == 0 || a == to {
		p.lineTo(to)
		return
	}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	half := a.Sub(to).Mul(0.5)
	x, y := cos*half[0]+sin*half[1], -sin*half[0]+cos*half[1]
	if over := x*x/(rx*rx) + y*y/(ry*ry); over > 1 {
		rx, ry = rx*math.Sqrt(over), ry*math.Sqrt(over)
	}
	k := math.Sqrt(max((rx*rx*ry*ry-rx*rx*y*y-ry*ry*x*x)/(rx*rx*y*y+ry*ry*x*x), 0))
	if large == sweep {
		k = -k
	}
	cx, cy := k*rx*y/ry, -k*ry*x/rx
	centre := a.Add(to).Mul(0.5).Add(mgl64.Vec2{cos*cx - sin*cy, sin*cx + cos*cy})
	from := math.Atan2((y-cy)/ry, (x-cx)/rx)
	turn := math.Atan2((-y-cy)/ry, (-x-cx)/rx) - from
	switch {
	case sweep && turn < 0:
		turn += 2 * math.Pi
	case !sweep && turn > 0:
		turn -= 2 * math.Pi
	}
	p.arc(centre, mgl64.Vec2{cos * rx, sin * rx}, mgl64.Vec2{-sin * ry, cos * ry}, from, from+turn)
	p.at = to
}

// pathScanner reads the numbers of path data, of points and of transforms.
type pathScanner struct {
	text string
	at   int
}

func (s *pathScanner) done() bool { return s.at >= len(s.text) }

// space skips white space and commas.
func (s *pathScanner) space() {
	for !s.done() && strings.IndexByte(" \t\r\n\f,", s.text[s.at]) >= 0 {
		s.at++
	}
}

// flag reads the 0 or 1 of an arc, which needs no separator after it.
func (s *pathScanner) flag() (float64, bool) {
	s.space()
	if s.done() || (s.text[s.at] != '0' && s.text[s.at] != '1') {
		return 0, false
	}
	s.at++
	return float64(s.text[s.at-1] - '0'), true
}

// number reads a number, which ends where it cannot continue, as in "1.5.5-2".
func (s *pathScanner) number() (float64, bool) {
	s.space()
	start := s.at
	digits := func() bool {
		from := s.at
		for !s.done() && s.text[s.at] >= '0' && s.text[s.at] <= '9' {
			s.at++
		}
		return s.at > from
	}
	sign := func() {
		if !s.done() && (s.text[s.at] == '-' || s.text[s.at] == '+') {
			s.at++
		}
	}
	sign()
	whole := digits()
	if !s.done() && s.text[s.at] == '.' {
		s.at++
		whole = digits() || whole
	}
	if !whole {
		return 0, false
	}
	if mantissa := s.at; !s.done() && s.text[s.at]|0x20 == 'e' {
		s.at++
		if sign(); !digits() {
			s.at = mantissa // the e of a unit, as in em
		}
	}
	v, err := strconv.ParseFloat(s.text[start:s.at], 64)
	return v, err == nil
}

// svgTransform reads SVG's transform attribute.
func svgTransform(text string) (m mgl64.Mat3, ok bool) {
	m = mgl64.Ident3()
	s := &pathScanner{text: text}
	for s.space(); !s.done(); s.space() {
		end := strings.IndexByte(s.text[s.at:], '(')
		if end < 0 {
			return m, false
		}
		name := strings.TrimSpace(s.text[s.at : s.at+end])
		s.at += end + 1
		var v []float64
		for {
			s.space()
			if s.done() {
				return m, false
			}
			if s.text[s.at] == ')' {
				s.at++
				break
			}
			x, ok := s.number()
			if !ok || len(v) == 6 {
				return m, false
			}
			v = append(v, x)
		}
		step, ok := oneTransform(name, v)
		if !ok {
			return m, false
		}
		m = m.Mul3(step)
	}
	return m, true
}

// oneTransform is a single step of a transform.
func oneTransform(name string, v []float64) (mgl64.Mat3, bool) {
	n := len(v)
	at := func(k int, other float64) float64 {
		if k < n {
			return v[k]
		}
		return other
	}
	switch {
	case name == "matrix" && n == 6:
		return mgl64.Mat3{v[0], v[1], 0, v[2], v[3], 0, v[4], v[5], 1}, true
	case name == "translate" && (n == 1 || n == 2):
		return mgl64.Translate2D(v[0], at(1, 0)), true
	case name == "scale" && (n == 1 || n == 2):
		return mgl64.Scale2D(v[0], at(1, v[0])), true
	case name == "rotate" && (n == 1 || n == 3):
		x, y := at(1, 0), at(2, 0)
		return mgl64.Translate2D(x, y).Mul3(mgl64.HomogRotate2D(v[0] * math.Pi / 180)).Mul3(mgl64.Translate2D(-x, -y)), true
	case name == "skewX" && n == 1:
		return mgl64.Mat3{1, 0, 0, math.Tan(v[0] * math.Pi / 180), 1, 0, 0, 0, 1}, true
	case name == "skewY" && n == 1:
		return mgl64.Mat3{1, math.Tan(v[0] * math.Pi / 180), 0, 0, 1, 0, 0, 0, 1}, true
	}
	return mgl64.Ident3(), false
}
