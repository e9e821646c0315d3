package app

import (
	"errors"
	"fmt"
	"slices"

	"strakewright/hull"
	"strakewright/loft"
)

// Note adds an entry to the bench record, as one step to undo, and sees to it
// that it is on the disk when it returns: in the plan's file, with all that was
// changed before, or in the autosave where the plan has no file or that cannot
// be written. Of a strake cut or glued it keeps what it was cut to, and fixes the
// number of strakes of its layer. An error that says the entry was noted is of
// the disk alone; after any other all is as before.
func (s *Session) Note(side hull.Side, e hull.Entry) error {
	if !hull.ValidDate(e.Date) {
		return fmt.Errorf("%q is no date: write it as 2026-03-01 or 2026-03-01T19:30", e.Date)
	}
	return s.keepNow(fmt.Sprintf("note %s", noteName(e)), func(before state, p *hull.Plan) error {
		k := before.planking
		e, err := k.Noted(&k.Plan.Record, side, e, loft.UsualBench)
		if err != nil {
			return err
		}
		if len(e.Widths) > 0 {
			for i, b := range k.Layers[e.Layer-1].Bands {
				p.Layers[e.Layer-1].Bands[i].Strakes = b.Strakes
			}
		}
		p.Record.Add(side, e)
		return nil
	})
}

// noteName names an entry for undo.
func noteName(e hull.Entry) string {
	switch {
	case e.Doing.OfBand():
		return fmt.Sprintf("%s of band %d", e.Doing, e.Band)
	case e.Doing.Measures():
		return fmt.Sprintf("%s of %s", e.Doing, e.Strake)
	}
	return fmt.Sprintf("%s %s", e.Strake, e.Doing)
}

// ErrStale is given by Choose where the plan is no longer the one that the
// option was found for.
var ErrStale = errors.New("the plan has changed since the ways were found: find them anew")

// Choose takes an option for the rest of a band, as one step to undo, and keeps
// it on the disk as Note does.
func (s *Session) Choose(o *loft.Option, date string) error {
	if !hull.ValidDate(date) {
		return fmt.Errorf("%q is no date: write it as 2026-03-01 or 2026-03-01T19:30", date)
	}
	return s.keepNow(o.What, func(before state, p *hull.Plan) error {
		if !same(before.plan, o.Of()) {
			return ErrStale
		}
		return o.Apply(p, date)
	})
}

// Strike takes an entry out of the record, for one that was noted by mistake,
// and keeps that on the disk as Note does.
func (s *Session) Strike(side hull.Side, entry int) error {
	return s.keepNow("strike an entry", func(_ state, p *hull.Plan) error {
		list := &p.Record.Starboard
		if side == hull.Port {
			list = &p.Record.Port
		}
		if entry < 0 || entry >= len(*list) {
			return fmt.Errorf("there is no entry %d on the %s side", entry+1, side)
		}
		*list = slices.Delete(slices.Clone(*list), entry, entry+1)
		return nil
	})
}

// SetSteps sets the steps of laying a strake; none are the usual ones.
func (s *Session) SetSteps(steps []hull.Step) error {
	return s.keepNow("set the steps", func(_ state, p *hull.Plan) error { p.Record.Steps = slices.Clone(steps); return nil })
}

// SetTolerance sets how far the two sides may differ, mm; 0 is the usual.
func (s *Session) SetTolerance(mm float64) error {
	if err := hull.Tolerance.Refuse("the tolerance", mm, " mm"); err != nil {
		return err
	}
	return s.keepNow("set the tolerance", func(_ state, p *hull.Plan) error { p.Record.Tolerance = mm; return nil })
}

// keepNow changes the plan and writes it at once.
func (s *Session) keepNow(what string, change func(before state, p *hull.Plan) error) error {
	if err := s.edit(what, change); err != nil {
		return err
	}
	if s.Path() == "" {
		s.keeper.write()
		if err := s.AutosaveError(); err != nil {
			return fmt.Errorf("it is noted, but not on the disk yet: %w", err)
		}
		return nil
	}
	if err := s.Save(); err != nil {
		s.keeper.write() // beside the file, if that is possible
		return fmt.Errorf("it is noted, but not in the file yet: %w", err)
	}
	return nil
}
