package loft

import (
	"math"

	"github.com/strakewright/strakewright/hull"
)

const (
	// endFrames are the frames from an end inwards by which the bend there is read.
	endFrames = 5
	// mostUneven is how often one bay may hold the next for endBend to read them: from
	// 2 + √3 on, the bend in the middle of three frames counts for less than the others.
	mostUneven = 3
	// mostGain bounds the bend at an end frame as a multiple of the one read there. Over 25
	// frames of a spheroid cut at 95 % of its length the true multiple is 1.41. Where the law
	// asks for more, the frames lie too far apart for it to be trusted beyond that; our choice.
	mostGain = 1.5
)

// endBend gives the bend at the end of a line, 1/mm, from bends read at its last five
// frames, from the end inwards, so many mm along it from the end. Where it grows ever
// more steeply towards the end, as at a full bow, the cubic through the frames, whose
// bend runs straight within a bay, falls short there. Of a conic κ^(−2/3) is a quadratic
// of the place along an axis (Monge's equation, (y″^(−2/3))‴ = 0, where the slope is
// small; the source is from memory), and such a quadratic of the length of the line through
// the next three frames is taken to the end. It gives the bend read if it grows otherwise,
// or if the frames are too uneven to tell.
func endBend(read, along [endFrames]float64) float64 {
	e, ok := newEndBays(along)
	sign := math.Copysign(1, read[0])
	for i := range read {
		read[i] *= sign
		ok = ok && read[i] > 0
	}
	if !ok {
		return sign * read[0]
	}
	alone, share := e.unsmoothed(read)
	if !e.grows(alone, share, read[0]) {
		return sign * read[0]
	}
	short := func(end float64) float64 {
		law, ok := e.conicEnd(alone, share, end)
		if !ok {
			return math.NaN()
		}
		return law - end
	}
	low, high := read[0], mostGain*read[0]
	if !(short(low) > 0) {
		return sign * read[0]
	}
	if !(short(high) < 0) {
		return sign * high
	}
	for high-low > 1e-4*low {
		if mid := (low + high) / 2; short(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return sign * (low + high) / 2
}

// endBays are the lengths of the last four bays, mm, from the end inwards.
type endBays [endFrames - 1]float64

func newEndBays(along [endFrames]float64) (e endBays, ok bool) {
	for i := range e {
		e[i] = along[i+1] - along[i]
		if !(e[i] > 0) || i > 0 && max(e[i]/e[i-1], e[i-1]/e[i]) > mostUneven {
			return e, false
		}
	}
	return e, true
}

// grows tells whether the bend grows from the fourth frame to the second, and from bay
// to bay more steeply, if the one at the end is end. Points that stray seldom make it
// look so, which keeps what is made of them small.
func (e endBays) grows(alone, share [endFrames]float64, end float64) bool {
	rise := func(i int) float64 { return (alone[i] + share[i]*end - alone[i+1] - share[i+1]*end) / e[i] }
	return rise(2) > 0 && rise(1) > rise(2)
}

// curl is the second divided difference of the bends about frame i.
func (e endBays) curl(k [endFrames]float64, i int) float64 {
	return ((k[i+1]-k[i])/e[i] - (k[i]-k[i-1])/e[i-1]) / (e[i-1] + e[i])
}

// spread is (a³+b³)/(a+b) of the bays beside frame i.
func (e endBays) spread(i int) float64 { return e[i-1]*e[i-1] - e[i-1]*e[i] + e[i]*e[i] }

// unsmoothed gives the bends at the second to the fourth frame that the places of the
// frames tell of, as a part of their own and a share of the bend at the end. What three
// places tell is the mean of the bend about the middle one, weighted by the hat over
// both bays. Of the bends read, which run straight between frames, it is
// k + spread·curl/3; of a steady one, whose curl is the same over both bays,
// k + spread·curl/6 (Numerov's formula where the bays are alike). The mean depends on
// no condition at the end.
func (e endBays) unsmoothed(read [endFrames]float64) (alone, share [endFrames]float64) {
	alone[endFrames-1] = read[endFrames-1] + e.spread(3)/6*e.curl(read, 3)
	share[0] = 1
	var upper [endFrames]float64 // of the next frame in the row of each, the rows eliminated from the end inwards
	for i := 1; i < endFrames-1; i++ {
		mean := read[i] + e.spread(i)/3*e.curl(read, i)
		a := e.spread(i) / 6 / (e[i-1] + e[i])
		before, own := a/e[i-1], 1-a*(1/e[i-1]+1/e[i])
		own -= before * upper[i-1]
		upper[i] = a / e[i] / own
		alone[i] = (mean - before*alone[i-1]) / own
		share[i] = -before * share[i-1] / own
	}
	for i := endFrames - 2; i > 0; i-- {
		alone[i] -= upper[i] * alone[i+1]
		share[i] -= upper[i] * share[i+1]
	}
	return alone, share
}

// conicEnd is the bend at the end by the law of a conic through the next three frames,
// if the one there is end.
func (e endBays) conicEnd(alone, share [endFrames]float64, end float64) (bend float64, ok bool) {
	var g [endFrames - 1]float64
	for i := 1; i < len(g); i++ {
		k := alone[i] + share[i]*end
		if !(k > 0) {
			return 0, false
		}
		g[i] = 1 / math.Cbrt(k*k)
	}
	near, far := (g[1]-g[2])/e[1], (g[2]-g[3])/e[2]
	at := g[1] + e[0]*(near+(near-far)/(e[1]+e[2])*(e[0]+e[1]))
	if at <= 0 {
		return math.Inf(1), true
	}
	return 1 / (at * math.Sqrt(at)), true
}

// steepen gives a line its bend at those ends of the surface to which the hull is
// planked. Within the last bay the bend is raised by the square of the distance from
// the next frame: it grows more steeply towards the end. At an end whose last bay is also
// the sharpest the frames may not tell the bend: see endPlaces.untold.
func (l *Line) steepen(s *Surface) {
	n := s.Frames()
	if n < endFrames {
		return
	}
	for i, end := range [2]struct {
		is          bool
		frame, step int
	}{{s.first == 0, 0, 1}, {s.last == n-1, n - 1, -1}} {
		if !end.is {
			continue
		}
		var read, along [endFrames]float64
		at := s.FrameStation(end.frame)
		for i := range read {
			k := s.FrameStation(end.frame + end.step*i)
			read[i], along[i] = float64(l.Face[k]), math.Abs(l.S[k]-l.S[at])
		}
		told := endBend(read, along)
		if n > endFrames {
			p := l.placesAt(s, end.frame, end.step)
			told = p.conic(told, read[0])
			l.untold[i] = !s.shapeless && p.untold()
		}
		by := told - read[0]
		for k := range stationsPerBay {
			rest := 1 - float64(k)/stationsPerBay
			l.Face[at+end.step*k] += hull.Curvature(by * rest * rest)
		}
	}
}

// placesAt are places of the hull at six frames from an end inwards, in the plane of a line's
// run and its face at the end: where a course would cross them that is straight over u and
// v and runs as the line does at the end. What bends about its face there bends as much as
// every line in that direction (Meusnier), whichever way it turns aside farther in. Where that
// course leaves the hull or crosses a knuckle, the places are the line's own.
func (l *Line) placesAt(s *Surface, frame, step int) (out endPlaces) {
	at := s.FrameStation(frame)
	j := s.atStation(at, l.V[at])
	normal := j.Normal()
	v, straight := [len(out)]float64{}, true
	for i := range v {
		v[i] = l.V[at] + l.course.v1[at]*(s.u[frame+i*step]-s.u[frame])
		straight = straight && v[i] >= 0 && v[i] <= 1 && s.panelAt(v[i]) == s.panelAt(l.V[at])
	}
	for i := range out {
		k := s.FrameStation(frame + i*step)
		by := l.P[k]
		if straight {
			by = s.placeAt(k, v[i])
		}
		by = by.Sub(l.P[at])
		out[i] = endPoint{by.Dot(l.runs[frame].tangent), by.Dot(normal)}
	}
	return out
}
