package window

import (
	"errors"
	"fmt"
	"math"
	"time"

	"strakewright/app/answer"
	"strakewright/app/draw/views"
	"strakewright/hull"
	"strakewright/loft"
)

// bench is the record as the window shows it: of which side, as of which day,
// and what follows from it. It holds nothing of the record itself.
type bench struct {
	desk *desk
	side hull.Side
	day  string // shows the record as it stood at the end of that day; empty is now
	date string // under which is noted
	wet  bool   // what is noted is of a wet strip

	of, k *loft.Planking // as planned now, and with the record as of the day
	ofDay string
	on    map[hull.Side][]loft.BandState // of all layers
	rest  map[hull.Side]map[string]loft.RestStrake
	err   error
	woods []hull.Wood // the program's table

	told   []string // what is to be known of the bench
	toldIn views.Units
}

func newBench(d *desk) *bench {
	b := &bench{desk: d, side: hull.Starboard, date: time.Now().Format(time.DateOnly)}
	b.woods, _ = answer.Woods() // without it, what a wet strip shrinks by is told as not known
	return b
}

// reckon brings up to date what follows from the record; nothing while a handle
// is dragged, for the boards must keep up with the mouse.
func (b *bench) reckon() bool {
	d := b.desk
	if d.grip != nil {
		return b.of == d.planking() && b.err == nil
	}
	if b.of == d.planking() && b.ofDay == b.day {
		return b.err == nil
	}
	b.of, b.ofDay, b.k = d.planking(), b.day, d.planking()
	b.on, b.rest = map[hull.Side][]loft.BandState{}, map[hull.Side]map[string]loft.RestStrake{}
	if b.day != "" {
		then := *b.k.Plan
		then.Record = then.Record.AsOf(b.day)
		b.k = &loft.Planking{Plan: &then, Layers: b.k.Layers}
	}
	b.told, b.err = nil, b.states()
	return b.err == nil
}

// states follows the record of every layer.
func (b *bench) states() error {
	for layer := range b.k.Layers {
		states, err := b.k.Bench(layer, b.record(), loft.UsualBench)
		if err != nil {
			return err
		}
		for _, side := range hull.Sides {
			b.on[side] = append(b.on[side], states[side]...)
		}
	}
	for _, side := range hull.Sides {
		b.rest[side] = map[string]loft.RestStrake{}
		for i := range b.on[side] {
			for _, st := range b.on[side][i].Rest() {
				b.rest[side][st.ID] = st
			}
		}
	}
	return nil
}

// record is the one shown.
func (b *bench) record() *hull.Record { return &b.k.Plan.Record }

// noted tells whether anything was noted that the drawings have to follow.
func (b *bench) noted() bool {
	r := &b.desk.plan().Record
	return len(r.Starboard)+len(r.Port) > 0
}

// state is that of the chosen band on the side shown, or nil.
func (b *bench) state() *loft.BandState {
	if !b.reckon() {
		return nil
	}
	return stateOf(b.on[b.side], b.desk.choice.Layer, b.desk.band())
}

// stateOf finds the state of a band (from 0) of a layer (from 0), or nil.
func stateOf(states []loft.BandState, layer, band int) *loft.BandState {
	for i := range states {
		if states[i].Layer == layer+1 && states[i].Band == band+1 {
			return &states[i]
		}
	}
	return nil
}

// still is a strake still to go on the side shown; ok is false for one that lies
// there, or where nothing was noted.
func (b *bench) still(id string) (st loft.RestStrake, ok bool) {
	if !b.noted() || !b.reckon() {
		return st, false
	}
	st, ok = b.rest[b.side][id]
	return st, ok
}

// widths are what the gauge strip shows of the chosen strake, or nil.
func (b *bench) widths() *views.BenchWidths {
	s := b.desk.strake()
	if s == nil {
		return nil
	}
	st, ok := b.still(s.ID)
	if !ok {
		return nil
	}
	name := "to " + string(b.side)
	if b.day != "" {
		name += " on " + b.day
	}
	return &views.BenchWidths{On: st.On, Where: name}
}

// at tells what the bench asks of a strake at a frame, in a clause; nothing
// where it asks for nothing.
func (b *bench) at(s *loft.Strake, f int) string {
	st, ok := b.still(s.ID)
	if !ok || f < 0 || f >= len(st.On) || !st.On[f].Laid {
		return ""
	}
	return fmt.Sprintf(" · at the bench to %s %s, %s on the frame", b.side, b.desk.units.Length(st.On[f].WidthCut), b.desk.change(st.Change[f]))
}

