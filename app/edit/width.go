package edit

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// The shares between which a strake's is set, against that of the others.
const leastShare, mostShare = 0.25, 4.0

// widthReached is how near the width asked for a share has to bring a strake, mm: finer
// than any rule is read.
const widthReached = 0.005

// SetWidth gives the change that makes a strake of a layer (from 0) so many mm wide at a
// frame, measured by a function, as across it or along the frame: its share against the
// other strakes of its band is changed, and with it its width at every other frame. It is
// refused where no share gives that width: the error is a WidthBeyond.
func SetWidth(k *loft.Planking, layer int, id string, frame int, mm float64, width func(loft.Crossing) float64) Change {
	w := widthSet{k, layer, id, frame, width}
	return func(p *hull.Plan) error { return w.to(p, mm) }
}

// widthSet is a strake whose width at a frame is set by its share.
type widthSet struct {
	k     *loft.Planking
	layer int
	id    string
	frame int
	width func(loft.Crossing) float64
}

// to looks for the share from that of now on, in steps: a strake is the wider the greater
// its share is, but where the band then lays other strakes at some frame it leaps.
func (w widthSet) to(p *hull.Plan, mm float64) error {
	s, err := w.strake(w.k)
	if err != nil {
		return err
	}
	if w.k.Layers[w.layer].Bands[s.Band-1].Strakes < 2 {
		return tongue.Errorf("strake %s is the only one of its band and as wide as that: move the band lines", s.ID)
	}
	from := shared{p.Layers[w.layer].Bands[s.Band-1].Weight(s.Number - 1), w.width(s.At[w.frame])}
	if math.Abs(from.width-mm) <= widthReached/2 {
		return nil
	}
	step := shareStep
	if mm < from.width {
		step = 1 / shareStep
	}
	for at, farthest := from, from; ; {
		next := shared{share: min(max(at.share*step, leastShare), mostShare)}
		if next.share == at.share {
			return WidthBeyond{Strake: s.ID, Least: min(farthest.width, from.width), Most: max(farthest.width, from.width)}
		}
		if next.width, err = w.with(p, s, next.share); err != nil {
			at.share = next.share
			continue
		}
		if (next.width-mm)*(at.width-mm) <= 0 && w.between(p, s, at, next, mm) {
			return nil
		}
		at = next
		if math.Abs(at.width-mm) < math.Abs(farthest.width-mm) {
			farthest = at
		}
	}
}

// shareStep is the factor from one share that is tried to the next.
const shareStep = 1.05

// shared is a share, and how wide the strake is by it, mm.
type shared struct{ share, width float64 }

// between sets the share between two at which the strake is as wide as that, by false
// position. It is false where its width leaps past it.
func (w widthSet) between(p *hull.Plan, s *loft.Strake, a, b shared, mm float64) bool {
	for range 20 {
		at := shared{share: a.share + (b.share-a.share)*(mm-a.width)/(b.width-a.width)}
		if !((at.share > a.share) == (at.share < b.share)) {
			at.share = (a.share + b.share) / 2
		}
		var err error
		if at.width, err = w.with(p, s, at.share); err != nil {
			return false
		}
		if math.Abs(at.width-mm) <= widthReached/2 {
			return true
		}
		if (at.width < mm) == (a.width < mm) {
			a = at
		} else {
			b = at
		}
	}
	return false
}

// strake is the strake in a planking, where it is laid at the frame.
func (w widthSet) strake(k *loft.Planking) (*loft.Strake, error) {
	l := k.Layers[w.layer]
	if n := l.StrakeNamed(w.id); n >= 0 && l.Strakes[n].At[w.frame].Laid {
		return l.Strakes[n], nil
	}
	return nil, tongue.Errorf("strake %s is not laid at frame %s, and has no width there", w.id, l.Surface.FrameName(w.frame))
}

// with sets a share, and tells how wide the strake is by it, mm. The error tells that the
// band then has other strakes.
func (w widthSet) with(p *hull.Plan, s *loft.Strake, share float64) (float64, error) {
	n := w.k.Layers[w.layer].Bands[s.Band-1].Strakes
	if err := SetWeight(w.layer, s.Band-1, s.Number-1, n, share)(p); err != nil {
		return 0, err
	}
	k, err := w.k.Replank(p)
	if err != nil {
		return 0, err
	}
	now, err := w.strake(k)
	if err != nil {
		return 0, err
	}
	if got := k.Layers[w.layer].Bands[s.Band-1].Strakes; got != n {
		return 0, tongue.Errorf("the band then has %d strakes and not %d", got, n)
	}
	return w.width(now.At[w.frame]), nil
}

// WidthBeyond tells that no share gives a strake the width asked for.
type WidthBeyond struct {
	Strake      string
	Least, Most float64 // mm: from as wide as it is to as near to that as a share brings it
}

func (e WidthBeyond) Error() string {
	return tongue.T("strake %s can be %.2f to %.2f mm wide there, by its share of the band; for more or less, move the band lines", e.Strake, e.Least, e.Most)
}
