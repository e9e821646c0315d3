package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// SeenLine is a line, or an edge of what is built, as far as it is seen.
type SeenLine struct {
	Points [][2]float64 // x to the right, y downwards, in pixels of the view
	Kind   Kind
	Edge   bool    // an edge against which something is seen, and no line of the scene
	Width  float64 // pixels, drawn finer where lines of its kind come close
	Dotted bool
}

// SeenFace is a triangle of a chosen strake that is seen.
type SeenFace [3][2]float64

// finely is to how many pixels, at most, the depth of a view is drawn to tell what is
// seen, and how much finer than the view at most.
const finely, finest = 8e6, 3.0

// creased is the cosine of the least angle between two faces of timber whose edge is drawn.
const creased = 0.8

// Seen gives what is seen of a scene by a camera in a view of w x h pixels, to be drawn in
// lines: its lines and edges, and before them the faces of what is chosen. What is hidden
// is told by the depth at every pixel of a finer view, so that a line ends within a pixel
// of where it is hidden.
func Seen(s *Scene, c Camera, w, h int) (faces []SeenFace, lines []SeenLine) {
	times := math.Max(1, math.Min(finest, math.Sqrt(finely/float64(max(w*h, 1)))))
	big := c
	big.Zoom, big.PanX, big.PanY = c.Zoom*times, c.PanX*times, c.PanY*times
	e := eyed{times: times, w: int(float64(w) * times), h: int(float64(h) * times), zoom: c.Zoom}
	var r Renderer
	r.Render(s, big, &Light, e.w, e.h)
	e.w, e.h, e.depth, e.tags = r.img.Rect.Dx(), r.img.Rect.Dy(), r.seen.depth, r.seen.tags
	e.m, e.bias = big.matrix(e.w, e.h), lineBias(big)
	for _, part := range s.parts() {
		faces = append(faces, e.faces(part)...)
		for _, built := range []bool{true, false} {
			e.built = built
			for _, l := range edgesOf(part, &e) {
				lines = append(lines, e.line(l, SeenLine{Edge: true, Width: edgeWidth})...)
			}
		}
		e.built = false
	}
	for _, part := range s.parts() {
		for i := range part.Lines {
			l := &part.Lines[i]
			lines = append(lines, e.line(l.Points, SeenLine{Kind: l.Kind, Width: e.width(l), Dotted: l.Dotted})...)
		}
	}
	return faces, lines
}

// edgeWidth is that of an edge, pixels.
const edgeWidth = 0.9

// eyed is what is seen from where the eye is.
type eyed struct {
	m     mgl64.Mat4
	times float64 // so many pixels of the depth to one of the view
	w, h  int
	depth []float32
	tags  []Tag
	built bool // what is looked for is of keel, posts and frames, on which the planking lies
	bias  float32
	zoom  float64
}

// width is that of a line, finer where it comes close to its neighbours, as in newPen.
func (e *eyed) width(l *Polyline) float64 {
	width := math.Max(l.Width, 0.8)
	if l.Gap <= 0 {
		return width
	}
	near := math.Max(0, math.Min(1, (l.Gap*e.zoom-nearestLines)/(fineLines-nearestLines)))
	return width * (0.35 + 0.65*near)
}

// seen tells whether a place of the finer view is.
func (e *eyed) seen(x, y, z float32) bool {
	px, py := int(math.Floor(float64(x))), int(math.Floor(float64(y)))
	return px >= 0 && py >= 0 && px < e.w && py < e.h && z >= 0 && z-e.bias <= e.depth[py*e.w+px] && (!e.built || e.builtAt(px, py))
}

// builtAt tells whether something built is seen at a pixel or beside it: an edge of a frame
// that lies against the planking is as near as that, but behind it.
func (e *eyed) builtAt(px, py int) bool {
	for y := max(py-1, 0); y <= min(py+1, e.h-1); y++ {
		for x := max(px-1, 0); x <= min(px+1, e.w-1); x++ {
			if e.tags[y*e.w+x].Strake == Built {
				return true
			}
		}
	}
	return false
}

