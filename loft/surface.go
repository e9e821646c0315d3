package loft

import (
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/curve"
)

const (
	stationsPerBay  = 4  // stations from one frame to the next
	leastKnots      = 32 // knots down the girth, over all panels
	mostKnots       = 64
	leastPanelKnots = 8
	// beyond is how far, as a share of the girth, the surface extends past its limits, each
	// frame continued straight.
	beyond = 0.5
)

// Surface is the planking surface of one layer: a bicubic through the frames, C2 along
// the length and down the girth, except at the knuckles, where two panels meet in a
// corner. u runs along the length and is constant down a frame; v runs down from 0 at
// the upper to 1 at the lower limit, at each frame in proportion to the girth (within
// each panel where there are knuckles). Past the limits every frame continues straight.
type Surface struct {
	names    []string
	u        []float64   // of every frame
	breaks   []float64   // v of the limits and of the knuckle lines between
	girths   [][]float64 // [frame][break], mm
	panels   []panel
	parts    int // cells of a bay along the length, evenly spaced in u; 1 unless made by loftOwn
	stations []float64
	columns  []column

	first, last int           // the frames between which the hull is planked
	planes      []*hull.Plane // in which each frame stands; nil for an end curve that is neither square nor a plane transom

	folds []Folds // where the layer below is thinned, on a surface made by offset

	turns []TurnsBetween // only of the surface of the frames

	shapeless bool // the frames represent girths alone: see ErrShapeless

	easeInfluences func() []influence // for the knots of ease, made when first needed
	middles        *middles           // the last surface of mid-thickness asked for
}

// panel is the part of the surface between two knuckle lines (or limits).
type panel struct {
	v     []float64 // knots, evenly spaced
	cells [][]cell  // [part of a bay][span of v]
}

// cell holds Σ c[i][j]·s^i·t^j with s, t from its corner of least u and v.
type cell [4][4]mgl64.Vec3

// Loft makes the planking surface through the frames (three or more, by rising x, each
// with two or more distinct points). Each frame is resampled by girth. Along the
// length, for every v, runs the C2 cubic over the chord from frame to frame: over the
// mean of the chords down the girth or, where the hull turns so much at a bluff bow
// that it matters, over those of every v itself (loftOwn). Where that folds, the cubic
// runs over the square root of the chord (the centripetal parameter; Lee,
// Computer-Aided Design 21, 1989). That parameter suits points that turn sharply; over
// unevenly spaced frames on a hull that does not, it leaves waves of up to thirty times
// the error. The error names the frames between which it folds.
func Loft(frames []hull.Frame) (*Surface, error) {
	curves, err := frameCurves(frames)
	if err != nil {
		return nil, err
	}
	return loftCurves(frames, curves)
}

// frameCurves fits the outlines of three or more frames.
func frameCurves(frames []hull.Frame) ([]*curve.Outline, error) {
	if len(frames) < 3 {
		return nil, tongue.Errorf("the hull has %d frames: a surface needs at least three", len(frames))
	}
	return curve.Outlines(frames)
}

// loftCurves makes the surface through curves of the frames, all planked.
func loftCurves(frames []hull.Frame, curves []*curve.Outline) (*Surface, error) {
	s := &Surface{names: make([]string, len(frames)), last: len(frames) - 1}
	points := 0
	for i := range frames {
		s.names[i] = frames[i].Name
		s.planes = append(s.planes, planeOf(frames[i]))
		points = max(points, len(frames[i].Points))
	}
	s.girths = curve.KnuckleLines(curves)
	s.placeBreaks(min(max(2*points, leastKnots), mostKnots))
	grid := s.resample(curves)
	var err error
	for _, way := range s.ways(grid) {
		way(grid)
		s.placeStations()
		if err = s.fold(); err == nil {
			return s, nil
		}
	}
	return nil, err
}

