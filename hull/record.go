package hull

import (
	"fmt"
	"slices"
	"time"
)

// Side is one side of the ship.
type Side string

// The two sides.
const (
	Starboard Side = "starboard"
	Port      Side = "port"
)

// Sides are both, in the order in which the record keeps them.
var Sides = []Side{Starboard, Port}

// Doing is what an entry of the bench record tells.
type Doing string

// What is done to a strake, and what is measured.
const (
	Cutout   Doing = "cut"     // its pieces are cut and tapered
	Soaking  Doing = "soaked"  // it was put in water
	Fitted   Doing = "fitted"  // it was tried in its place
	Pinned   Doing = "pinned"  // it was pinned there, to dry or to be glued
	Glued    Doing = "glued"   // it is laid for good
	Removed  Doing = "removed" // it was taken off again
	LeftOver Doing = "left"    // mm of girth left of a band at a frame, along the frame
	AsLaid   Doing = "width"   // mm that a strake takes up at a frame as laid
	GapAbove Doing = "gap"     // mm of gap above a strake at a frame
)

// doings in the order in which they are offered.
var doings = []Doing{Cutout, Soaking, Fitted, Pinned, Glued, Removed, LeftOver, AsLaid, GapAbove}

// Measures tells whether the doing is a measurement.
func (d Doing) Measures() bool { return d == LeftOver || d == AsLaid || d == GapAbove }

// Entry is one line of the bench record of a side. Entries are only ever
// added: what was true on a day is told by those up to it.
type Entry struct {
	Date   string // ISO 8601: 2026-03-01, or with the time 2026-03-01T19:30
	Doing  Doing
	Layer  int     // from 1
	Band   int     // from 1; of a measurement of what is left
	Strake string  // ID; of all others
	Frame  string  // of a measurement
	MM     float64 // of a measurement
	Wet    bool    // the strip was wet from soaking
	Note   string

	extra *extra
}

// Record is the bench record.
type Record struct {
	Starboard, Port []Entry // by date
	Tolerance       float64 // mm that the two sides' lines may differ; 0 takes the usual
	Steps           []Step  // of laying one strake, in order; none take the usual ones

	extra *extra
}

// Step is one step of laying a strake.
type Step struct {
	Key  string // which of the usual steps it is; empty for one of the builder's own
	Name string // what it is called; empty takes the usual name

	extra *extra
}

// Of gives the entries of a side.
func (r *Record) Of(side Side) []Entry {
	if side == Port {
		return r.Port
	}
	return r.Starboard
}

// Add puts an entry on a side, after those of its date and before.
func (r *Record) Add(side Side, e Entry) {
	list := &r.Starboard
	if side == Port {
		list = &r.Port
	}
	at := len(*list)
	for at > 0 && (*list)[at-1].Date > e.Date {
		at--
	}
	*list = slices.Insert(slices.Clone(*list), at, e)
}

// clone shares the entries, which never change.
func (r *Record) clone() Record {
	q := *r
	q.Starboard, q.Port, q.Steps = slices.Clone(r.Starboard), slices.Clone(r.Port), slices.Clone(r.Steps)
	return q
}

// mostEntries is how many entries a side may have.
const mostEntries = 100000

var (
	measured      = span{-1000, largest, false}
	toleranceSpan = span{0, 1000, false}
	layerNumber   = span{1, mostLayers, false}
	bandNumber    = span{1, mostBands, false}
)

// ValidDate tells whether a text is a date of the record.
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
	o := r.object(n, "the record")
	var out Record
	for _, side := range Sides {
		n, ok := o.take(string(side))
		if !ok {
			continue
		}
		items, _ := r.items(n, fmt.Sprintf("%q of the record", side), mostEntries)
		var list []Entry
		for i, n := range items {
			list = append(list, r.entry(n, fmt.Sprintf("entry %d of the %s side", i+1, side), frames))
		}
		slices.SortStableFunc(list, func(a, b Entry) int {
			switch {
			case a.Date < b.Date:
				return -1
			case a.Date > b.Date:
				return 1
			}
			return 0
		})
		if side == Port {
			out.Port = list
		} else {
			out.Starboard = list
		}
	}
	if n, ok := o.take("tolerance"); ok {
		out.Tolerance, _ = r.number(n, `"tolerance" of the record`, toleranceSpan)
	}
	if n, ok := o.take("steps"); ok {
		items, _ := r.items(n, `"steps" of the record`, 100)
		for i, n := range items {
			s := r.object(n, fmt.Sprintf("step %d of the record", i+1))
			out.Steps = append(out.Steps, Step{Key: s.string("step"), Name: s.string("name"), extra: s.rest()})
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
	e := Entry{Date: o.string("date"), Doing: Doing(o.oneOf("doing", true, words...)), Layer: 1}
	if !ValidDate(e.Date) {
		r.fault(n, "write it as 2026-03-01 or 2026-03-01T19:30", "the date of %s is %q", where, e.Date)
	}
	if n, ok := o.take("layer"); ok {
		e.Layer, _ = r.whole(n, `"layer" of `+where, layerNumber)
	}
	if e.Doing == LeftOver {
		if n, ok := o.need("band"); ok {
			e.Band, _ = r.whole(n, `"band" of `+where, bandNumber)
		}
	} else if n, ok := o.need("strake"); ok {
		e.Strake, _ = r.string(n, `"strake" of `+where)
	}
	if e.Doing.Measures() {
		if n, ok := o.need("frame"); ok {
			if i := r.frameNamed(n, "frame", where, frames); i >= 0 {
				e.Frame = frames[i].Name
			}
		}
		e.MM = o.number("mm", measured)
	}
	if n, ok := o.take("wet"); ok {
		e.Wet = r.truth(n, `"wet" of `+where)
	}
	e.Note = o.string("note")
	e.extra = o.rest()
	return e
}

// recordMember is the record's member of the plan; nothing while it is empty.
func (p *Plan) recordMember() object {
	if o := p.Record.object(); len(o) > 0 {
		return object{{"record", o}}
	}
	return nil
}

// object is the record as it is written; nothing for one without entries.
func (r *Record) object() object {
	var o object
	for _, side := range Sides {
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
	return append(o, r.extra.members()...)
}

func entryList(entries []Entry) list {
	out := list{}
	for _, e := range entries {
		o := object{{"date", e.Date}, {"doing", string(e.Doing)}, {"layer", e.Layer}}
		if e.Doing == LeftOver {
			o = append(o, member{"band", e.Band})
		} else {
			o = append(o, member{"strake", e.Strake})
		}
		if e.Doing.Measures() {
			o = append(o, member{"frame", e.Frame}, member{"mm", e.MM})
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