// Runs of a line shorter than these, in pixels of the finer view, are not told apart:
// where a line lies along a fold, every other pixel may hide it.
const shortestGap, shortestRun = 3.0, 2.0

// line gives the parts of a line that are seen.
func (e *eyed) line(pts []mgl64.Vec3, as SeenLine) (out []SeenLine) {
	var run [][2]float64
	var unseen float64 // how far the line was hidden since the last point of the run
	end := func() {
		if length(run)*e.times >= shortestRun {
			l := as
			l.Points = fewer(run)
			out = append(out, l)
		}
		run, unseen = nil, 0
	}
	for i := 1; i < len(pts); i++ {
		ax, ay, az := project(&e.m, pts[i-1])
		bx, by, bz := project(&e.m, pts[i])
		long := math.Hypot(float64(bx-ax), float64(by-ay))
		n := max(int(math.Ceil(long)), 1)
		if !(long < 1e6) {
			end()
			continue
		}
		for k := 0; k <= n; k++ {
			t := float32(k) / float32(n)
			x, y := ax+(bx-ax)*t, ay+(by-ay)*t
			if e.seen(x, y, az+(bz-az)*t) {
				run, unseen = append(run, [2]float64{float64(x) / e.times, float64(y) / e.times}), 0
				continue
			}
			if unseen += long / float64(n); unseen > shortestGap {
				end()
			}
		}
	}
	end()
	return out
}

// length is how long a run is.
func length(run [][2]float64) float64 {
	sum := 0.0
	for i := 1; i < len(run); i++ {
		sum += math.Hypot(run[i][0]-run[i-1][0], run[i][1]-run[i-1][1])
	}
	return sum
}

// thinnest is how far, in pixels of the view, a run may be from the points left out of it.
const thinnest = 0.08

// fewer leaves out the points of a run that lie on the straight between others.
func fewer(run [][2]float64) [][2]float64 {
	out := [][2]float64{run[0]}
	for from := 0; from < len(run)-1; {
		to := from + 1
		for step := 1; step > 0; {
			if to+step < len(run) && onOneLine(run[from:to+step+1]) {
				to, step = to+step, 2*step
			} else {
				step /= 2
			}
		}
		out, from = append(out, run[to]), to
	}
	return out
}

// onOneLine tells whether all points lie on the line from the first to the last.
func onOneLine(run [][2]float64) bool {
	a, b := run[0], run[len(run)-1]
	dx, dy := b[0]-a[0], b[1]-a[1]
	long := math.Hypot(dx, dy)
	if long < 1e-9 {
		return len(run) == 2
	}
	for _, p := range run[1 : len(run)-1] {
		if math.Abs((p[0]-a[0])*dy-(p[1]-a[1])*dx) > thinnest*long {
			return false
		}
	}
	return true
}

// faces gives the triangles of what is chosen that are seen.
func (e *eyed) faces(part *Scene) (out []SeenFace) {
	for i := range part.Triangles {
		t := &part.Triangles[i]
		if !t.Chosen {
			continue
		}
		a, b, c := part.Vertices[t.A].At, part.Vertices[t.B].At, part.Vertices[t.C].At
		if x, y, z := project(&e.m, a.Add(b).Add(c).Mul(1.0/3)); !e.seen(x, y, z) {
			continue
		}
		var f SeenFace
		for k, p := range []mgl64.Vec3{a, b, c} {
			x, y, _ := project(&e.m, p)
			f[k] = [2]float64{float64(x) / e.times, float64(y) / e.times}
		}
		out = append(out, f)
	}
	return out
}

// welded is a place to a hundredth of a millimetre, by which corners of triangles that
// lie on each other are told to be one.
type welded [3]int32

func weld(p mgl64.Vec3) welded {
	return welded{int32(math.Round(p[0] * 100)), int32(math.Round(p[1] * 100)), int32(math.Round(p[2] * 100))}
}

