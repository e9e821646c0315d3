package hull

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// sharpestTurn is the turn at one point beyond which an outline is taken to
// double back: no frame has so sharp a corner.
const sharpestTurn = 150 * math.Pi / 180

// Places says where the parts of a hull stand in the file they came from.
type Places struct {
	Line  func(frame, point int) int // point -1 is the frame itself
	Scale int                        // line that sets the unit, or 0
	Unit  string                     // how to correct a wrong unit
	Torn  map[int]bool               // frames with lines that could not be read
}

// nowhere is the Places of a hull that came from no file.
var nowhere = Places{
	Line: func(int, int) int { return 0 },
	Unit: tongue.Mark("give them in mm"),
}

// Check returns every fault of the hull, or nil.
func (h *Hull) Check() []fault.Fault {
	f := &fault.List{}
	h.CheckIn(nowhere, f)
	return f.Sorted()
}

// CheckIn notes every fault of a hull that was read from a file, each at its place
// there.
func (h *Hull) CheckIn(at Places, f *fault.List) {
	if n := len(h.Frames); n < fewestFrames {
		f.Add(0, "", "add frames", "%s, but a hull needs %d or more", tongue.Count(n, "there is %d frame", "there are %d frames", n), fewestFrames)
	} else if n > MostFrames {
		f.Add(0, "", "leave some out", "there are %d frames, more than the limit of %d", n, MostFrames)
		return
	}
	points, sound := 0, true
	for i := range h.Frames {
		points += len(h.Frames[i].Points)
	}
	if points > MostPoints {
		f.Add(0, "", "leave points out", "there are more than %d points, the most that the program reads", MostPoints)
		return
	}
	for i := range h.Frames {
		if !checkFigures(&h.Frames[i], i, at, f) {
			sound = false
		}
	}
	if !sound {
		return // later checks would only repeat it
	}
	if len(at.Torn) == 0 && !checkScale(h, at, f) {
		return
	}
	checkNames(h, at, f)
	for i := range h.Frames {
		if !at.Torn[i] {
			checkShape(&h.Frames[i], i, at, f)
		}
	}
	checkOrder(h, at, f)
}

// checkFigures notes points that cannot belong to a half hull. It returns false
// where a coordinate is not finite or is absurd.
func checkFigures(fr *Frame, i int, at Places, f *fault.List) bool {
	sound := true
	for j, p := range fr.Points {
		for k, axis := range []string{"x", "y", "z"} {
			switch v := p[k]; {
			case math.IsNaN(v) || math.IsInf(v, 0):
				f.Add(at.Line(i, j), fr.Name, "give a number", "the %s of point %d is not finite", axis, j+1)
				sound = false
			case math.Abs(v) > Largest:
				f.Add(at.Line(i, j), fr.Name, "check the figure and its unit", "the %s of point %d is %s mm, over 100 m", axis, j+1, fault.Figure(v))
				sound = false
			}
		}
		if p.Y() < -rounding {
			f.Add(at.Line(i, j), fr.Name, "give the half-breadths of one side, 0 or more", "the half-breadth y of point %d is %s mm, below zero", j+1, fault.Figure(p.Y()))
		}
	}
	return sound
}

// checkScale notes a hull that is too small or too large for a model.
func checkScale(h *Hull, at Places, f *fault.List) bool {
	low, high, widest := math.Inf(1), math.Inf(-1), 0.0
	for _, fr := range h.Frames {
		for _, p := range fr.Points {
			low, high = min(low, p.X()), max(high, p.X())
		}
		widest = max(widest, outlineLength(fr.Points))
	}
	length := high - low
	switch {
	case length > planar && length < shortestHull:
		f.Add(at.Scale, "", at.Unit, "the whole hull is only %s mm long: the figures look like metres or inches", fault.Figure(length))
	case widest > PoleGirth/1000 && widest < leastGirth:
		f.Add(at.Scale, "", at.Unit, "the largest frame has a girth of only %s mm: the figures look like metres or inches", fault.Figure(widest))
	case length > Largest:
		f.Add(at.Scale, "", at.Unit, "the whole hull is %s mm long, over 100 m", fault.Figure(length))
	default:
		return true
	}
	return false
}

// checkNames notes names that are missing, odd or repeated, and end curves that
// are not at the ends.
func checkNames(h *Hull, at Places, f *fault.List) {
	first := map[string]int{}
	for i, fr := range h.Frames {
		line := at.Line(i, -1)
		switch {
		case fr.Name == "":
			f.Add(line, "", "give each frame a name", "frame %d has no name", i+1)
			continue
		case utf8.RuneCountInString(fr.Name) > fault.LongestName:
			f.Add(line, "", "shorten it", "the name of frame %d has more than %d characters", i+1, fault.LongestName)
		case !fault.Printable(fr.Name) || fr.Name != strings.TrimSpace(fr.Name):
			f.Add(line, "", "use letters and figures", "the name of frame %d has invisible characters", i+1)
		}
		key := fr.Name
		if fr.IsEnd() {
			key = strings.ToLower(key)
			if i > 0 && i < len(h.Frames)-1 {
				f.Add(line, fr.Name, "put it there, or give the frame another name", "an end curve must be the first or the last frame")
			}
		}
		if _, twice := first[key]; twice {
			f.Add(line, fr.Name, "keep the points of a frame together, or rename the second frame", "an earlier frame has this name")
			continue
		}
		first[key] = i
	}
}

