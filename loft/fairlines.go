package loft

import (
	"context"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
)

// FairLines returns a plan in which the band lines of a layer (from 0) lie with the
// least edge-set. It starts from lines between bands of equal girth; the middle line is
// free, held at the frame of greatest girth; the others are of least edge-set, held at
// their shares of the remaining girth there and at the two ends. With bands 0 the
// plan's number is kept, but at least two. On a hull known by its girths alone the
// lines are drawn at equal shares of them. The plan passed in is not changed. It stops
// when the context ends, with an error that wraps the context's.
func FairLines(ctx context.Context, p *hull.Plan, layer, bands int) (*hull.Plan, error) {
	if layer < 0 || layer >= len(p.Layers) {
		return nil, tongue.Errorf("there is no layer %d: the plan has %d", layer+1, len(p.Layers))
	}
	if bands == 0 {
		bands = max(len(p.Layers[layer].Bands), 2)
	}
	if err := hull.LinedBands.Refuse(tongue.T("the number of bands"), float64(bands), ""); err != nil {
		return nil, err
	}
	base, err := plank(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	q := *p
	q.Layers = append([]hull.Layer{}, p.Layers...)
	h := &q.Layers[layer]
	h.Bands = bandsOf(h.Bands, bands)
	h.Lines = nil
	l := base.Layers[layer]
	if p.Hull.Shapeless() {
		for k := 1; k < bands; k++ {
			h.Lines = append(h.Lines, l.shareLine(float64(k)/float64(bands)))
		}
		return &q, nil
	}
	mid := l.Greatest()
	if err := halt.Asked(ctx, layingLines); err != nil {
		return nil, err
	}
	middle := l.freeMiddle(mid, float64(bands/2)/float64(bands), followsOf(&p.Layers[layer]))
	if bands == 1 {
		return &q, nil
	}
	for k := 1; k < bands; k++ {
		if err := halt.Asked(ctx, layingLines); err != nil {
			return nil, err
		}
		if k == bands/2 {
			h.Lines = append(h.Lines, *middle)
			continue
		}
		h.Lines = append(h.Lines, l.fairBetween(middle, k, bands, mid, h))
	}
	return &q, nil
}

const layingLines = "the laying of the band lines"

// shareLine is the line drawn at a share of the girth of every frame.
func (l *Layer) shareLine(share float64) hull.BandLine {
	b := hull.BandLine{LineType: hull.Drawn, Hold: l.Greatest(), Aim: -1}
	for _, g := range l.Girths {
		b.Handles = append(b.Handles, hull.Handle{Down: share * g, Held: true})
	}
	return b
}

// bandsOf keeps the bands if their number is the same; else all are new, with the
// number of strakes left open.
func bandsOf(old []hull.Band, n int) []hull.Band {
	if len(old) == n {
		return old
	}
	return make([]hull.Band, n)
}

// followsOf is what the free line of a layer follows: that of its first free line.
func followsOf(h *hull.Layer) hull.Follows {
	for i := range h.Lines {
		if h.Lines[i].LineType == hull.Free {
			return h.Lines[i].Follows
		}
	}
	return hull.ThinBatten
}

// freeMiddle is the free line held at a share of the girth of a frame. Its handles are
// moved to where the line lies.
func (l *Layer) freeMiddle(frame int, share float64, follows hull.Follows) *hull.BandLine {
	s := l.Surface
	b := &hull.BandLine{LineType: hull.Free, Follows: follows, Hold: frame, Aim: -1, Handles: make([]hull.Handle, s.Frames())}
	b.Handles[frame].Down = share * s.Girth(frame)
	held := s.originOf(b, l.ribbon)
	free, _ := s.followed(&held)
	course, _, _ := s.fill(free)
	for i := range b.Handles {
		k := s.FrameStation(i)
		b.Handles[i] = hull.Handle{Down: min(max(s.down(k, course.v[k]), 0), s.Girth(i)), Held: true}
	}
	b.Handles[frame].Down = share * s.Girth(frame)
	return b
}

// fairBetween is line k of the given number of bands: in proportion between the middle
// line and the limit on its side, then eased between three held frames.
func (l *Layer) fairBetween(middle *hull.BandLine, k, bands, mid int, h *hull.Layer) hull.BandLine {
	s := l.Surface
	b := hull.BandLine{LineType: hull.Least, Hold: mid, Aim: -1, Handles: make([]hull.Handle, s.Frames())}
	m := bands / 2
	room := l.Rules.LeastWidth * h.Stock.Width
	for i := range b.Handles {
		g := s.Girth(i)
		at := min(max(middle.Handles[i].Down, room*float64(m)), g-room*float64(bands-m))
		down := at * float64(k) / float64(m)
		if k > m {
			down = at + (g-at)*float64(k-m)/float64(bands-m)
		}
		b.Handles[i] = hull.Handle{Down: down, Held: i == s.first || i == mid || i == s.last}
	}
	return b
}
