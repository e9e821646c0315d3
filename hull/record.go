package hull

import (
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Side is one side of the ship.
type Side string

// The two sides.
const (
	Starboard Side = "starboard"
	Port      Side = "port"
)

// Sides are both sides, in the order in which the record keeps them.
func Sides() []Side { return []Side{Starboard, Port} }

// EntryKind says what an entry of the bench record is about.
type EntryKind string

// What can be done to a strake, and what can be measured.
const (
	Cutout    EntryKind = "cut"     // its pieces are cut and tapered
	Soaking   EntryKind = "soaked"  // it was soaked in water
	Fitted    EntryKind = "fitted"  // it was tried in place
	Pinned    EntryKind = "pinned"  // it was pinned in place, to dry or to be glued
	Glued     EntryKind = "glued"   // it is laid for good
	Removed   EntryKind = "removed" // it was taken off again
	BareGirth EntryKind = "girth"   // mm of a bare frame's girth from the upper limit to the rabbet, before it is planked
	LeftOver  EntryKind = "left"    // mm of girth that a band has left at a frame, along the frame
	AsLaid    EntryKind = "width"   // mm that a strake takes up at a frame as laid
	GapAbove  EntryKind = "gap"     // mm of gap above a strake at a frame
	Chosen    EntryKind = "chosen"  // how the rest of a band is to be made to fit, from here on
)

// doings is the kinds in the order in which they are offered.
var doings = []EntryKind{Cutout, Soaking, Fitted, Pinned, Glued, Removed, BareGirth, LeftOver, AsLaid, GapAbove, Chosen}

// EntryKinds returns all kinds, in the order in which they are offered.
func EntryKinds() []EntryKind { return slices.Clone(doings) }

// Measures reports whether the kind is a measurement.
func (d EntryKind) Measures() bool {
	return d == BareGirth || d == LeftOver || d == AsLaid || d == GapAbove
}

// OfBand reports whether the kind concerns a band.
func (d EntryKind) OfBand() bool { return d == LeftOver || d == Chosen }

// OfStrake reports whether the kind concerns a strake; what concerns neither a band
// nor a strake concerns only a frame.
func (d EntryKind) OfStrake() bool { return !d.OfBand() && d != BareGirth }

// Remedy is how the rest of a band is made to fit where it can no longer be
// divided as planned.
type Remedy string

// The remedies.
const (
	Shave   Remedy = "shave"   // every remaining strake is made narrower or wider by the same amount
	Tighter Remedy = "tighter" // edges are bevelled until they close: the remaining strakes creep less
	Wider   Remedy = "wider"   // the remaining strakes are laid with wider strips
	Narrow  Remedy = "narrow"  // or with narrower ones
	More    Remedy = "more"    // one strake more
	Fewer   Remedy = "fewer"   // one strake less
	Wedged  Remedy = "wedge"   // the strips stay whole, and a wedge fills the gap
	Hidden  Remedy = "hide"    // the top strake takes up all of it, under the wale
	Learned Remedy = "learned" // the plan allows the creep that was learned
)

// ways is the remedies in the order in which they are offered.
var ways = []Remedy{Shave, Tighter, Wider, Narrow, More, Fewer, Wedged, Hidden, Learned}

// Entry is one line of the bench record of a side. Entries are only ever added:
// the state on a given day follows from those up to that day.
type Entry struct {
	Date      string // ISO 8601: 2026-03-01, or with the time 2026-03-01T19:30
	EntryKind EntryKind
	Layer     int       // from 1
	Band      int       // from 1; for a measurement of what is left, and for a choice
	Strake    string    // ID; for everything but a bare frame's girth
	Frame     string    // for a measurement
	MM        float64   // for a measurement; for a choice of Tighter, the creep that remains per strip
	To        float64   // mm: for a measurement, how finely it was read, the divisions of the rule; 0 where that was not noted
	Wet       bool      // the strip was wet from soaking
	Remedy    Remedy    // for a choice
	Widths    []WidthAt // for a strake cut or glued: the widths it was cut to; none where they were not noted
	Note      string

	extra *extra
}

// WidthAt is a strake's width at a frame, mm along the frame.
type WidthAt struct {
	Frame string
	MM    float64
}

// Record is the bench record.
type Record struct {
	Starboard, Port []Entry  // by date
	Tolerance       float64  // mm by which the two sides' lines may differ; 0 takes the usual value
	Steps           []Step   // of laying one strake, in order; if empty, the usual ones
	To              float64  // mm: the divisions of the rule in use, for measurements that give none of their own; 0 where not noted
	Spreads         []Spread // how far this builder's work strays, learned from other builds; at most one for each wood and strip

	extra *extra
}

// Step is one step of laying a strake.
type Step struct {
	Key  string // which of the usual steps it is; empty for one that the builder added
	Name string // the name shown; empty takes the usual name

	extra *extra
}

// Of returns the entries of a side.
func (r *Record) Of(side Side) []Entry {
	if side == Port {
		return r.Port
	}
	return r.Starboard
}

// Add adds entries to a side, each after those of its own and earlier days; of
// two with a time, the later one goes last.
func (r *Record) Add(side Side, entries ...Entry) {
	list := &r.Starboard
	if side == Port {
		list = &r.Port
	}
	*list = slices.Clone(*list)
	for _, e := range entries {
		at := len(*list)
		for at > 0 && (*list)[at-1].after(e) {
			at--
		}
		*list = slices.Insert(*list, at, e)
	}
}

// dayLength is the length of a date such as 2026-03-01.
const dayLength = len(time.DateOnly)

// Day is the day of the entry, such as 2026-03-01.
func (e Entry) Day() string { return e.Date[:min(dayLength, len(e.Date))] }

// after reports whether e stays after an entry that is added later.
func (e Entry) after(o Entry) bool {
	if e.Day() != o.Day() {
		return e.Day() > o.Day()
	}
	return len(e.Date) > dayLength && len(o.Date) > dayLength && e.Date > o.Date
}

// AsOf is the record as it stood at the end of a day, such as 2026-03-01.
func (r *Record) AsOf(day string) Record {
	q := r.clone()
	for _, list := range []*[]Entry{&q.Starboard, &q.Port} {
		n := 0
		for n < len(*list) && (*list)[n].Day() <= day {
			n++
		}
		*list = (*list)[:n:n]
	}
	return q
}

// Days are the days on which anything was noted, the earliest first.
func (r *Record) Days() []string {
	var out []string
	for _, side := range Sides() {
		for _, e := range r.Of(side) {
			out = append(out, e.Day())
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// clone shares the entries, which never change.
func (r *Record) clone() Record {
	q := *r
	q.Starboard, q.Port, q.Steps = slices.Clone(r.Starboard), slices.Clone(r.Port), slices.Clone(r.Steps)
	q.Spreads = slices.Clone(r.Spreads)
	return q
}

// mostEntries is how many entries a side may have.
const mostEntries = 100000

// ValidDate reports whether a text is a date that the record accepts.
func ValidDate(s string) bool {
	for _, layout := range []string{time.DateOnly, "2006-01-02T15:04", "2006-01-02T15:04:05", time.RFC3339} {
		if _, err := time.Parse(layout, s); err == nil {
			return true
		}
	}
	return false
}

// record reads the bench record.
func (r *planReader) record(n node, frames []Frame) Record {
	o := r.object(n, tongue.T("the record"))
	var out Record
	for _, side := range Sides() {
		n, ok := o.take(string(side))
		if !ok {
			continue
		}
		items, _ := r.items(n, tongue.T("%q of the record", side), mostEntries)
		var list []Entry
		for i, n := range items {
			list = append(list, r.entry(n, tongue.T("entry %d of the %s side", i+1, side), frames))
		}
		slices.SortStableFunc(list, func(a, b Entry) int { return strings.Compare(a.Day(), b.Day()) })
		if side == Port {
			out.Port = list
		} else {
			out.Starboard = list
		}
	}
	if n, ok := o.take("tolerance"); ok {
		out.Tolerance, _ = r.number(n, tongue.T(`"tolerance" of the record`), Tolerance)
	}
	if n, ok := o.take("steps"); ok {
		items, _ := r.items(n, tongue.T(`"steps" of the record`), 100)
		for i, n := range items {
			s := r.object(n, tongue.T("step %d of the record", i+1))
			out.Steps = append(out.Steps, Step{Key: s.string("step"), Name: s.string("name"), extra: s.rest()})
		}
	}
	if n, ok := o.take("to"); ok {
		out.To, _ = r.number(n, tongue.T(`"to" of the record`), RuleDivision)
	}
	if n, ok := o.take("spreads"); ok {
		items, _ := r.items(n, tongue.T(`"spreads" of the record`), mostSpreads)
		for i, n := range items {
			s := r.spread(n, tongue.T("spread %d of the record", i+1))
			if slices.ContainsFunc(out.Spreads, func(o Spread) bool { return o.Of(s.Strips()) }) {
				r.fault(n, "remove one of them", "the record has two spreads of %s", s.strip())
			}
			out.Spreads = append(out.Spreads, s)
		}
	}
	out.extra = o.rest()
	return out
}

// entry reads one entry.
func (r *planReader) entry(n node, where string, frames []Frame) Entry {
	o := r.object(n, where)
	words := make([]string, len(doings))
	for i, d := range doings {
		words[i] = string(d)
	}
	e := Entry{Date: o.string("date"), EntryKind: EntryKind(o.oneOf("doing", true, words...)), Layer: 1}
	if !ValidDate(e.Date) {
		r.fault(n, "write it as 2026-03-01 or 2026-03-01T19:30", "the date of %s is %q", where, e.Date)
	}
	if n, ok := o.take("layer"); ok {
		e.Layer, _ = r.whole(n, tongue.T("\"layer\" of %s", where), layerNumber)
	}
	if e.EntryKind.OfBand() {
		if n, ok := o.need("band"); ok {
			e.Band, _ = r.whole(n, tongue.T("\"band\" of %s", where), bandCount)
		}
	}
	if e.EntryKind.OfStrake() {
		if n, ok := o.need("strake"); ok {
			e.Strake, _ = r.string(n, tongue.T("\"strake\" of %s", where))
		}
	}
	if e.EntryKind.Measures() {
		if n, ok := o.need("frame"); ok {
			if i := r.frameNamed(n, "frame", where, frames); i >= 0 {
				e.Frame = frames[i].Name
			}
		}
		e.MM = o.number("mm", Measurement)
		if n, ok := o.take("to"); ok {
			e.To, _ = r.number(n, tongue.T("\"to\" of %s", where), RuleDivision)
		}
	}
	if n, ok := o.take("wet"); ok {
		e.Wet = r.truth(n, tongue.T("\"wet\" of %s", where))
	}
	if e.EntryKind == Chosen {
		words := make([]string, len(ways))
		for i, w := range ways {
			words[i] = string(w)
		}
		e.Remedy = Remedy(o.oneOf("way", true, words...))
		if n, ok := o.take("mm"); ok {
			e.MM, _ = r.number(n, tongue.T("\"mm\" of %s", where), Measurement)
		}
	}
	if n, ok := o.take("widths"); ok {
		e.Widths = r.widthsAt(n, tongue.T("\"widths\" of %s", where), frames)
	}
	e.Note = o.string("note")
	e.extra = o.rest()
	return e
}

// widthsAt reads widths by the names of their frames. Those of frames that the
// hull no longer has are kept, after the others.
func (r *planReader) widthsAt(n node, where string, frames []Frame) []WidthAt {
	o := r.object(n, where)
	var out []WidthAt
	read := func(name string) {
		if n, ok := o.take(name); ok {
			mm, _ := r.number(n, tongue.T("%q in %s", name, where), Measurement)
			out = append(out, WidthAt{name, mm})
		}
	}
	for _, f := range frames {
		read(f.Name)
	}
	for _, name := range slices.Sorted(maps.Keys(o.left)) {
		read(name)
	}
	return out
}

// recordMember is the record's member of the plan; nothing while the record is
// empty.
func (p *Plan) recordMember() object {
	if o := p.Record.object(); len(o) > 0 {
		return object{{"record", o}}
	}
	return nil
}

// object is the record as written; nothing for one without entries.
func (r *Record) object() object {
	var o object
	for _, side := range Sides() {
		if entries := entryList(r.Of(side)); len(entries) > 0 {
			o = append(o, member{string(side), entries})
		}
	}
	if r.Tolerance != 0 {
		o = append(o, member{"tolerance", r.Tolerance})
	}
	if len(r.Steps) > 0 {
		steps := list{}
		for _, s := range r.Steps {
			step := object{{"step", s.Key}}
			if s.Name != "" {
				step = append(step, member{"name", s.Name})
			}
			steps = append(steps, append(step, s.extra.members()...))
		}
		o = append(o, member{"steps", steps})
	}
	if r.To != 0 {
		o = append(o, member{"to", r.To})
	}
	if len(r.Spreads) > 0 {
		spreads := list{}
		for i := range r.Spreads {
			spreads = append(spreads, r.Spreads[i].object())
		}
		o = append(o, member{"spreads", spreads})
	}
	return append(o, r.extra.members()...)
}

func entryList(entries []Entry) list {
	out := list{}
	for _, e := range entries {
		o := object{{"date", e.Date}, {"doing", string(e.EntryKind)}, {"layer", e.Layer}}
		if e.EntryKind.OfBand() {
			o = append(o, member{"band", e.Band})
		}
		if e.EntryKind.OfStrake() {
			o = append(o, member{"strake", e.Strake})
		}
		if e.EntryKind.Measures() {
			o = append(o, member{"frame", e.Frame}, member{"mm", e.MM})
			if e.To != 0 {
				o = append(o, member{"to", e.To})
			}
		}
		if e.EntryKind == Chosen {
			o = append(o, member{"way", string(e.Remedy)})
			if e.MM != 0 {
				o = append(o, member{"mm", e.MM})
			}
		}
		if len(e.Widths) > 0 {
			widths := object{}
			for _, w := range e.Widths {
				widths = append(widths, member{w.Frame, w.MM})
			}
			o = append(o, member{"widths", widths})
		}
		if e.Wet {
			o = append(o, member{"wet", true})
		}
		if e.Note != "" {
			o = append(o, member{"note", e.Note})
		}
		out = append(out, append(o, e.extra.members()...))
	}
	return out
}
