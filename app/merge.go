package app

import (
	"bytes"
	"reflect"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
)

// takeIn merges what another program has written into the plan's file since it was
// opened or saved, and makes it the session's starting point. If that conflicts
// with what was changed here the error wraps ErrChangedOnDisk, and everything is
// as before. editing and the file are held.
func (s *Session) takeIn(path string) error {
	disk := fingerprintOf(path)
	s.mu.Lock()
	known, base, mine := s.disk, s.saved, s.now
	s.mu.Unlock()
	if disk == known || disk == (fingerprint{}) {
		return nil
	}
	refused := tongue.Errorf("%s: %w; save under another name, or have it replaced", path, ErrChangedOnDisk)
	theirs, kind, err := source.Open(path)
	if err != nil || kind != source.PlanFile {
		return refused
	}
	m, ok := newMerger(base, theirs)
	if !ok {
		return refused
	}
	plan, ok := m.with(mine.plan)
	if !ok {
		return refused
	}
	next, err := mine.replanked(plan)
	if err != nil {
		return refused
	}
	s.mu.Lock()
	s.now, s.saved, s.disk = next, theirs, disk
	s.steps.Change(m.step)
	s.lost = append(s.lost, m.story(path))
	s.mu.Unlock()
	s.keep()
	return nil
}

// merger merges what another program changed in a plan into plans that were
// changed here.
type merger struct {
	base, theirs *hull.Plan
	bench        bool // theirs differs only in the bench record and the strakes that it fixes
	added        map[hull.Side][]hull.Entry
	struck       map[hull.Side][]hull.Entry
}

func newMerger(base, theirs *hull.Plan) (*merger, bool) {
	base, ok := asRead(base)
	if !ok {
		return nil, false
	}
	m := &merger{base: base, theirs: theirs, added: map[hull.Side][]hull.Entry{}, struck: map[hull.Side][]hull.Entry{}}
	m.bench = same(unrecorded(base), unrecorded(theirs))
	for _, side := range hull.Sides() {
		m.added[side], m.struck[side] = apart(base.Record.Of(side), theirs.Record.Of(side))
	}
	return m, true
}

// asRead is a plan as it is after being written and read, so that it can be
// compared with one that was.
func asRead(p *hull.Plan) (*hull.Plan, bool) {
	var b bytes.Buffer
	if err := p.Write(&b); err != nil {
		return nil, false
	}
	q, err := hull.ReadPlan(&b, "")
	if err != nil {
		return nil, false
	}
	if reflect.DeepEqual(q.Hull.Frames, p.Hull.Frames) {
		q.Hull.Frames = p.Hull.Frames // there are many, and they are shared
	}
	return q, true
}

// story says what was merged.
func (m *merger) story(path string) string {
	if n := len(m.added[hull.Starboard]) + len(m.added[hull.Port]); m.bench && n > 0 {
		return tongue.T("Merged from %s: %d more entries in the bench record, noted there by another program meanwhile.", path, n)
	}
	return tongue.T("Merged from %s: what another program wrote there meanwhile.", path)
}

// with returns a plan with the changes made elsewhere merged into it. The bench
// records are merged entry by entry and the strakes of the bands number by number;
// of everything else, either side may have changed anything, but not both the same
// thing.
func (m *merger) with(mine *hull.Plan) (*hull.Plan, bool) {
	out, ok := m.unrecordedWith(mine)
	if !ok {
		return nil, false
	}
	tolerance, ok := pick(m.base.Record.Tolerance, mine.Record.Tolerance, m.theirs.Record.Tolerance)
	steps, also := pick(m.base.Record.Steps, mine.Record.Steps, m.theirs.Record.Steps)
	to, ruled := pick(m.base.Record.To, mine.Record.To, m.theirs.Record.To)
	spreads, learned := pick(m.base.Record.Spreads, mine.Record.Spreads, m.theirs.Record.Spreads)
	if !ok || !also || !ruled || !learned {
		return nil, false
	}
	record := mine.Record
	record.Tolerance, record.Steps, record.To, record.Spreads = tolerance, steps, to, spreads
	record.Starboard, record.Port = m.entriesWith(mine, hull.Starboard), m.entriesWith(mine, hull.Port)
	out.Record = record
	return out, true
}

