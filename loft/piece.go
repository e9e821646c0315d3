package loft

// Piece is a length of strip laid in a strake. A strake longer than a strip is
// laid in several, butted.
type Piece struct {
	Strake    int     // its index in Layer.Strakes
	From, To  float64 // mm along the strake's middle line from its beginning
	FromFrame int     // the frame on which it begins, or −1 if none is near enough
	ToFrame   int     // the frame on which it ends, or −1
	Overhang  float64 // mm of extra length to hold it by, at its far end
}

// Length is the length to cut, mm, the overhang included.
func (p Piece) Length() float64 { return p.To - p.From + p.Overhang }

// leastReach is the least that a strip must reach without its overhang, mm, for strakes to
// be cut into pieces: each may be as short as that, and of shorter ones there is no end.
const leastReach = 0.1

// Pieces cuts the strakes of one side into pieces no longer than a strip, in their
// order. The last piece of each strake has the overhang. A butt falls on the last frame
// that the strip reaches or, in a bay longer than a strip, at the strip's own end.
// Lengths are in mm; if a strip is shorter than 1 mm, or the overhang leaves less of one
// than leastReach, every strake is left whole.
func (l *Layer) Pieces(strip, overhang float64) []Piece {
	whole := !(strip >= 1) || !(strip-overhang >= leastReach)
	var out []Piece
	for n, st := range l.Strakes {
		if st.To <= st.From {
			continue
		}
		at := l.framesAlong(st)
		end := st.Centre.S[st.To] - st.Centre.S[st.From]
		p := Piece{Strake: n, FromFrame: frameAt(at, 0)}
		for !whole && end-p.From > strip-overhang+1e-9 {
			p.To, p.ToFrame = butt(at, p.From, strip, end, strip-overhang)
			out = append(out, p)
			p.From, p.FromFrame = p.To, p.ToFrame
		}
		p.To, p.ToFrame, p.Overhang = end, frameAt(at, end), overhang
		out = append(out, p)
	}
	return out
}

// framesAlong is where every frame crosses the middle of a strake, mm from its
// beginning.
func (l *Layer) framesAlong(st *Strake) []float64 {
	out := make([]float64, l.Surface.Frames())
	for i := range out {
		out[i] = st.Centre.S[l.Surface.FrameStation(i)] - st.Centre.S[st.From]
	}
	return out
}

// butt is where a strip laid from a given place ends, short of the strake's end: on the
// last frame that it reaches or, if there is none (−1), at a length that leaves room
// for the overhang.
func butt(at []float64, from, strip, end, held float64) (float64, int) {
	for i := len(at) - 1; i >= 0; i-- {
		if at[i] > from+1e-6 && at[i] < end-1e-6 && at[i] <= from+strip+1e-9 {
			return at[i], i
		}
	}
	if from+strip < end {
		return from + strip, -1
	}
	return from + held, -1
}

// frameAt is the frame at that place, or −1.
func frameAt(at []float64, place float64) int {
	for i, s := range at {
		if s > place-1e-6 && s < place+1e-6 {
			return i
		}
	}
	return -1
}
