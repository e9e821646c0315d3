package app

import (
	"cmp"
	"errors"
	"fmt"
	"reflect"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// ErrNotKept is wrapped by the error of a change to the bench record that could
// not be written anywhere on the disk: everything is then as before, and it must
// be noted again.
var ErrNotKept = tongue.New("it is NOT kept, so note it again once this is put right")

func notKept(err error) error { return fmt.Errorf("%w: %w", ErrNotKept, err) }

// Note adds entries to the bench record, as one step to undo, and ensures that
// they are on the disk when it returns: in the plan's file, with all earlier
// changes, or in the recovery file if the plan has no file or that cannot be
// written. For a strake cut or glued it also records the widths it was cut to, and
// fixes the number of strakes of its layer. An error that says the entry was noted
// concerns only the plan's file; after any other error everything is as before.
func (s *Session) Note(side hull.Side, entries ...hull.Entry) error {
	for _, e := range entries {
		if !hull.ValidDate(e.Date) {
			return tongue.Errorf("%q is not a date: write it as 2026-03-01 or 2026-03-01T19:30", e.Date)
		}
	}
	return s.keepOn(tongue.T("note %s", noteNames(entries)), func(k *loft.Planking, p *hull.Plan) error {
		for _, e := range entries {
			e, err := progress.Noted(k, &p.Record, side, e, progress.UsualHabit())
			if err != nil {
				return err
			}
			if len(e.Widths) > 0 {
				for i, b := range k.Layers[e.Layer-1].Bands {
					p.Layers[e.Layer-1].Bands[i].Strakes = b.Strakes
				}
			}
			p.Record.Add(side, e)
		}
		return nil
	})
}

// noteNames names entries for undo.
func noteNames(entries []hull.Entry) string {
	if len(entries) == 1 {
		return noteName(entries[0])
	}
	return tongue.T("%d entries", len(entries))
}

// noteName names an entry for undo.
func noteName(e hull.Entry) string {
	switch {
	case e.EntryKind.OfBand():
		return tongue.T("%s of band %d", e.EntryKind, e.Band)
	case e.EntryKind == hull.BareGirth:
		return tongue.T("%s of frame %s", e.EntryKind, e.Frame)
	case e.EntryKind.Measures():
		return tongue.T("%s of %s", e.EntryKind, e.Strake)
	}
	return fmt.Sprintf("%s %s", e.Strake, e.EntryKind)
}

// errStale is returned by Choose if the plan is no longer the one for which the
// option was found.
var errStale = tongue.New("the plan has changed since these options were found: find them again")

// Choose takes an option for the rest of a band, as one step to undo, and keeps
// it on the disk as Note does.
func (s *Session) Choose(o *progress.Option, date string) error {
	if !hull.ValidDate(date) {
		return tongue.Errorf("%q is not a date: write it as 2026-03-01 or 2026-03-01T19:30", date)
	}
	return s.keepOn(tongue.T("make the rest of a band fit"), func(k *loft.Planking, p *hull.Plan) error {
		if !same(k.Plan, o.Of()) {
			return errStale
		}
		return o.Apply(p, date)
	})
}

// Strike removes an entry that was noted by mistake from the record, and keeps
// that on the disk as Note does.
func (s *Session) Strike(side hull.Side, entry int) error {
	seen := s.Plan().Record.Of(side)
	if entry < 0 || entry >= len(seen) {
		return tongue.Errorf("there is no entry %d on the %s side", entry+1, side)
	}
	return s.keepNow(tongue.T("strike an entry"), func(p *hull.Plan) error {
		list := &p.Record.Starboard
		if side == hull.Port {
			list = &p.Record.Port
		}
		at := indexOf(*list, seen[entry], entry)
		if at < 0 {
			return tongue.Errorf("entry %d on the %s side was struck out meanwhile", entry+1, side)
		}
		*list = slices.Delete(slices.Clone(*list), at, at+1)
		return nil
	})
}

// indexOf finds an entry, preferring the index where it was; −1 if it is gone.
func indexOf(list []hull.Entry, e hull.Entry, at int) int {
	is := func(o hull.Entry) bool { return reflect.DeepEqual(o, e) }
	if at < len(list) && is(list[at]) {
		return at
	}
	return slices.IndexFunc(list, is)
}

// SetSteps sets the steps of laying a strake; none means the usual ones.
func (s *Session) SetSteps(steps []hull.Step) error {
	return s.keepNow(tongue.T("set the steps"), func(p *hull.Plan) error { p.Record.Steps = slices.Clone(steps); return nil })
}

// SetTolerance sets how far the two sides may differ, mm; 0 means the usual
// tolerance.
func (s *Session) SetTolerance(mm float64) error {
	if err := hull.Tolerance.Refuse(tongue.T("the tolerance"), mm, " mm"); err != nil {
		return err
	}
	return s.keepNow(tongue.T("set the tolerance"), func(p *hull.Plan) error { p.Record.Tolerance = mm; return nil })
}

// SetRule sets how finely the rule in use is divided, mm; 0 means not known.
func (s *Session) SetRule(mm float64) error {
	if mm != 0 {
		if err := hull.RuleDivision.Refuse(tongue.T("the division of the rule"), mm, " mm"); err != nil {
			return err
		}
	}
	return s.keepNow(tongue.T("set the rule"), func(p *hull.Plan) error { p.Record.To = mm; return nil })
}

// keepNow changes the plan and writes it at once.
func (s *Session) keepNow(what string, change func(*hull.Plan) error) error {
	return s.keepOn(what, func(_ *loft.Planking, p *hull.Plan) error { return change(p) })
}

// keepOn changes the plan, given its present state, and writes it at once. The
// change becomes visible only once it is on the disk.
func (s *Session) keepOn(what string, change func(*loft.Planking, *hull.Plan) error) error {
	s.editing.Lock()
	s.endDragHeld()
	err := s.keepHeld(what, change)
	s.editing.Unlock()
	s.tell()
	return err
}

func (s *Session) keepHeld(what string, change func(*loft.Planking, *hull.Plan) error) error {
	path := s.Path()
	var unwritten error
	if path != "" {
		release, err := s.hold(path)
		if err == nil {
			defer release()
			err = s.takeIn(path)
		}
		unwritten = err
	}
	before := s.state()
	after, err := before.with(func(p *hull.Plan) error { return change(before.planking, p) })
	if err != nil {
		return err
	}
	if path != "" && unwritten == nil {
		if unwritten = s.put(path, after.plan); unwritten == nil {
			s.settle(what, before, after)
			return nil
		}
	}
	kept := s.keeper.Now(after.plan)
	if errors.Is(unwritten, keep.ErrUnsure) {
		s.settle(what, before, after)
		return tongue.Errorf("it is noted, but it may not last: %w", unwritten)
	}
	if kept != nil {
		s.keep() // as it was before
		return notKept(cmp.Or(unwritten, kept))
	}
	s.settle(what, before, after)
	if unwritten != nil {
		return tongue.Errorf("it is noted, but not in the file yet; until then it is kept in a recovery file beside it: %w", unwritten)
	}
	return nil
}