// unrecordedWith merges everything but the record.
func (m *merger) unrecordedWith(mine *hull.Plan) (*hull.Plan, bool) {
	if !m.bench {
		read, ok := asRead(mine)
		return clone(m.theirs), ok && same(withRecord(read, hull.Record{}), withRecord(m.base, hull.Record{}))
	}
	out := clone(mine)
	if !alike(m.base, mine) {
		return out, true // the bands here are different: their strakes are as planned here
	}
	for i, l := range out.Layers {
		for j := range l.Bands {
			strakes, ok := pick(m.base.Layers[i].Bands[j].Strakes, l.Bands[j].Strakes, m.theirs.Layers[i].Bands[j].Strakes)
			if !ok {
				return nil, false
			}
			l.Bands[j].Strakes = strakes
		}
	}
	return out, true
}

// step returns a step to undo or redo with the changes made elsewhere merged into
// it, so that no undo removes what was done there; ok is false if the two conflict.
func (m *merger) step(t step) (with step, ok bool) {
	if !m.bench {
		return t, false // it moves handles that may be different ones now
	}
	if t.plan == nil {
		return t, true
	}
	plan, ok := m.with(t.plan)
	return step{plan: plan}, ok
}

// pick gives what one side or the other made of something; ok is false if both
// changed it, and differently.
func pick[T any](base, mine, theirs T) (v T, ok bool) {
	switch {
	case reflect.DeepEqual(base, theirs) || reflect.DeepEqual(mine, theirs):
		return mine, true
	case reflect.DeepEqual(base, mine):
		return theirs, true
	}
	return v, false
}

// unrecorded is a plan without what is noted at the bench, and without the numbers
// of strakes, which a note fixes.
func unrecorded(p *hull.Plan) *hull.Plan {
	q := withRecord(p, hull.Record{})
	for i := range q.Layers {
		for j := range q.Layers[i].Bands {
			q.Layers[i].Bands[j].Strakes = 0
		}
	}
	return q
}

func withRecord(p *hull.Plan, r hull.Record) *hull.Plan {
	q := clone(p)
	q.Record = r
	return q
}

// alike reports whether two plans have the same layers with the same numbers of
// bands.
func alike(a, b *hull.Plan) bool {
	return slices.EqualFunc(a.Layers, b.Layers, func(a, b hull.Layer) bool { return len(a.Bands) == len(b.Bands) })
}

// entriesWith gives the entries of a side with those that were added elsewhere,
// and without those that were struck out there.
func (m *merger) entriesWith(mine *hull.Plan, side hull.Side) []hull.Entry {
	r := hull.Record{Starboard: mine.Record.Of(side)}
	for _, e := range m.struck[side] {
		if at := indexOf(r.Starboard, e, 0); at >= 0 {
			r.Starboard = slices.Delete(slices.Clone(r.Starboard), at, at+1)
		}
	}
	if len(m.added[side]) > 0 {
		r.Add(hull.Starboard, m.added[side]...)
	}
	return r.Starboard
}

// apart gives the entries of one list that the other lacks, and the reverse.
// One that occurs twice counts twice.
func apart(from, to []hull.Entry) (added, struck []hull.Entry) {
	n := 0
	for n < len(from) && n < len(to) && reflect.DeepEqual(from[n], to[n]) {
		n++
	}
	struck = slices.Clone(from[n:])
	for _, e := range to[n:] {
		if at := indexOf(struck, e, 0); at >= 0 {
			struck = slices.Delete(struck, at, at+1)
		} else {
			added = append(added, e)
		}
	}
	return added, struck
}