// side is a triangle at an edge.
type side struct {
	from, to welded // as it goes round the triangle
	turn     float64
	normal   mgl64.Vec3
	of       Material
}

// edgesOf gives the edges of a part of a scene, of what is built or of all else, that make
// its outline, as chains of points: those at which it ends, those between a face that is turned to the eye and one that is
// not, and, of timber, those where two faces meet at an angle.
func edgesOf(part *Scene, e *eyed) [][]mgl64.Vec3 {
	at := map[welded]mgl64.Vec3{}
	sides := map[[2]welded][]side{}
	var order [][2]welded // so that the same scene gives the same lines
	for i := range part.Triangles {
		t := &part.Triangles[i]
		if (t.Tag.Strake == Built) != e.built {
			continue
		}
		var p [3]mgl64.Vec3
		var k [3]welded
		var s [3][2]float64
		for j, v := range []int32{t.A, t.B, t.C} {
			p[j] = part.Vertices[v].At
			k[j] = weld(p[j])
			at[k[j]] = p[j]
			x, y, _ := project(&e.m, p[j])
			s[j] = [2]float64{float64(x), float64(y)}
		}
		n := p[1].Sub(p[0]).Cross(p[2].Sub(p[0]))
		if n.Len() < 1e-9 {
			continue
		}
		turn := (s[1][0]-s[0][0])*(s[2][1]-s[0][1]) - (s[2][0]-s[0][0])*(s[1][1]-s[0][1])
		for j := range 3 {
			a, b := k[j], k[(j+1)%3]
			if a == b {
				continue
			}
			edge := edgeOf(a, b)
			if sides[edge] == nil {
				order = append(order, edge)
			}
			sides[edge] = append(sides[edge], side{a, b, turn, n.Normalize(), part.Vertices[t.A].Of})
		}
	}
	var drawn [][2]welded
	for _, edge := range order {
		if isEdge(sides[edge]) {
			drawn = append(drawn, edge)
		}
	}
	return chained(drawn, at)
}

// edgeOf is an edge between two places, whichever way it is gone along.
func edgeOf(a, b welded) [2]welded {
	for k := range a {
		if a[k] != b[k] {
			if a[k] > b[k] {
				a, b = b, a
			}
			break
		}
	}
	return [2]welded{a, b}
}

// isEdge tells whether the outline runs along an edge with these triangles at it.
func isEdge(s []side) bool {
	if len(s) != 2 {
		return len(s) == 1
	}
	a, b := s[0], s[1]
	same := a.from == b.to // both go round the same way
	turned := (a.turn > 0) == (b.turn > 0)
	dot := a.normal.Dot(b.normal)
	if !same {
		turned, dot = !turned, -dot
	}
	return !turned || a.of != Plank && dot < creased
}

// chained joins edges that end at each other.
func chained(edges [][2]welded, at map[welded]mgl64.Vec3) (out [][]mgl64.Vec3) {
	ends := map[welded][]int{}
	for i, e := range edges {
		ends[e[0]], ends[e[1]] = append(ends[e[0]], i), append(ends[e[1]], i)
	}
	used := make([]bool, len(edges))
	follow := func(i int, from welded) {
		chain := []mgl64.Vec3{at[from]}
		for i >= 0 {
			used[i] = true
			to := edges[i][0]
			if to == from {
				to = edges[i][1]
			}
			chain = append(chain, at[to])
			from, i = to, -1
			if len(ends[from]) == 2 {
				for _, next := range ends[from] {
					if !used[next] {
						i = next
					}
				}
			}
		}
		out = append(out, chain)
	}
	for i, e := range edges { // first those that have an end
		for _, end := range e {
			if !used[i] && len(ends[end]) != 2 {
				follow(i, end)
			}
		}
	}
	for i, e := range edges {
		if !used[i] {
			follow(i, e[0])
		}
	}
	return out
}
