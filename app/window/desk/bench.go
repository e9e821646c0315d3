package desk

import (
	"errors"
	"fmt"
	"math"
	"time"

	"strakewright/app/answer"
	"strakewright/app/draw/views"
	"strakewright/app/window/kit"
	"strakewright/hull"
	"strakewright/loft"
	"strakewright/loft/progress"
)

// Bench is the record as the window shows it: of which side, as of which day,
// and what follows from it. It holds nothing of the record itself.
type Bench struct {
	desk *Desk
	Side hull.Side
	Day  string // shows the record as it stood at the end of that day; empty is now
	Date string // under which is noted
	Wet  bool   // what is noted is of a wet strip

	of, K *loft.Planking // as planned now, and with the record as of the day
	ofDay string
	On    map[hull.Side][]progress.BandState // of all layers
	Rest  map[hull.Side]map[string]progress.RestStrake
	Err   error
	woods []hull.Wood // the program's table

	told   []string // what is to be known of the bench
	toldIn views.Units
}

func NewBench(d *Desk) *Bench {
	b := &Bench{desk: d, Side: hull.Starboard, Date: time.Now().Format(time.DateOnly)}
	b.woods, _ = answer.Woods() // without it, what a wet strip shrinks by is told as not known
	return b
}

// Reckon brings up to date what follows from the record; nothing while a handle
// is dragged, for the boards must keep up with the mouse.
func (b *Bench) Reckon() bool {
	d := b.desk
	if d.Grip != nil {
		return b.of == d.Planking() && b.Err == nil
	}
	if b.of == d.Planking() && b.ofDay == b.Day {
		return b.Err == nil
	}
	b.of, b.ofDay, b.K = d.Planking(), b.Day, d.Planking()
	b.On, b.Rest = map[hull.Side][]progress.BandState{}, map[hull.Side]map[string]progress.RestStrake{}
	if b.Day != "" {
		then := *b.K.Plan
		then.Record = then.Record.AsOf(b.Day)
		b.K = &loft.Planking{Plan: &then, Layers: b.K.Layers}
	}
	b.told, b.Err = nil, b.states()
	return b.Err == nil
}