// ways are the ways to run along the length through the points of the frames, the best
// first.
func (s *Surface) ways(grid [][][]mgl64.Vec3) []func([][][]mgl64.Vec3) {
	common := func(power float64) func([][][]mgl64.Vec3) {
		return func(grid [][][]mgl64.Vec3) {
			s.u, s.parts = curve.LengthParameter(grid, power), 1
			s.fit(s.u, grid, nil)
		}
	}
	if ownMatters(grid) {
		return []func([][][]mgl64.Vec3){s.loftOwn, common(1), common(0.5)}
	}
	return []func([][][]mgl64.Vec3){common(1), s.loftOwn, common(0.5)}
}

// placeBreaks gives every knuckle line its v, the mean of its shares of the girth over
// the frames, and every panel its knots.
func (s *Surface) placeBreaks(knots int) {
	n := len(s.girths[0])
	s.breaks = make([]float64, n)
	for _, g := range s.girths {
		for k := range g {
			s.breaks[k] += g[k] / g[n-1] / float64(len(s.girths))
		}
	}
	s.breaks[0], s.breaks[n-1] = 0, 1
	for k := 1; k < n; k++ {
		lo, hi := s.breaks[k-1], s.breaks[k]
		m := max(int(math.Ceil(float64(knots)*(hi-lo))), leastPanelKnots)
		v := make([]float64, m+1)
		for j := range v {
			v[j] = lo + (hi-lo)*float64(j)/float64(m)
		}
		s.panels = append(s.panels, panel{v: v})
	}
}

// resample gives, for every panel, the points [frame][knot] at even girth.
func (s *Surface) resample(curves []*curve.Outline) [][][]mgl64.Vec3 {
	grid := make([][][]mgl64.Vec3, len(s.panels))
	for k := range s.panels {
		m := len(s.panels[k].v)
		grid[k] = make([][]mgl64.Vec3, len(curves))
		for i, c := range curves {
			g0, g1 := s.girths[i][k], s.girths[i][k+1]
			row := make([]mgl64.Vec3, m)
			for j := range row {
				row[j] = c.AtGirth(g0 + (g1-g0)*float64(j)/float64(m-1))
			}
			grid[k][i] = row
		}
	}
	return grid
}

// fit makes the bicubic cells through the grid, whose rows stand at u. It takes slopes
// down the girth (not-a-knot), along the length, and the slope along the length of the
// slope down the girth; those along the length are continued steadily at the ends, so
// that the first and last bays bend as truly as the others. Cubic Hermite cells of
// these are C2 both ways. At the ends of the surface the slopes along the length are
// turned into the faces there.
func (s *Surface) fit(u []float64, grid [][][]mgl64.Vec3, ends []endFace) {
	along := curve.NewSteady(u)
	if s.parts > 1 {
		along = curve.NewNotAKnot(u) // within a bay its points lie on one curve, whose fourth derivative is its own
	}
	for k := range s.panels {
		p := &s.panels[k]
		f := flatRows(grid[k])
		fv := turned(curve.NewNotAKnot(p.v).Slopes(turned(f)))
		fu, fuv := along.Slopes(f), along.Slopes(fv)
		if ends == nil && k == len(s.panels)-1 {
			ends = endFaces(f, fu, fv)
		}
		if k == len(s.panels)-1 {
			for _, e := range ends {
				e.turn(along, fu, fv, fuv, p.v)
			}
		}
		cells := make([]cell, (len(u)-1)*(len(p.v)-1))
		p.cells = make([][]cell, len(u)-1)
		for i := range p.cells {
			p.cells[i], cells = cells[:len(p.v)-1:len(p.v)-1], cells[len(p.v)-1:]
			for j := range p.cells[i] {
				p.cells[i][j].set(u[i+1]-u[i], p.v[j+1]-p.v[j], i, j, f, fu, fv, fuv)
			}
		}
	}
}

// flatRows turns rows of points into rows of numbers: x, y, z of each in turn.
func flatRows(grid [][]mgl64.Vec3) *mat.Dense {
	out := mat.NewDense(len(grid), 3*len(grid[0]), nil)
	for i, row := range grid {
		to := out.RawRowView(i)
		for j, q := range row {
			copy(to[3*j:], q[:])
		}
	}
	return out
}