// note adds an entry to the record of the side shown; doing names it.
func (b *bench) note(e hull.Entry) bool {
	d := b.desk
	if b.day != "" {
		d.say("The record is shown as of " + b.day + " and can only be looked at: go back to now, under Days, to note anything.")
		return false
	}
	d.settle()
	e.Date, e.Layer, e.Wet = b.date, d.choice.Layer+1, b.wet
	before := len(b.desk.plan().Record.Of(b.side))
	err := d.s.Note(b.side, e)
	kept := len(b.desk.plan().Record.Of(b.side)) > before
	if err != nil {
		d.say(sentence(err)) // with the entry in the recovery file alone, or not kept at all
	}
	d.tellSaves()
	if !kept {
		return false
	}
	if err == nil {
		d.status("Noted to " + string(b.side) + ": " + d.entryText(e) + "." + b.queried(e))
	}
	return true
}

// queried tells of an entry just noted that can hardly be right.
func (b *bench) queried(e hull.Entry) string {
	if !b.reckon() {
		return ""
	}
	list := b.record().Of(b.side)
	for _, s := range b.on[b.side] {
		for _, q := range s.Queries {
			if got := list[q.Entry]; got.Date == e.Date && got.Doing == e.Doing && got.Frame == e.Frame && got.MM == e.MM && got.Strake == e.Strake && got.Band == e.Band {
				return " But can that be? " + b.desk.inUnits(sentence(errors.New(q.Why)))
			}
		}
	}
	return ""
}

// notes are what the builder must know of the bench: lines of the two sides
// that differ, measurements that can hardly be, strips that await a dry one.
func (b *bench) notes() []string {
	if !b.noted() {
		return nil
	}
	if !b.reckon() {
		if b.err != nil {
			return []string{"! The bench record cannot be followed: " + sentence(b.err)}
		}
		return b.told // a handle is being dragged
	}
	if b.told == nil || b.toldIn != b.desk.units {
		b.told, b.toldIn = b.warnings(), b.desk.units
	}
	return b.told
}

func (b *bench) warnings() []string {
	out := []string{}
	for layer := range b.k.Layers {
		out = append(out, b.differences(layer)...)
	}
	for _, side := range hull.Sides {
		for _, s := range b.on[side] {
			for _, q := range s.Queries {
				e := b.record().Of(side)[q.Entry]
				out = append(out, fmt.Sprintf("! To %s, %s: %s is left out of account, for %s. Measure again.", side, e.Day(), b.desk.entryText(e), b.desk.inUnits(q.Why)))
			}
		}
		for layer := range b.k.Layers {
			for _, w := range b.wetStrakes(side, layer) {
				if w.Awaits {
					out = append(out, "! "+b.wetText(side, w))
				}
			}
		}
	}
	return out
}

// differences tells where the two sides of a layer differ by too much.
func (b *bench) differences(layer int) []string {
	states := map[hull.Side][]loft.BandState{}
	for _, side := range hull.Sides {
		for _, s := range b.on[side] {
			if s.Layer == layer+1 {
				states[side] = append(states[side], s)
			}
		}
	}
	worst := map[string]loft.SideDifference{}
	var order []string
	for _, d := range b.k.CompareSides(states, b.record().Tolerance) {
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
		out = append(out, fmt.Sprintf("! The sides differ at the %s: the seam below %s lies %s lower to %s at frame %s, more than the tolerance.",
			d.Where, d.Below, b.desk.units.Length(math.Abs(d.By())), side, b.desk.frameName(d.Frame)))
	}
	return out
}

// wetStrakes are those that went on wet.
func (b *bench) wetStrakes(side hull.Side, layer int) []loft.WetStrake {
	return b.k.WetStrakes(layer, b.record().Of(side), b.woods)
}

// wetText tells of a strake that went on wet.
func (b *bench) wetText(side hull.Side, w loft.WetStrake) string {
	text := w.ID + " to " + string(side)
	switch {
	case w.GluedWet:
		text += " was glued wet"
	case w.Glued != "":
		text += " was pinned wet and glued dry"
	default:
		text += " is pinned wet"
	}
	if w.Soaked != "" {
		text += ", soaked " + w.Soaked
	}
	if w.Pinned != "" {
		text += ", pinned " + w.Pinned
	}
	if len(w.Woods) == 0 {
		text += "; what it shrinks by is not known, for the layer names no wood of the tables"
	} else {
		u := b.desk.units
		text += fmt.Sprintf("; as it dries it shrinks by %s to %s at most", u.Number(w.Shrinks.Low), u.Length(w.Shrinks.High))
	}
	if w.Awaits {
		return text + ". Measure its width when it is dry."
	}
	return text + ". It has been measured dry."
}
