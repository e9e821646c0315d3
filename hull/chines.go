package hull

import (
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Thresholds that separate a chine from noise and from a round bilge.
const (
	leastChine    = math.Pi * 8 / 180   // the smallest turn at which a corner may belong to a chine
	leastFollowed = math.Pi * 1.5 / 180 // the turn down to which a chine that dies out is followed
	overNoise     = 4.0                 // times the noise of the outlines, for a corner to count
	sharpestChine = math.Pi * 100 / 180 // beyond this the outline turns back on itself
	overRough     = 3.0                 // times the corners left over beside it, for a corner to count
	overShift     = 2.0                 // times the shift of the other points, for a corner to count
	noiseBeside   = 1.0                 // times the noise: what the points beside a corner may be off by
	overLump      = 12.0                // times the turn that the points beside a corner have over those farther off
	cornersApart  = 0.02                // of the girth; of corners closer than this, only one counts
	mostCorners   = 8                   // in one frame; with more, none stands out
	mostChines    = 4                   // in a hull, likewise
	finePoints    = 12                  // points of an outline whose end pieces are taken to be straight
	fewestInLine  = 4                   // frames; one fewer for a hull of fewer than twice as many
	fewestStrong  = 3                   // frames of the chine that turn by at least leastChine
	firstStep     = 0.08                // of the girth, from the first frame of a chine to its next
	offCourse     = 0.03                // of the girth, off the line of the frames before
	fadingOff     = 0.02                // likewise, for a corner too faint to be found by itself
	faintest      = math.Pi * 0.5 / 180 // the least turn of such a corner
	unfair        = 0.025               // of the girth, by which a frame lies off its neighbours' line
	unfairTurn    = 0.15                // likewise, of the angle
	unfairLeast   = math.Pi * 2 / 180   // or this angle, if greater
)

// Chine is a row of corners in line from frame to frame.
type Chine struct {
	At          []int // for each frame, the point at which it turns; -1 where it does not
	Least, Most Angle // the least and greatest turn over its frames
}

// Note describes a chine in a sentence, with the frames named by names.
func (c *Chine) Note(names func(frame int) string) string {
	first, last := -1, -1
	for i, at := range c.At {
		if at >= 0 {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	turn := fmt.Sprintf("%.0f", c.Most.Degrees())
	if least := fmt.Sprintf("%.0f", c.Least.Degrees()); least != turn {
		turn = tongue.T("%s to %s", least, turn)
	}
	return tongue.T("Corners of %s degrees are in line from frame %s to frame %s and stay sharp, as a chine.", turn, names(first), names(last))
}

// Chines finds the chines of a hull in its frames at increasing x (mm, one a frame),
// each a list of points (y, z) from the upper limit down. A corner on its own may be a
// slip of the pencil and is not a chine. Corners make a chine where they turn by 8
// degrees or more, well above what the rest of the outlines turn from point to point, at
// three frames or more, and stand in line over four (three in a hull of fewer than
// eight). The chine is followed from there to where it dies out. A turn that the
// neighbouring points share is a round bilge, however tight. Points named in kept (by
// frame, nil for none) are corners already, and make a line with others. A hull of fewer
// than three frames has no chines.
//
// Where no point shows what an outline does between a corner and one of its ends, it is
// taken to be straight there if it has twelve points and bulges; a hollow is that of the
// garboard.
func Chines(x []float64, frames [][]mgl64.Vec2, kept [][]int) []Chine {
	turns := make([][]turn, len(frames))
	f := chineFinder{x: x, turns: turns, corners: make([][]corner, len(frames))}
	for i, pts := range frames {
		turns[i] = turnsOf(pts)
		if kept != nil {
			for _, k := range kept[i] {
				turns[i][k].kept = true
			}
		}
	}
	f.noise = noiseOf(turns)
	for i := range frames {
		f.corners[i] = cornersOf(turns[i], f.noise)
	}
	out := f.find()
	if len(out) > mostChines {
		return nil
	}
	angle, shift := restOf(turns, out)
	return slices.DeleteFunc(out, func(c Chine) bool {
		at, sum := 0.0, 0.0
		for i, k := range c.At {
			if k >= 0 {
				at++
				sum += math.Abs(turns[i][k].corner) * turns[i][k].short
			}
		}
		return float64(c.Most) < overNoise*angle || sum < overShift*at*shift
	})
}

// turn describes how an outline turns at a point.
type turn struct {
	share  float64 // of the girth, from its start to the point
	short  float64 // mm, the shorter of the pieces beside the point: times the corner, how far the point may be off
	corner float64 // rad, signed: the turn in excess of what the neighbouring points suggest
	lump   float64 // rad: the turn of the neighbours, the same way, in excess of those farther off
	rough  float64 // rad: the corners left over at the neighbours, less the share that is due to this one
	kept   bool
}

// turnsOf gives the turns at the points of an outline. At a point of a smooth outline
// the turn is half of each adjacent piece times the curvature at that piece's far end,
// to terms of the fourth order; what remains is the corner.
func turnsOf(pts []mgl64.Vec2) []turn {
	n := len(pts)
	out := make([]turn, n)
	if n < 3 {
		return out
	}
	long, way, bend, whole := make([]float64, n), make([]float64, n), make([]float64, n), 0.0
	for i := 1; i < n; i++ {
		long[i] = pts[i].Sub(pts[i-1]).Len() // of the piece that ends here
		whole += long[i]
		out[i].share = whole
	}
	for i := 1; i+1 < n; i++ {
		u, v := pts[i].Sub(pts[i-1]), pts[i+1].Sub(pts[i])
		way[i] = math.Atan2(u[0]*v[1]-u[1]*v[0], u.Dot(v))
		bend[i] = 2 * way[i] / max(long[i]+long[i+1], 1e-9)
	}
	for i := range out {
		out[i].share /= max(whole, 1e-9)
		if i == 0 || i == n-1 {
			continue
		}
		out[i].short = min(long[i], long[i+1])
		before, after := long[i]/2, long[i+1]/2
		out[i].corner = way[i] - before*bend[i-1] - after*bend[i+1]
		same := math.Copysign(1, out[i].corner)
		out[i].lump = max(same*before*(bend[i-1]-bend[max(i-2, 0)]), 0) + max(same*after*(bend[i+1]-bend[min(i+2, n-1)]), 0)
		if hollow := out[i].corner > 0; (i == 1 || i == n-2) && (hollow || n < finePoints) {
			out[i].lump = math.Inf(1)
		}
	}
	for i := 1; i+1 < n; i++ {
		both := long[i] + long[i+1]
		if i > 1 {
			out[i].rough = math.Abs(out[i-1].corner + out[i].corner*long[i]/both)
		}
		if i+2 < n {
			out[i].rough = max(out[i].rough, math.Abs(out[i+1].corner+out[i].corner*long[i+1]/both))
		}
	}
	return out
}

// stands reports whether the corner at a point is real: neither part of a round nor
// what a sharper corner at the next point seems to leave there.
func stands(f []turn, i int, noise float64) bool {
	a := math.Abs(f[i].corner)
	return f[i].kept || (a <= sharpestChine && peaks(f, i) && a >= overLump*(f[i].lump-noiseBeside*noise) && a >= overRough*(f[i].rough-noiseBeside*noise))
}

// peaks reports whether the corner at a point is not the lesser of two side by side.
func peaks(f []turn, i int) bool {
	a := math.Abs(f[i].corner)
	return a >= math.Abs(f[i-1].corner) && a >= math.Abs(f[i+1].corner)
}

// noiseOf is how much the outlines of a hull turn to and fro from point to point, as a
// standard deviation. Corners that stand out are left out, and so are the points
// beside them, whose turns they affect.
func noiseOf(frames [][]turn) float64 {
	return spreadOf(frames, func(t *turn) float64 { return t.corner }, func(frame, i int) bool {
		f := frames[frame]
		return i > 0 && i+1 < len(f) && (f[i].kept || (math.Abs(f[i].corner) >= leastChine && peaks(f, i)))
	})
}

// restOf is noiseOf with only the chines left out, together with how far the
// points are off, mm.
func restOf(frames [][]turn, chines []Chine) (angle, shift float64) {
	out := func(frame, i int) bool {
		return frames[frame][i].kept || slices.ContainsFunc(chines, func(c Chine) bool { return c.At[frame] == i })
	}
	return spreadOf(frames, func(t *turn) float64 { return t.corner }, out), spreadOf(frames, func(t *turn) float64 { return t.corner * t.short }, out)
}

// spreadOf is the standard deviation of the values that of takes from the corners, except those left
// out and their neighbours. It is estimated from the bound that nine in ten keep to, because points
// written in whole units mostly lie in line.
func spreadOf(frames [][]turn, of func(*turn) float64, out func(frame, i int) bool) float64 {
	var all []float64
	for k, f := range frames {
		for i := 2; i+2 < len(f); i++ { // it is not known at the first and the last
			if !out(k, i-1) && !out(k, i) && !out(k, i+1) {
				all = append(all, math.Abs(of(&f[i])))
			}
		}
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)*9/10] / 1.645
}

// corner is a place at which a chine may turn.
type corner struct {
	at     int
	share  float64
	angle  float64 // rad, signed
	strong bool    // turns by at least leastChine
	faint  bool    // found only because it lies in line
	used   bool
}

// cornersOf gives the corners of an outline, from the top down.
func cornersOf(f []turn, noise float64) []corner {
	var out []corner
	strong := 0
	for i := 1; i+1 < len(f); i++ {
		t := &f[i]
		a := math.Abs(t.corner)
		if !t.kept && (a < max(leastFollowed, overNoise*noise) || !stands(f, i, noise)) {
			continue
		}
		c := corner{at: i, share: t.share, angle: t.corner, strong: t.kept || a >= leastChine}
		if n := len(out); n > 0 && c.share-out[n-1].share < cornersApart {
			if a > math.Abs(out[n-1].angle) && !f[out[n-1].at].kept {
				out[n-1] = c
			}
			continue
		}
		out = append(out, c)
	}
	for _, c := range out {
		if c.strong {
			strong++
		}
	}
	if strong > mostCorners {
		return nil
	}
	return out
}

// chineFinder follows corners from frame to frame.
type chineFinder struct {
	x       []float64
	turns   [][]turn
	corners [][]corner
	noise   float64
}

// find gives the chines, in order of the first frame in which they are strong.
func (f *chineFinder) find() []Chine {
	var out []Chine
	for i := range f.corners {
		for k := range f.corners[i] {
			if c := &f.corners[i][k]; c.used || !c.strong {
				continue
			}
			line := make([]*corner, len(f.corners))
			line[i] = &f.corners[i][k]
			f.follow(line, i, 1)
			f.follow(line, i, -1)
			if f.isChine(line) {
				out = append(out, chineOf(line))
			}
		}
	}
	return out
}

// follow goes on from frame i to one end of the hull, skipping at most one frame
// without a corner in line.
func (f *chineFinder) follow(line []*corner, i, step int) {
	last := i
	for g := i + step; g >= 0 && g < len(line) && (g-last)*step <= 2; g += step {
		before := f.beforeIn(line, last, step)
		if before < 0 {
			line[g] = f.nearest(g, line[last].share, firstStep, line[i].angle)
		} else {
			on := (f.x[g] - f.x[last]) / (f.x[last] - f.x[before])
			want := line[last].share + on*(line[last].share-line[before].share)
			line[g] = f.nearest(g, want, offCourse+math.Abs(want-line[last].share)/2, line[i].angle)
			if a, b := math.Abs(line[last].angle), math.Abs(line[before].angle); line[g] == nil && a*min(a/b, 1) > faintest {
				line[g] = f.fading(g, want, line[i].angle)
			}
		}
		if line[g] != nil {
			last = g
		}
	}
}

// fading is the corner of a frame at the place to which a fading chine leads: of
// those that turn the same way, the one that turns most, or nil.
func (f *chineFinder) fading(frame int, share, way float64) *corner {
	var best *corner
	for i := 1; i+1 < len(f.turns[frame]); i++ {
		t := &f.turns[frame][i]
		if math.Abs(t.share-share) <= fadingOff && (best == nil || t.corner*way > best.angle*way) {
			best = &corner{at: i, share: t.share, angle: t.corner, faint: true}
		}
	}
	if best == nil || best.angle*way < 0 {
		return nil
	}
	return best
}

// beforeIn is the frame of the line next to the last one, on the side from which the
// line has been followed; -1 if there is none.
func (f *chineFinder) beforeIn(line []*corner, last, step int) int {
	for b := last - step; b >= 0 && b < len(line) && (last-b)*step <= 2; b -= step {
		if line[b] != nil {
			return b
		}
	}
	return -1
}

// nearest is the nearest corner of a frame, within the given distance of a share of
// the girth, that turns the same way.
func (f *chineFinder) nearest(frame int, share, within, way float64) *corner {
	var best *corner
	for k := range f.corners[frame] {
		c := &f.corners[frame][k]
		if off := math.Abs(c.share - share); off <= within && !c.used && c.angle*way > 0 {
			best, within = c, off
		}
	}
	return best
}

// isChine reports whether enough strong corners of a line follow one another, and
// whether they run fair.
func (f *chineFinder) isChine(line []*corner) bool {
	need := fewestInLine
	if len(line) < 2*fewestInLine {
		need--
	}
	var at []int
	strong := 0
	for i, c := range line {
		if c != nil && !c.faint {
			at = append(at, i)
			if c.strong {
				strong++
			}
		}
	}
	if len(at) < need || strong < fewestStrong {
		return false
	}
	for k := 1; k+1 < len(at); k++ {
		a, b, c := at[k-1], at[k], at[k+1]
		t := (f.x[b] - f.x[a]) / (f.x[c] - f.x[a])
		off := line[b].share - line[a].share*(1-t) - line[c].share*t
		turn := line[b].angle - line[a].angle*(1-t) - line[c].angle*t
		if !(math.Abs(off) <= unfair) || !(math.Abs(turn) <= max(unfairTurn*math.Abs(line[b].angle), unfairLeast, 4*f.noise)) {
			return false
		}
	}
	return true
}

// chineOf makes a chine of a line and marks its corners as used.
func chineOf(line []*corner) Chine {
	c := Chine{At: make([]int, len(line)), Least: Angle(math.Inf(1))}
	for i, k := range line {
		c.At[i] = -1
		if k != nil {
			k.used = true
			c.At[i] = k.at
			c.Least, c.Most = min(c.Least, Angle(math.Abs(k.angle))), max(c.Most, Angle(math.Abs(k.angle)))
		}
	}
	return c
}

// KeepChines finds the chines in the frames of a hull (Chines), marks their corners as
// knuckles and describes each in a sentence. It looks for none in a hull in which
// someone has marked knuckles already, nor in end curves, which are bent along the
// hull.
func (h *Hull) KeepChines() []string {
	var x []float64
	var sides [][]mgl64.Vec2
	var of []int
	for i, f := range h.Frames {
		if len(f.Knuckles) > 0 {
			return nil
		}
		if f.IsEnd() {
			continue
		}
		side := make([]mgl64.Vec2, len(f.Points))
		for k, p := range f.Points {
			side[k] = mgl64.Vec2{p.Y(), p.Z()}
		}
		x, sides, of = append(x, f.X()), append(sides, side), append(of, i)
	}
	var notes []string
	for _, c := range Chines(x, sides, nil) {
		for k, at := range c.At {
			if at >= 0 {
				f := &h.Frames[of[k]]
				f.Knuckles = append(f.Knuckles, at)
				slices.Sort(f.Knuckles)
			}
		}
		notes = append(notes, c.Note(func(k int) string { return h.Frames[of[k]].Name }))
	}
	return notes
}
