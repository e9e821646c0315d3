package draw

// clipLine gives the parts of a line within a box, each segment clipped by the
// method of Liang and Barsky (ACM Transactions on Graphics 3, 1984).
func clipLine(pts []Point, b box) [][]Point {
	if inside(pts, b) {
		return [][]Point{pts}
	}
	var out [][]Point
	var run []Point
	for i := 1; i < len(pts); i++ {
		p, q, ok := clipSegment(pts[i-1], pts[i], b)
		if !ok {
			continue
		}
		if len(run) == 0 || run[len(run)-1] != p {
			if len(run) > 1 {
				out = append(out, run)
			}
			run = []Point{p}
		}
		run = append(run, q)
	}
	if len(run) > 1 {
		out = append(out, run)
	}
	return out
}

func inside(pts []Point, b box) bool {
	for _, p := range pts {
		if p.X < b.x0 || p.X > b.x1 || p.Y < b.y0 || p.Y > b.y1 {
			return false
		}
	}
	return true
}

func clipSegment(p, q Point, b box) (Point, Point, bool) {
	dx, dy := q.X-p.X, q.Y-p.Y
	t0, t1 := 0.0, 1.0
	for _, side := range [4][2]float64{{-dx, p.X - b.x0}, {dx, b.x1 - p.X}, {-dy, p.Y - b.y0}, {dy, b.y1 - p.Y}} {
		towards, room := side[0], side[1]
		switch t := room / towards; {
		case towards == 0:
			if room < 0 {
				return p, q, false
			}
		case towards < 0:
			t0 = max(t0, t)
		default:
			t1 = min(t1, t)
		}
	}
	if t0 > t1 {
		return p, q, false
	}
	from, to := p, q
	if t0 > 0 {
		from = Pt(p.X+dx*t0, p.Y+dy*t0)
	}
	if t1 < 1 {
		to = Pt(p.X+dx*t1, p.Y+dy*t1)
	}
	return from, to, true
}

// clipArea gives the part of a polygon within a box, clipped side by side by
// the method of Sutherland and Hodgman (Communications of the ACM 17, 1974).
func clipArea(pts []Point, b box) []Point {
	if inside(pts, b) {
		return pts
	}
	room := [4]func(Point) float64{
		func(p Point) float64 { return p.X - b.x0 },
		func(p Point) float64 { return b.x1 - p.X },
		func(p Point) float64 { return p.Y - b.y0 },
		func(p Point) float64 { return b.y1 - p.Y },
	}
	for _, f := range room {
		var kept []Point
		for i, p := range pts {
			q := pts[(i+1)%len(pts)]
			a, z := f(p), f(q)
			if a >= 0 {
				kept = append(kept, p)
			}
			if (a < 0) != (z < 0) {
				t := a / (a - z)
				kept = append(kept, Pt(p.X+(q.X-p.X)*t, p.Y+(q.Y-p.Y)*t))
			}
		}
		pts = kept
	}
	return pts
}
