package loft

// SeamRun is a seam from one station to another: a line that separates two strakes
// there, or a strake from a wedge or from what lies beyond a limit.
type SeamRun struct {
	Line     *Line
	From, To int
}

// SeamRuns gives all seams of the layer where they are seams: none continues past a nib
// in which the strake beside it ended. They are ordered down the hull, then aft.
func (l *Layer) SeamRuns() []SeamRun {
	bays := l.Surface.Frames() - 1
	active := map[*Line][]bool{}
	var order []*Line
	touch := func(line *Line, bay int) {
		if active[line] == nil {
			active[line] = make([]bool, bays)
			order = append(order, line)
		}
		active[line][bay] = true
	}
	for n := range l.Strakes {
		for bay := range bays {
			if upper, lower := l.edgesInBay(n, bay); upper != nil {
				touch(upper, bay)
				touch(lower, bay)
			}
		}
	}
	var out []SeamRun
	for _, line := range order {
		for bay := 0; bay < bays; bay++ {
			if !active[line][bay] {
				continue
			}
			from := bay
			for bay < bays && active[line][bay] {
				bay++
			}
			out = append(out, SeamRun{line, l.Surface.FrameStation(from), l.Surface.FrameStation(bay)})
		}
	}
	return out
}

// EdgePoint is a point of a strake's edge: a line at a station.
type EdgePoint struct {
	Line    *Line
	Station int
}

// Edges gives the edges of strake n along the hull, with the same number of points
// each, between the frames at which it is laid. Where it is notched for a nib two
// points lie on one frame. Nil where it is laid nowhere.
func (l *Layer) Edges(n int) (upper, lower []EdgePoint) {
	st := l.Strakes[n]
	if st.To <= st.From {
		return nil, nil
	}
	add := func(edges [2]*Line, station int) {
		i := len(upper) - 1
		if edges[0] == nil || i >= 0 && upper[i].Station == station &&
			same(upper[i].Line.V[station], edges[0].V[station]) && same(lower[i].Line.V[station], edges[1].V[station]) {
			return
		}
		upper, lower = append(upper, EdgePoint{edges[0], station}), append(lower, EdgePoint{edges[1], station})
	}
	var before, after [2]*Line
	for f := st.From / stationsPerBay; f <= st.To/stationsPerBay; f++ {
		k := l.Surface.FrameStation(f)
		before, after = after, l.edgesIn(n, f)
		for _, e := range [][2]*Line{before, {st.Upper, st.Lower}, after} {
			add(e, k)
		}
		for r := 1; after[0] != nil && r < stationsPerBay; r++ {
			add(after, k+r)
		}
	}
	return upper, lower
}

// edgesIn gives the edges of a strake in the bay after a frame: its own where it is
// not laid, and none past its last frame.
func (l *Layer) edgesIn(n, bay int) [2]*Line {
	st := l.Strakes[n]
	if bay >= st.To/stationsPerBay {
		return [2]*Line{}
	}
	if upper, lower := l.edgesInBay(n, bay); upper != nil {
		return [2]*Line{upper, lower}
	}
	return [2]*Line{st.Upper, st.Lower}
}

// same reports whether two places coincide apart from rounding.
func same(v0, v1 float64) bool { return v0-v1 < 1e-9 && v1-v0 < 1e-9 }
