package desk

import (
	"time"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/record"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// Bench is the record as the window shows it: of which side, as of which day,
// and what follows from it. It holds nothing of the record itself.
type Bench struct {
	desk *Desk
	Side hull.Side
	Day  string // shows the record as it stood at the end of that day; empty is now
	Date string // under which is noted
	Wet  bool   // what is noted is of a wet strip

	*record.Reckoned
	of    *loft.Planking // it was reckoned of
	ofDay string
	Err   error
	woods []hull.Wood // the program's table

	told   []string // what is to be known of the bench
	toldIn views.Units
}

func newBench(d *Desk) *Bench {
	return &Bench{desk: d, Reckoned: &record.Reckoned{}, Side: hull.Starboard, Date: time.Now().Format(time.DateOnly), woods: hull.UsualWoods()}
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
	b.of, b.ofDay, b.told = d.Planking(), b.Day, nil
	b.Reckoned, b.Err = record.Reckon(b.of, b.Day, b.woods)
	return b.Err == nil
}

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
	return record.StateOf(b.On[b.Side], b.desk.Choice.Layer, b.desk.Band())
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
	name := ToSide(b.Side)
	if b.Day != "" {
		name = tongue.T("%s on %s", name, tongue.Day(b.Day))
	}
	return &views.BenchWidths{On: st.On, Where: name}
}

// SideName names a side of the ship.
func SideName(side hull.Side) string {
	if side == hull.Port {
		return tongue.T("port")
	}
	return tongue.T("starboard")
}

// ToSide says to which side of the ship, as "to port".
func ToSide(side hull.Side) string {
	if side == hull.Port {
		return tongue.T("to port")
	}
	return tongue.T("to starboard")
}

// At tells what the bench asks of a strake at a frame, in a clause; nothing
// where it asks for nothing.
func (b *Bench) At(s *loft.Strake, f int) string {
	st, ok := b.still(s.ID)
	if !ok || f < 0 || f >= len(st.On) || !st.On[f].Laid {
		return ""
	}
	return " · " + tongue.T("at the bench %s %s, %s on the frame", ToSide(b.Side), b.desk.Units.Length(st.On[f].WidthCut), record.Change(b.desk.Units, st.Change[f]))
}

// Note adds an entry to the record of the side shown; doing names it.
func (b *Bench) Note(e hull.Entry) bool {
	return b.NoteTo(b.Side, b.dated(e))
}

// dated is an entry of the layer shown as it is noted now.
func (b *Bench) dated(e hull.Entry) hull.Entry {
	e.Date, e.Layer, e.Wet = b.Date, b.desk.Choice.Layer+1, b.Wet && e.EntryKind != hull.BareGirth
	return e
}

// TryNote is Note, but that it gives the error of an entry that is not kept and does not
// show it.
func (b *Bench) TryNote(e hull.Entry) error {
	kept, err := b.keep(b.Side, b.dated(e))
	if kept && err != nil {
		b.desk.Say(kit.Sentence(err)) // with the entry in the recovery file alone
		return nil
	}
	return err
}

// OnlyLooked says why nothing can be noted while an earlier day is shown.
func (b *Bench) OnlyLooked() string {
	return tongue.T("The record is shown as of %s and can only be looked at: go back to now, under History, to note anything.", tongue.Day(b.Day))
}

// NoteTo adds entries to the record of a side, as one step to undo; false where none
// is kept.
func (b *Bench) NoteTo(side hull.Side, entries ...hull.Entry) bool {
	d := b.desk
	if b.Day != "" {
		d.Say(b.OnlyLooked())
		return false
	}
	kept, err := b.keep(side, entries...)
	if err != nil {
		d.Say(kit.Sentence(err)) // with the entry in the recovery file alone, or not kept at all
	}
	return kept
}

// keep adds entries to the record of a side, and tells whether they are kept.
func (b *Bench) keep(side hull.Side, entries ...hull.Entry) (kept bool, err error) {
	d := b.desk
	d.Settle()
	before := len(d.Plan().Record.Of(side))
	err = d.Session.Note(side, entries...)
	kept = len(d.Plan().Record.Of(side)) > before
	d.TellSaves()
	if kept && err == nil {
		d.Status(b.noteText(side, entries))
	}
	return kept, err
}

// noteText tells what was just noted.
func (b *Bench) noteText(side hull.Side, entries []hull.Entry) string {
	if len(entries) > 1 {
		text := tongue.T("%d readings are noted %s.", len(entries), ToSide(side))
		for _, e := range entries {
			text += b.queried(side, e)
		}
		return text
	}
	return tongue.T("Noted %s: %s.", ToSide(side), record.Entry(b.desk.Units, entries[0])) + b.queried(side, entries[0])
}

// queried tells of an entry just noted that can hardly be right.
func (b *Bench) queried(side hull.Side, e hull.Entry) string {
	if !b.Reckon() {
		return ""
	}
	if asks := b.Query(b.desk.Units, side, e); asks != "" {
		return " " + asks
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
			return []string{"! " + tongue.T("The bench record cannot be followed: %s", kit.Sentence(b.Err))}
		}
		return b.told // a handle is being dragged
	}
	if b.told == nil || b.toldIn != b.desk.Units {
		b.told, b.toldIn = b.Warnings(b.desk.Units), b.desk.Units
	}
	return b.told
}