// turned transposes rows of points into columns.
func turned(f *mat.Dense) *mat.Dense {
	n, m := f.Dims()
	out := mat.NewDense(m/3, 3*n, nil)
	for i := range n {
		from := f.RawRowView(i)
		for j := range m / 3 {
			copy(out.RawRowView(j)[3*i:3*i+3], from[3*j:3*j+3])
		}
	}
	return out
}

// set fills the cell with the bicubic Hermite patch of the values and slopes at
// its corners.
func (c *cell) set(hu, hv float64, i, j int, f, fu, fv, fuv *mat.Dense) {
	f0, f1 := f.RawRowView(i), f.RawRowView(i+1)
	fu0, fu1 := fu.RawRowView(i), fu.RawRowView(i+1)
	fv0, fv1 := fv.RawRowView(i), fv.RawRowView(i+1)
	fuv0, fuv1 := fuv.RawRowView(i), fuv.RawRowView(i+1)
	for axis := range 3 {
		// First along u, for the value and the v-slope at either v edge.
		var val, slope [2][4]float64
		for e := range 2 {
			at := 3*(j+e) + axis
			val[e] = powers(hu, f0[at], f1[at], fu0[at], fu1[at])
			slope[e] = powers(hu, fv0[at], fv1[at], fuv0[at], fuv1[at])
		}
		for a := range 4 {
			col := powers(hv, val[0][a], val[1][a], slope[0][a], slope[1][a])
			for b := range 4 {
				c[a][b][axis] = col[b]
			}
		}
	}
}

// powers gives the four coefficients of a Hermite cubic.
func powers(h, y0, y1, m0, m1 float64) [4]float64 {
	c2, c3 := curve.HermitePowers(h, y0, y1, m0, m1)
	return [4]float64{y0, m0, c2, c3}
}

// fold reports between which frames the surface runs backwards (see ahead), as seen at
// the stations of each bay, all the way down.
func (s *Surface) fold() error {
	ahead := s.ahead()
	for k := range s.panels {
		for j, v := range s.panels[k].v {
			for i := range s.columns {
				if !s.columns[i].advances(k, j, s.panels[k].v, ahead(i, v)) {
					bay := min(i/stationsPerBay, len(s.u)-2)
					return &foldError{bay: bay, v: v, before: s.names[bay], after: s.names[bay+1]}
				}
			}
		}
	}
	return nil
}

// foldError says where a surface folds: in which bay, and how far down.
type foldError struct {
	bay           int
	v             float64
	before, after string
}

func (e *foldError) Error() string {
	return tongue.T("the surface folds between frames %s and %s, %.0f %% of the girth down: frames there cross or are much too uneven; correct their points or add a frame between", e.before, e.after, 100*e.v)
}

// Frames is the number of frames, end curves included.
func (s *Surface) Frames() int { return len(s.u) }

// FrameName is the name of frame i.
func (s *Surface) FrameName(i int) string { return s.names[i] }

// FrameNamed is the index of a frame, or −1.
func (s *Surface) FrameNamed(name string) int { return slices.Index(s.names, name) }

// U is the parameter of frame i.
func (s *Surface) U(i int) float64 { return s.u[i] }

// Girth is the girth of frame i, mm.
func (s *Surface) Girth(i int) float64 { return s.girths[i][len(s.breaks)-1] }

// At gives the surface at (u, v). Neither is clamped: beyond the ends the last cubic
// continues, and beyond the limits each frame continues straight.
func (s *Surface) At(u, v float64) Jet { return s.at(s.panelAt(v), u, v) }

// panelAt is the panel that v lies in, the lower one at a knuckle line.
func (s *Surface) panelAt(v float64) int {
	for k := len(s.panels) - 1; k > 0; k-- {
		if v >= s.breaks[k] {
			return k
		}
	}
	return 0
}

