package loft

// Drop tells that two strakes end in one.
type Drop struct {
	Strake string // the one that ends
	Into   string // its neighbour that goes on
	Band   int
	From   int // the last frame at which it is laid
	To     int // the first at which it is not
}

// drops lists where the strakes of a band drop out: towards either end, frame
// by frame.
func (l *Layer) drops(b *Band) {
	for k := range b.Weights {
		st := l.Strakes[b.First+k]
		for i := l.Surface.first; i < l.Surface.last; i++ {
			switch {
			case st.At[i].Laid && !st.At[i+1].Laid:
				l.addDrop(b, k, i, i+1)
			case !st.At[i].Laid && st.At[i+1].Laid:
				l.addDrop(b, k, i+1, i)
			}
		}
	}
}

// addDrop notes one.
func (l *Layer) addDrop(b *Band, k, from, to int) {
	into := heir(k, b.laidOf(b.Laid[to]))
	l.Drops = append(l.Drops, Drop{
		Strake: l.Strakes[b.First+k].ID, Into: l.Strakes[b.First+into].ID, Band: b.Number, From: from, To: to,
	})
}