// checkShape notes what is wrong with the outline of one frame.
func checkShape(fr *Frame, i int, at Places, f *fault.List) {
	pts := fr.Points
	line := at.Line(i, -1)
	switch n := len(pts); {
	case n == fewestPoints-1 && !slices.Contains(fr.Knuckles, 1):
		f.Add(line, fr.Name, "add points, or mark the middle one as a knuckle if the frame is straight above and below it",
			"it has %s, but a curved frame needs %d or more", tongue.Count(n, "%d point", "%d points", n), fewestPoints)
		return
	case n < fewestPoints-1:
		f.Add(line, fr.Name, "add points", "it has %s, but a frame needs %d or more", tongue.Count(n, "%d point", "%d points", n), fewestPoints)
		return
	case n > mostFramePoints:
		f.Add(line, fr.Name, "leave some out", "it has %d points, more than the limit of %d", n, mostFramePoints)
		return
	case outlineLength(pts) < PoleGirth:
		f.Add(line, fr.Name, "leave it out, or measure the end a little way inboard, where the frame still has a girth", "all its points are in one place")
		return
	}
	for _, k := range fr.Knuckles {
		if k < 0 || k >= len(pts) {
			f.Add(line, fr.Name, "name points of the frame", "it has a knuckle at point %d of %d", k+1, len(pts))
			break
		}
	}
	if pts[0].Z() < pts[len(pts)-1].Z()-Apart {
		f.Add(line, fr.Name, "list them from the upper limit down", "its points run from the rabbet up")
	}
	if !fr.IsEnd() {
		if _, ok := fr.Plane(); !ok {
			j := offPlane(pts)
			f.Add(at.Line(i, j), fr.Name, "give them one x, or name the frame stem, stern or transom if it is an end curve",
				"point %d is at x %s and point 1 at x %s, but a frame has one x or one canted plane", j+1, fault.Figure(pts[j].X()), fault.Figure(pts[0].X()))
			return
		}
	}
	if j := doubledPoint(pts); j > 0 {
		f.Add(at.Line(i, j), fr.Name, "leave one out", "points %d and %d are the same", j, j+1)
		return
	}
	if j := turnsBack(pts); j > 0 {
		f.Add(at.Line(i, j), fr.Name, "put the points in their order along the outline", "the outline doubles back on itself at point %d", j+1)
		return
	}
	if j, k, ok := crossing(pts); ok {
		f.Add(at.Line(i, k), fr.Name, "put the points in their order along the outline",
			"the outline crosses itself between points %d and %d and points %d and %d", j+1, j+2, k+1, k+2)
	}
}

// checkOrder notes frames that are not in order along the keel.
func checkOrder(h *Hull, at Places, f *fault.List) {
	frames := h.Frames
	n := len(frames)
	if slices.ContainsFunc(frames, func(fr Frame) bool { return len(fr.Points) == 0 }) {
		return
	}
	if n >= fewestFrames && allFall(frames) {
		f.Add(at.Line(0, -1), frames[0].Name, "reverse the order of the frames", "x falls from frame to frame, but must rise")
		return
	}
	for i := 1; i < n; i++ {
		a, b := &frames[i-1], &frames[i]
		if i == 1 && a.IsEnd() {
			checkEndCurve(a, b, 0, 1, at, f)
			continue
		}
		if i == n-1 && b.IsEnd() {
			checkEndCurve(b, a, i, -1, at, f)
			continue
		}
		switch d := b.X() - a.X(); {
		case math.Abs(d) <= planar:
			f.Add(at.Line(i, -1), b.Name, "leave one of them out, or correct its x", "it is at x %s, like frame %s", fault.Figure(b.X()), fault.Name(a.Name))
		case d < 0:
			f.Add(at.Line(i, -1), b.Name, "list the frames by rising x", "it is at x %s, and frame %s before it at x %s", fault.Figure(b.X()), fault.Name(a.Name), fault.Figure(a.X()))
		case offPlane(a.Points) > 0 || offPlane(b.Points) > 0:
			checkCrossing(a, b, i, at, f)
		}
	}
}

// checkEndCurve notes the first point of an end curve that reaches its
// neighbour; side is 1 where the neighbour has the greater x, otherwise -1.
func checkEndCurve(end, next *Frame, i int, side float64, at Places, f *fault.List) {
	bound := math.Inf(1)
	for _, p := range next.Points {
		bound = min(bound, side*p.X())
	}
	plane, flat := next.Plane()
	for j, p := range end.Points {
		if flat {
			bound = side * plane.At(p.Y(), p.Z())
		}
		if side*p.X() >= bound-planar {
			f.Add(at.Line(i, j), end.Name, "keep every point of the end curve clear of the frame, or leave that frame out",
				"point %d, at x %s, crosses frame %s, which is at x %s", j+1, fault.Figure(p.X()), fault.Name(next.Name), fault.Figure(next.X()))
			return
		}
	}
}

