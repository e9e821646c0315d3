package record

import (
	"math"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// Reckoned is what follows from the record of a planking, as of a day.
type Reckoned struct {
	K     *loft.Planking                     // with the record as of the day
	On    map[hull.Side][]progress.BandState // of all layers
	Rest  map[hull.Side]map[string]progress.RestStrake
	woods []hull.Wood
}

// Reckon follows the record of a planking as it stood at the end of a day, or, where
// that is empty, as it stands. woods is the program's table. What is given is never
// nil, but after an error it lacks what could not be followed.
func Reckon(k *loft.Planking, day string, woods []hull.Wood) (*Reckoned, error) {
	if day != "" {
		then := *k.Plan
		then.Record = then.Record.AsOf(day)
		k = &loft.Planking{Plan: &then, Layers: k.Layers}
	}
	b := &Reckoned{K: k, On: map[hull.Side][]progress.BandState{}, Rest: map[hull.Side]map[string]progress.RestStrake{}, woods: woods}
	err := b.states()
	return b, err
}

// states follows the record of every layer.
func (b *Reckoned) states() error {
	for layer := range b.K.Layers {
		states, err := progress.BothSides(b.K, layer, b.Record(), progress.UsualHabit())
		if err != nil {
			return err
		}
		for _, side := range hull.Sides() {
			b.On[side] = append(b.On[side], states[side]...)
		}
	}
	for _, side := range hull.Sides() {
		b.Rest[side] = map[string]progress.RestStrake{}
		for i := range b.On[side] {
			for _, st := range b.On[side][i].Rest() {
				b.Rest[side][st.ID] = st
			}
		}
	}
	return nil
}

// Record is the one shown.
func (b *Reckoned) Record() *hull.Record { return &b.K.Plan.Record }

// StateOf finds the state of a band (from 0) of a layer (from 0), or nil.
func StateOf(states []progress.BandState, layer, band int) *progress.BandState {
	for i := range states {
		if states[i].Layer == layer+1 && states[i].Band == band+1 {
			return &states[i]
		}
	}
	return nil
}

// Warnings are what the builder must know of the bench, a sentence or two each.
func (b *Reckoned) Warnings(u answer.Units) []string {
	out := []string{}
	for layer := range b.K.Layers {
		out = append(out, b.Differences(u, layer)...)
	}
	for _, side := range hull.Sides() {
		asked := map[int]bool{} // a bare frame is asked about once, though it bears on every band
		for _, s := range b.On[side] {
			for _, q := range s.Queries {
				if asked[q.Entry] {
					continue
				}
				asked[q.Entry] = true
				e := b.Record().Of(side)[q.Entry]
				out = append(out, "! "+answer.QueryText(tongue.T("To %s, %s: %s. This reading", side, tongue.Day(e.Day()), Entry(u, e)), answer.DoubtText(q, u), q.Kept)+".")
			}
		}
		for layer := range b.K.Layers {
			for _, w := range b.WetStrakes(side, layer) {
				if w.Awaits {
					out = append(out, "! "+b.WetText(u, side, w))
				}
			}
		}
	}
	return out
}

// Differences tells where the two sides of a layer differ by too much.
func (b *Reckoned) Differences(u answer.Units, layer int) []string {
	states := map[hull.Side][]progress.BandState{}
	for _, side := range hull.Sides() {
		for _, s := range b.On[side] {
			if s.Layer == layer+1 {
				states[side] = append(states[side], s)
			}
		}
	}
	worst := map[string]progress.SideDifference{}
	var order []string
	for _, d := range progress.CompareSides(b.K, states, b.Record().Tolerance) {
		key := string(d.Where) + " " + d.Below
		if !d.Over {
			continue
		}
		if old, ok := worst[key]; !ok {
			order = append(order, key)
		} else if math.Abs(old.By()) >= math.Abs(d.By()) {
			continue
		}
		worst[key] = d
	}
	var out []string
	for _, key := range order {
		d := worst[key]
		side := hull.Port
		if d.By() < 0 {
			side = hull.Starboard
		}
		out = append(out, tongue.T("! The sides differ at the %s: the seam below %s lies %s lower to %s at frame %s, more than the tolerance.",
			d.Where, d.Below, u.Length(math.Abs(d.By())), side, b.K.Plan.Hull.Frames[d.Frame].Name))
	}
	return out
}

// WetStrakes are those that went on wet.
func (b *Reckoned) WetStrakes(side hull.Side, layer int) []progress.WetStrake {
	return progress.WetStrakes(b.K, layer, b.Record().Of(side), b.woods)
}

// WetText tells of a strake that went on wet.
func (b *Reckoned) WetText(u answer.Units, side hull.Side, w progress.WetStrake) string {
	return answer.WetStrakeOf(side, w).Told(u)
}

// Query asks about an entry just noted to a side that can hardly be right; empty where
// it can.
func (b *Reckoned) Query(u answer.Units, side hull.Side, e hull.Entry) string {
	list := b.Record().Of(side)
	for _, s := range b.On[side] {
		for _, q := range s.Queries {
			if got := list[q.Entry]; got.Date == e.Date && got.EntryKind == e.EntryKind && got.Frame == e.Frame && got.MM == e.MM && got.Strake == e.Strake && got.Band == e.Band {
				return tongue.T("Check the measurement. %s.", answer.QueryText("It", answer.DoubtText(q, u), q.Kept))
			}
		}
	}
	return ""
}
