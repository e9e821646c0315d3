package loft

import "slices"

// Drop records that two strakes become one: at its last frame one is cut off square, in
// a nib, and the other, notched for it, takes the place of both.
type Drop struct {
	Strake string // the one that ends
	Into   string // its neighbour, which continues
	Band   int
	From   int     // the last frame at which it is laid
	To     int     // the first at which it is not
	Nib    float64 // mm across the strake where it ends
	At     int     // index of that strake in Layer.Strakes
}

// Nib is a notch in a strake, in which a neighbour ends.
type Nib struct {
	Strake int     // index of the neighbour in Layer.Strakes
	Frame  int     // on which it ends
	Ahead  bool    // the strake takes its place towards rising x; else towards falling x
	Above  bool    // the neighbour lies above
	Width  float64 // mm across: depth of the notch
	Wide   float64 // mm across: width of the strake just past the nib
}

// bay is the one in which the strake takes its neighbour's place.
func (n *Nib) bay() int {
	if n.Ahead {
		return n.Frame
	}
	return n.Frame - 1
}

// drops lists where the strakes of a band drop out, frame by frame.
func (l *Layer) drops(b *Band) {
	for i := b.first; i <= b.last; i++ {
		for _, next := range []int{i - 1, i + 1} {
			for _, d := range b.dropsTo(i, next) {
				st, into := l.Strakes[b.First+d.strake], l.Strakes[b.First+d.into]
				l.Drops = append(l.Drops, Drop{Strake: st.ID, Into: into.ID, Band: b.Number, From: i, To: next, Nib: st.At[i].WidthCut, At: b.First + d.strake})
			}
		}
	}
}

// nibs finds the notches of strake n.
func (l *Layer) nibs(n int) {
	st := l.Strakes[n]
	b := l.Bands[st.Band-1]
	for i := b.first; i <= b.last; i++ {
		for _, next := range []int{i - 1, i + 1} {
			wide := st.At[i].WidthCut
			var found []Nib
			for _, d := range b.dropsTo(i, next) {
				if d.into == st.Number-1 {
					w := l.Strakes[b.First+d.strake].At[i].WidthCut
					wide += w
					found = append(found, Nib{Strake: b.First + d.strake, Frame: i, Ahead: next > i, Above: d.strake < d.into, Width: w})
				}
			}
			for _, f := range found {
				f.Wide = wide
				st.Nibs = append(st.Nibs, f)
			}
		}
	}
}

// dropping is a strake of a band that ends at a frame, and the one that takes its
// place.
type dropping struct{ strake, into int }

// dropsTo lists the strakes that are laid at a frame and not at the next, in the
// order of the band; none at frames that are not planked.
func (b *Band) dropsTo(i, next int) []dropping {
	if next < b.first || next > b.last || b.Laid[next] >= b.Laid[i] || b.Laid[next] == 0 {
		return nil
	}
	here, there := b.laidOf(b.Laid[i]), b.laidOf(b.Laid[next])
	var out []dropping
	for _, k := range here {
		if !slices.Contains(there, k) {
			out = append(out, dropping{k, heir(k, there)})
		}
	}
	return out
}

// edgesInBay gives the edges of strake n between a frame and the next; past a nib they
// include the place of the neighbour that ended in it. Nil where it is not laid there.
func (l *Layer) edgesInBay(n, bay int) (upper, lower *Line) {
	st := l.Strakes[n]
	if !st.At[bay].Laid || !st.At[bay+1].Laid {
		return nil, nil
	}
	upper, lower = st.Upper, st.Lower
	top, bottom := n, n
	for i := range st.Nibs {
		nib := &st.Nibs[i]
		if nib.bay() != bay {
			continue
		}
		if nib.Strake < top {
			top, upper = nib.Strake, l.Strakes[nib.Strake].Upper
		}
		if nib.Strake > bottom {
			bottom, lower = nib.Strake, l.Strakes[nib.Strake].Lower
		}
	}
	return upper, lower
}