// allFall reports whether the frames are all in order of falling x.
func allFall(frames []Frame) bool {
	for i := 1; i < len(frames); i++ {
		if frames[i].X() >= frames[i-1].X()-planar {
			return false
		}
	}
	return true
}

// outlineLength is the length in mm of the straight lines joining the points.
func outlineLength(pts []mgl64.Vec3) float64 {
	sum := 0.0
	for i := 1; i < len(pts); i++ {
		sum += pts[i].Sub(pts[i-1]).Len()
	}
	return sum
}

// offPlane gives the first point whose x differs from that of point 0, or 0.
func offPlane(pts []mgl64.Vec3) int {
	for j, p := range pts {
		if math.Abs(p.X()-pts[0].X()) > planar {
			return j
		}
	}
	return 0
}

// doubledPoint gives the first point that repeats the one before it, or 0.
func doubledPoint(pts []mgl64.Vec3) int {
	for j := 1; j < len(pts); j++ {
		if pts[j].Sub(pts[j-1]).Len() < Apart {
			return j
		}
	}
	return 0
}

// turnsBack gives the first point at which the outline turns by more than
// sharpestTurn, or 0.
func turnsBack(pts []mgl64.Vec3) int {
	for j := 1; j+1 < len(pts); j++ {
		in, out := pts[j].Sub(pts[j-1]).Normalize(), pts[j+1].Sub(pts[j]).Normalize()
		if in.Dot(out) < math.Cos(sharpestTurn) {
			return j
		}
	}
	return 0
}

// crossing gives the first two stretches of the outline that touch or cross,
// each named by the index of its first point. Those of a frame are judged in
// its own plane. An end curve is a space curve: its stretches touch only where
// they do so seen both from the end and from the side.
func crossing(pts []mgl64.Vec3) (j, k int, ok bool) {
	_, flat := Frame{Points: pts}.Plane()
	end, side := make([]mgl64.Vec2, len(pts)), make([]mgl64.Vec2, len(pts))
	for i, p := range pts {
		end[i], side[i] = mgl64.Vec2{p.Y(), p.Z()}, mgl64.Vec2{p.X(), p.Z()}
	}
	for k := 2; k+1 < len(pts); k++ {
		c, d := &end[k], &end[k+1]
		low, high := min(c[1], d[1]), max(c[1], d[1])
		for j := 0; j+1 < k; j++ {
			a, b := &end[j], &end[j+1]
			if (a[1] < low && b[1] < low) || (a[1] > high && b[1] > high) {
				continue // most stretches lie wholly above or below
			}
			if touch(*a, *b, *c, *d) && (flat || touch(side[j], side[j+1], side[k], side[k+1])) {
				return j, k, true
			}
		}
	}
	return 0, 0, false
}

// touch reports whether the stretches ab and cd have a point in common, to
// within rounding.
func touch(a, b, c, d mgl64.Vec2) bool {
	for i := range 2 {
		if min(a[i], b[i]) > max(c[i], d[i]) || min(c[i], d[i]) > max(a[i], b[i]) {
			return false
		}
	}
	return !sameSide(a, b, c, d) && !sameSide(c, d, a, b)
}

// sameSide reports whether c and d lie clearly on one side of the line ab.
func sameSide(a, b, c, d mgl64.Vec2) bool {
	u, v, w := b.Sub(a), c.Sub(a), d.Sub(a)
	slack := 1e-9 * u.Len()
	atC, atD := u[0]*v[1]-u[1]*v[0], u[0]*w[1]-u[1]*w[0]
	return (atC > slack && atD > slack) || (atC < -slack && atD < -slack)
}

// bowOf gives the end at which the names of the end curves put the bow, and
// whether they settle it; where they do not, the bow is at the first frame.
func bowOf(frames []Frame) (bow BowEnd, named bool) {
	if n := len(frames); n > 0 {
		first, last := strings.ToLower(frames[0].Name), strings.ToLower(frames[n-1].Name)
		if first == "stern" || first == "transom" || last == "stem" {
			return BowLast, true
		}
		return BowFirst, first == "stem" || last == "stern" || last == "transom"
	}
	return BowFirst, false
}

// Settle fills in the limits and bow that a hull does not name, and sets to
// zero the half-breadths that rounding has made negative.
func (h *Hull) Settle() {
	if h.Bow == "" {
		h.Bow, _ = bowOf(h.Frames)
	}
	if h.Limits.Upper == "" {
		h.Limits.Upper = "sheer"
	}
	if h.Limits.Lower == "" {
		h.Limits.Lower = "rabbet"
	}
	for i := range h.Frames {
		for j := range h.Frames[i].Points {
			if p := &h.Frames[i].Points[j]; p[1] < 0 && p[1] >= -rounding {
				p[1] = 0
			}
		}
	}
}
