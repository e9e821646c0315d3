package progress

import (
	"errors"
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// BothSides follows the record of both sides of a layer (from 0). Each band learns this
// builder's creep from the others and from the other side. The variation of the work is
// learned from all of them together.
func BothSides(k *loft.Planking, layer int, record *hull.Record, habit Habit) (map[hull.Side][]BandState, error) {
	f, err := followAll(k, layer, record, habit)
	if err != nil {
		return nil, err
	}
	out := map[hull.Side][]BandState{}
	for _, side := range hull.Sides() {
		out[side] = f.states(side)
	}
	return out, nil
}

// sideError names the side at fault.
type sideError struct {
	side hull.Side
	err  error
}

func (e sideError) Error() string { return tongue.T("%s side: %s", string(e.side), e.err.Error()) }
func (e sideError) Unwrap() error { return e.err }

// Noted is an entry as it is to be kept: for a strake cut or glued for the first time,
// with the widths that it was cut to, those of the plan or as shared afresh by then, so
// that no later change of the plan alters what is on the ship. The record is the one to
// which it will be added. The error names whatever in the entry the plan does not have.
func Noted(k *loft.Planking, record *hull.Record, side hull.Side, e hull.Entry, habit Habit) (hull.Entry, error) {
	if _, err := k.Layer(e.Layer - 1); err != nil {
		return e, err
	}
	trial := *record
	trial.Add(side, e)
	list := trial.Of(side)
	at := len(list) - 1 // it is the last of its equals
	for at > 0 && !sameEntry(list[at], e) {
		at--
	}
	f, err := followAll(k, e.Layer-1, &trial, habit)
	if err != nil {
		var of sideError
		if errors.As(err, &of) {
			err = of.err
		}
		return e, err
	}
	widths := f.stamps(side)
	if w := widths[at]; len(e.Widths) == 0 && len(w) > 0 {
		e.Widths = w
	}
	return e, nil
}

// sameEntry reports whether two entries are the same.
func sameEntry(a, b hull.Entry) bool {
	return a.Date == b.Date && a.EntryKind == b.EntryKind && a.Layer == b.Layer && a.Band == b.Band && a.Strake == b.Strake &&
		a.Frame == b.Frame && a.MM == b.MM && a.To == b.To && a.Wet == b.Wet && a.Remedy == b.Remedy && a.Note == b.Note && len(a.Widths) == len(b.Widths)
}

// stamps gives, by the entry that cut it, what each strake of a side was cut to.
func (f *followed) stamps(side hull.Side) map[int][]hull.WidthAt {
	out := map[int][]hull.WidthAt{}
	for _, b := range f.bands[side] {
		b.s.stamp(out)
	}
	return out
}

// stamp gives, by the entry that cut it, what each strake was cut to.
func (s *benchBand) stamp(into map[int][]hull.WidthAt) {
	const unit = 1e-3 // mm, finer than any knife
	for n, entry := range s.cutBy {
		for i, w := range s.widths[n] {
			if w > 0 {
				into[entry] = append(into[entry], hull.WidthAt{Frame: s.l.Surface.FrameName(i), MM: math.Round(w/unit) * unit})
			}
		}
	}
}

// keep ensures that a change of the plan leaves alone what is on the ship: it fixes the
// number of strakes in each band of the layer (from 0), and notes with every strake
// that is cut or glued what it was cut to. It changes p, which holds the same decisions
// as the plan of k.
func keep(k *loft.Planking, p *hull.Plan, layer int, habit Habit) error {
	l, err := k.Layer(layer)
	if err != nil {
		return err
	}
	for i, b := range l.Bands {
		p.Layers[layer].Bands[i].Strakes = b.Strakes
	}
	f, err := followAll(k, layer, &p.Record, habit)
	if err != nil {
		return err
	}
	for _, side := range hull.Sides() {
		list := slices.Clone(p.Record.Of(side))
		widths := f.stamps(side)
		for i := range list {
			if w := widths[i]; len(list[i].Widths) == 0 && len(w) > 0 {
				list[i].Widths = w
			}
		}
		if side == hull.Port {
			p.Record.Port = list
		} else {
			p.Record.Starboard = list
		}
	}
	return nil
}
