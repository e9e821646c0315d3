package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/sighting"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
	"github.com/strakewright/strakewright/loft/sight"
)

// photo tells what is left of a band from what is marked in a picture; with --keep
// it goes into the record.
func (c *recordCmd) photo(s *streams) error {
	if !c.Keep {
		k, err := planArg{c.Plan}.plank(s)
		if err != nil {
			return err
		}
		read, err := c.seen(s, k)
		if err != nil {
			return err
		}
		return c.give(s, read.Photo)
	}
	var a answer.Photo
	var told []string
	waiting := func() { s.tell([]string{tongue.T("%s is in use by another program; waiting for it.", c.Plan)}) }
	err := app.Amend(context.Background(), c.Plan, waiting, func(session *app.Session) error {
		if session.Path() == "" {
			return misused("%s is a hull source, not a plan: make a plan from it with take-off", c.Plan)
		}
		read, err := c.seen(s, session.Planking())
		if err != nil {
			return err
		}
		a = read.Photo
		if len(read.entries) == 0 {
			told = []string{tongue.T("The photo gave no reading, so the record stays as it is.")}
			return nil
		}
		err = session.Note(hull.Side(c.Side), read.entries...)
		a.Written, told = c.Plan, session.Told()
		return refusedNote(err, "--keep")
	})
	if err != nil {
		return err
	}
	s.tell(told)
	return c.give(s, a)
}

// sighted is what a picture tells, with the entries of the record that it comes to.
type sighted struct {
	answer.Photo
	entries []hull.Entry
}

// seen reads the marks. Where they contradict each other that takes a while.
func (c *recordCmd) seen(s *streams, k *loft.Planking) (sighted, error) {
	var none sighted
	layer, err := layerOf(k, int(c.Layer))
	if err != nil {
		return none, err
	}
	if bands := len(k.Layers[layer].Bands); *c.Band < 1 || int(*c.Band) > bands {
		return none, misused("--band %d: layer %d has bands 1 to %d", *c.Band, c.Layer, bands)
	}
	marks, err := sighting.Open(string(c.Marks), k, layer)
	if err != nil {
		return none, err
	}
	side, band := hull.Side(c.Side), int(*c.Band)-1
	states, err := progress.BothSides(k, layer, &k.Plan.Record, progress.UsualHabit())
	if err != nil {
		return none, fmt.Errorf("%s: %w", c.Plan, err)
	}
	care := sight.UsualCare()
	if c.Stands != nil {
		care.Stands = float64(*c.Stands)
	}
	ctx, release := s.interruptible()
	defer release()
	read, err := working(ctx, s, tongue.T("finding where the camera stood"), func() (*sight.Seen, error) {
		return sight.Read(k, side, layer, band, states[side], marks, care)
	})
	if err != nil {
		return none, fmt.Errorf("%s: %w", c.Marks, err)
	}
	a := answer.PhotoOf(k, side, layer, band, &marks, read, answer.MM{})
	if !a.Read {
		return none, fmt.Errorf("%s: %w", c.Marks, errors.New(a.Fit))
	}
	entries := answer.PhotoEntries(k, layer, band, read, string(c.Note))
	for i := range entries {
		entries[i].Date = c.date()
	}
	return sighted{a, entries}, nil
}