// bay is the index of the frame at or before u.
func (s *Surface) bay(u float64) int {
	lo, hi := 0, len(s.u)-1 // u of lo is at or before, of hi after
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; s.u[mid] <= u {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// part is the row of cells for u in a bay, and the u at which it begins.
func (s *Surface) part(bay int, u float64) (row int, from float64) {
	from = s.u[bay]
	if s.parts == 1 {
		return bay, from
	}
	h := (s.u[bay+1] - from) / float64(s.parts)
	k := min(max(int((u-from)/h), 0), s.parts-1)
	return bay*s.parts + k, from + h*float64(k)
}

// span gives the cell of the panel for v, the distance of v from its corner, and how
// far v is past the limits (0 within them).
func (s *Surface) span(k int, v float64) (j int, t, past float64) {
	p := &s.panels[k]
	if k == 0 && v < 0 {
		v, past = 0, v
	}
	if k == len(s.panels)-1 && v > 1 {
		v, past = 1, v-1
	}
	h := p.v[1] - p.v[0]
	j = min(max(int((v-p.v[0])/h), 0), len(p.v)-2)
	return j, v - p.v[j], past
}

// at evaluates panel k at (u, v), which may lie a little outside it.
func (s *Surface) at(k int, u, v float64) Jet { return s.inBay(k, s.bay(u), u, v) }

// inBay is at for callers that know the bay.
func (s *Surface) inBay(k, i int, u, v float64) Jet {
	j, t, past := s.span(k, v)
	var r rows
	part, from := s.part(i, u)
	s.panels[k].cells[part][j].cut(&r, u-from)
	return r.jet(t, past)
}

// rows is a cell cut at one u: the cubic in t of P, Pu and Puu.
type rows struct{ p, pu, puu [4]mgl64.Vec3 }

// cut sets r to the cell cut at s.
func (c *cell) cut(r *rows, s float64) {
	s2, s3, s6 := 2*s, 3*s*s, 6*s
	for b := range 4 {
		for a := range 3 {
			c0, c1, c2, c3 := c[0][b][a], c[1][b][a], c[2][b][a], c[3][b][a]
			r.p[b][a] = c0 + s*(c1+s*(c2+s*c3))
			r.pu[b][a] = c1 + s2*c2 + s3*c3
			r.puu[b][a] = 2*c2 + s6*c3
		}
	}
}

// jet evaluates the cut at t, and beyond it by past along the tangent.
func (r *rows) jet(t, past float64) Jet {
	var j Jet
	r.read(&j, t, past)
	return j
}

// read is jet into an existing jet.
func (r *rows) read(j *Jet, t, past float64) {
	t2, t3, t6 := 2*t, 3*t*t, 6*t
	for a := range 3 {
		p1, p2, p3 := r.p[1][a], r.p[2][a], r.p[3][a]
		q1, q2, q3 := r.pu[1][a], r.pu[2][a], r.pu[3][a]
		j.P[a] = r.p[0][a] + t*(p1+t*(p2+t*p3))
		j.Pv[a] = p1 + t2*p2 + t3*p3
		j.Pvv[a] = 2*p2 + t6*p3
		j.Pu[a] = r.pu[0][a] + t*(q1+t*(q2+t*q3))
		j.Puv[a] = q1 + t2*q2 + t3*q3
		j.Puu[a] = r.puu[0][a] + t*(r.puu[1][a]+t*(r.puu[2][a]+t*r.puu[3][a]))
	}
	if past != 0 {
		r.goStraight(j, t, past)
	}
}

// goStraight moves a jet at a limit past it along the frame's tangent: onto the ruled
// surface P + past·Pv, which is tangent to the surface along the limit.
func (r *rows) goStraight(j *Jet, t, past float64) {
	for a := range 3 {
		puuv := r.puu[1][a] + t*(2*r.puu[2][a]+3*t*r.puu[3][a])
		j.P[a] += past * j.Pv[a]
		j.Pu[a] += past * j.Puv[a]
		j.Puu[a] += past * puuv
		j.Pvv[a] = 0
	}
}