// states follows the record of every layer.
func (b *Bench) states() error {
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
func (b *Bench) Record() *hull.Record { return &b.K.Plan.Record }

// noted tells whether anything was noted that the drawings have to follow.
func (b *Bench) noted() bool {
	r := &b.desk.Plan().Record
	return len(r.Starboard)+len(r.Port) > 0
}

// State is that of the chosen band on the side shown, or nil.
func (b *Bench) State() *progress.BandState {
	if !b.Reckon() {
		return nil
	}
	return StateOf(b.On[b.Side], b.desk.Choice.Layer, b.desk.Band())
}

// StateOf finds the state of a band (from 0) of a layer (from 0), or nil.
func StateOf(states []progress.BandState, layer, band int) *progress.BandState {
	for i := range states {
		if states[i].Layer == layer+1 && states[i].Band == band+1 {
			return &states[i]
		}
	}
	return nil
}

// still is a strake still to go on the side shown; ok is false for one that lies
// there, or where nothing was noted.
func (b *Bench) still(id string) (st progress.RestStrake, ok bool) {
	if !b.noted() || !b.Reckon() {
		return st, false
	}
	st, ok = b.Rest[b.Side][id]
	return st, ok
}

// Widths are what the gauge strip shows of the chosen strake, or nil.
func (b *Bench) Widths() *views.BenchWidths {
	s := b.desk.Strake()
	if s == nil {
		return nil
	}
	st, ok := b.still(s.ID)
	if !ok {
		return nil
	}
	name := "to " + string(b.Side)
	if b.Day != "" {
		name += " on " + b.Day
	}
	return &views.BenchWidths{On: st.On, Where: name}
}

// At tells what the bench asks of a strake at a frame, in a clause; nothing
// where it asks for nothing.
func (b *Bench) At(s *loft.Strake, f int) string {
	st, ok := b.still(s.ID)
	if !ok || f < 0 || f >= len(st.On) || !st.On[f].Laid {
		return ""
	}
	return fmt.Sprintf(" · at the bench to %s %s, %s on the frame", b.Side, b.desk.Units.Length(st.On[f].WidthCut), b.desk.Change(st.Change[f]))
}

// Note adds an entry to the record of the side shown; doing names it.
func (b *Bench) Note(e hull.Entry) bool {
	d := b.desk
	if b.Day != "" {
		d.Say("The record is shown as of " + b.Day + " and can only be looked at: go back to now, under Days, to note anything.")
		return false
	}
	d.Settle()
	e.Date, e.Layer, e.Wet = b.Date, d.Choice.Layer+1, b.Wet
	before := len(b.desk.Plan().Record.Of(b.Side))
	err := d.Session.Note(b.Side, e)
	kept := len(b.desk.Plan().Record.Of(b.Side)) > before
	if err != nil {
		d.Say(kit.Sentence(err)) // with the entry in the recovery file alone, or not kept at all
	}
	d.TellSaves()
	if !kept {
		return false
	}
	if err == nil {
		d.Status("Noted to " + string(b.Side) + ": " + d.EntryText(e) + "." + b.queried(e))
	}
	return true
}

// queried tells of an entry just noted that can hardly be right.
func (b *Bench) queried(e hull.Entry) string {
	if !b.Reckon() {
		return ""
	}
	list := b.Record().Of(b.Side)
	for _, s := range b.On[b.Side] {
		for _, q := range s.Queries {
			if got := list[q.Entry]; got.Date == e.Date && got.Doing == e.Doing && got.Frame == e.Frame && got.MM == e.MM && got.Strake == e.Strake && got.Band == e.Band {
				return " But can that be? " + kit.Sentence(errors.New(answer.DoubtText(q, b.desk.Units)))
			}
		}
	}
	return ""
}

// Notes are what the builder must know of the bench: lines of the two sides
// that differ, measurements that can hardly be, strips that await a dry one.
func (b *Bench) Notes() []string {
	if !b.noted() {
		return nil
	}
	if !b.Reckon() {
		if b.Err != nil {
			return []string{"! The bench record cannot be followed: " + kit.Sentence(b.Err)}
		}
		return b.told // a handle is being dragged
	}
	if b.told == nil || b.toldIn != b.desk.Units {
		b.told, b.toldIn = b.warnings(), b.desk.Units
	}
	return b.told
}

func (b *Bench) warnings() []string {
	out := []string{}
	for layer := range b.K.Layers {
		out = append(out, b.Differences(layer)...)
	}
	for _, side := range hull.Sides() {
		for _, s := range b.On[side] {
			for _, q := range s.Queries {
				e := b.Record().Of(side)[q.Entry]
				out = append(out, fmt.Sprintf("! To %s, %s: %s is left out of account, for %s. Measure again.", side, e.Day(), b.desk.EntryText(e), answer.DoubtText(q, b.desk.Units)))
			}
		}
		for layer := range b.K.Layers {
			for _, w := range b.WetStrakes(side, layer) {
				if w.Awaits {
					out = append(out, "! "+b.WetText(side, w))
				}
			}
		}
	}
	return out
}

// Differences tells where the two sides of a layer differ by too much.
func (b *Bench) Differences(layer int) []string {
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
		out = append(out, fmt.Sprintf("! The sides differ at the %s: the seam below %s lies %s lower to %s at frame %s, more than the tolerance.",
			d.Where, d.Below, b.desk.Units.Length(math.Abs(d.By())), side, b.desk.FrameName(d.Frame)))
	}
	return out
}

// WetStrakes are those that went on wet.
func (b *Bench) WetStrakes(side hull.Side, layer int) []progress.WetStrake {
	return progress.WetStrakes(b.K, layer, b.Record().Of(side), b.woods)
}

// WetText tells of a strake that went on wet.
func (b *Bench) WetText(side hull.Side, w progress.WetStrake) string {
	return answer.WetStrakeOf(side, w).Told(b.desk.Units)
}
