package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"time"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/tables"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

type recordCmd struct {
	format
	Plan string `arg:"" help:"A plan."`
	What string `arg:"" optional:"" default:"show" enum:"show,note,rule,photo,strike,next,steps,options,sides,history,order,learn" help:"What to do: show the state of both sides (the default); note what was done or measured; rule: set how finely your rule is divided; photo: read what is left off a photo, from the marks in it; strike an entry out; what comes next; the steps of a strake; the options for the rest of a band, and to take one; compare the sides; history by day; the order of laying, to tick off; learn from this build into a file of your own, or from that file into this plan."`

	Side      word    `placeholder:"SIDE" help:"starboard or port."`
	EntryKind word    `name:"doing" placeholder:"WORD" help:"What to note: cut, soaked, fitted, pinned, glued or removed of a strake; left, width or gap measured at a frame; girth of a bare frame from the upper limit to the rabbet, before planking."`
	Strake    word    `placeholder:"ID" help:"The strake, as 1.05, or in an outer layer as 2/1.05."`
	Layer     whole   `default:"1" placeholder:"N" help:"The layer of a band, from 1 outwards (default ${default})."`
	Band      *whole  `placeholder:"N" help:"The band, from 1 down."`
	Frame     word    `placeholder:"NAME" help:"The frame that you measured at."`
	MM        *number `name:"mm" placeholder:"MM" help:"The measurement, mm."`
	ReadTo    *number `name:"read-to" placeholder:"MM" help:"How finely you read it: the divisions of the rule, mm (default: those that the plan has for your rule). With rule: those of your rule from now on, 0 for unknown."`
	Wet       bool    `help:"The strip was wet."`
	Note      word    `placeholder:"TEXT" help:"A note."`
	Date      word    `placeholder:"DATE" help:"When: 2026-03-01 or 2026-03-01T19:30 (default: now)."`
	Take      word    `placeholder:"WAY" help:"The option to take, by its first word."`
	Entry     *whole  `placeholder:"N" help:"The entry to strike out, by its number in the history."`
	AsOf      word    `name:"as-of" placeholder:"DATE" help:"Go back to the end of a day, as 2026-03-01."`
	CSV       word    `name:"csv" placeholder:"FILE" help:"Write the record, or with order the list to tick off, as CSV."`

	Tolerance *number `placeholder:"MM" help:"With sides: how far they may differ (default: the plan's own, or 1); the plan stays as it is."`
	To        word    `placeholder:"FILE" help:"With learn: your own file, to save how your work strays with this wood and strip; created if missing."`
	From      word    `placeholder:"FILE" help:"With learn: your own file, to read what other builds taught."`
	Replace   bool    `help:"Overwrite an existing CSV file."`

	Marks  word    `placeholder:"FILE" help:"With photo: the table of its marks (CSV; see the README)."`
	Stands *number `placeholder:"MM" help:"With photo: how far a frame is off its place, as a standard error (default: 0.2)."`
	Keep   bool    `help:"With photo: put the readings into the record."`
}

// Run does what is asked for.
func (c *recordCmd) Run(s *streams) error {
	if err := c.check(); err != nil {
		return misuse{err}
	}
	if c.What == "photo" {
		return c.photo(s)
	}
	if c.What == "learn" && c.To != "" {
		return c.learn(s)
	}
	if c.writes() {
		return c.write(s)
	}
	k, err := planArg{c.Plan}.plank(s)
	if err != nil {
		return err
	}
	if c.AsOf != "" {
		p := k.Plan.Clone()
		p.Record = p.Record.AsOf(string(c.AsOf))
		if k, err = k.Replank(p); err != nil {
			return fmt.Errorf("%s: %w", c.Plan, err)
		}
	}
	ctx, release := s.interruptible()
	defer release()
	if c.CSV != "" {
		return c.table(ctx, s, k)
	}
	a, err := working(ctx, s, tongue.T("reckoning what is left"), func() (answer.Answer, error) { return c.answer(ctx, k) })
	if err != nil {
		return err
	}
	return c.give(s, a)
}

// writes tells whether the plan's file is changed.
func (c *recordCmd) writes() bool {
	return c.What == "note" || c.What == "rule" || c.What == "strike" || c.What == "learn" && c.From != "" || c.Take != ""
}

// check refuses flags that make no sense together.
func (c *recordCmd) check() error {
	switch side := hull.Side(c.Side); {
	case side != "" && side != hull.Starboard && side != hull.Port:
		return tongue.Errorf("--side %s: it is starboard or port", side)
	case side == "" && (c.What == "note" || c.What == "photo" || c.What == "strike" || c.What == "options" || c.What == "steps" && c.Strake != ""):
		return tongue.Errorf("name the side with --side starboard or --side port")
	case c.Take != "" && c.What != "options":
		return tongue.New("--take goes only with options")
	case (c.What == "options" || c.What == "photo") && c.Band == nil:
		return tongue.New("name the band with --band")
	case c.What == "photo" && c.Marks == "":
		return tongue.New("name the file with the marks of the photo with --marks")
	case c.What != "photo" && (c.Marks != "" || c.Stands != nil || c.Keep):
		return tongue.New("--marks, --stands and --keep go only with photo")
	case c.What == "strike" && c.Entry == nil:
		return tongue.New("name the entry with --entry; history numbers them")
	case c.What == "note" && c.EntryKind == "":
		return tongue.New("name what to note with --doing")
	case c.Date != "" && !hull.ValidDate(string(c.Date)):
		return tongue.Errorf("--date %s: write it as 2026-03-01 or 2026-03-01T19:30", c.Date)
	case c.AsOf != "" && (!hull.ValidDate(string(c.AsOf)) || len(c.AsOf) != len(time.DateOnly)):
		return tongue.Errorf("--as-of %s: write it as 2026-03-01", c.AsOf)
	case c.What == "rule" && c.ReadTo == nil:
		return tongue.New("give the divisions of the rule with --read-to")
	case c.ReadTo != nil && c.What != "note" && c.What != "rule":
		return tongue.New("--read-to goes only with note and rule")
	case c.What == "learn" && (c.To == "") == (c.From == ""):
		return tongue.New("name your own file to write with --to, or to read with --from")
	case c.What != "learn" && (c.To != "" || c.From != ""):
		return tongue.New("--to and --from go only with learn")
	case c.AsOf != "" && (c.writes() || c.What == "photo"):
		return tongue.New("--as-of only looks back: leave it out of a command that writes")
	case c.CSV != "" && c.What != "show" && c.What != "history" && c.What != "order":
		return tongue.Errorf("--csv does not go with %s", c.What)
	case c.Tolerance != nil && c.What != "sides":
		return tongue.New("--tolerance goes only with sides")
	case c.Layer < 1:
		return tongue.Errorf("--layer %d: layers count from 1", c.Layer)
	}
	if c.ReadTo != nil && (c.What != "rule" || *c.ReadTo != 0) {
		if err := inRange("--read-to", c.ReadTo, hull.RuleDivision, " mm"); err != nil {
			return err
		}
	}
	if err := inRange("--stands", c.Stands, hull.Tolerance, " mm"); err != nil {
		return err
	}
	return inRange("--tolerance", c.Tolerance, hull.Tolerance, " mm")
}

// answer gives what is only looked at.
func (c *recordCmd) answer(ctx context.Context, k *loft.Planking) (answer.Answer, error) {
	side := hull.Side(c.Side)
	switch c.What {
	case "next":
		return inPlan[answer.Next](c.Plan)(answer.NextOf(ctx, k))
	case "steps":
		if c.Strake != "" && layerWith(k, string(c.Strake)) < 0 {
			return nil, misused("--strake %s: %s has no strake of that ID; they run %s", c.Strake, c.Plan, strakeIDs(k))
		}
		return inPlan[answer.Steps](c.Plan)(answer.StepsOf(k, side, string(c.Strake)))
	case "options":
		options, err := c.options(ctx, k)
		return answer.OptionsOf(side, int(c.Layer)-1, int(*c.Band)-1, options), err
	case "sides":
		if c.Tolerance != nil {
			p := k.Plan.Clone()
			p.Record.Tolerance = float64(*c.Tolerance)
			var err error
			if k, err = k.ReplankContext(ctx, p); err != nil {
				return nil, err
			}
		}
		return inPlan[answer.Sides](c.Plan)(answer.SidesOf(k))
	case "history":
		return answer.HistoryOf(&k.Plan.Record, side), nil
	case "order":
		return inPlan[answer.TickOff](c.Plan)(answer.TickOffOf(ctx, k))
	}
	return c.shown(ctx, k)
}

// inPlan names the plan in an error of the record.
func inPlan[A answer.Answer](plan string) func(A, error) (answer.Answer, error) {
	return func(a A, err error) (answer.Answer, error) {
		if err != nil {
			return nil, fmt.Errorf("%s: %w", plan, err)
		}
		return a, nil
	}
}

// shown is how the sides stand.
func (c *recordCmd) shown(ctx context.Context, k *loft.Planking) (answer.Answer, error) {
	a, err := answer.BenchOf(ctx, k, hull.Side(c.Side), hull.UsualWoods())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Plan, err)
	}
	return a, nil
}

// options finds those of the band named.
func (c *recordCmd) options(ctx context.Context, k *loft.Planking) ([]progress.Option, error) {
	layer, err := layerOf(k, int(c.Layer))
	if err != nil {
		return nil, err
	}
	bands := len(k.Layers[layer].Bands)
	if *c.Band < 1 || int(*c.Band) > bands {
		return nil, misused("--band %d: layer %d has bands 1 to %d", *c.Band, c.Layer, bands)
	}
	list, err := progress.Options(ctx, k, hull.Side(c.Side), layer, int(*c.Band)-1, progress.UsualHabit())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.Plan, err)
	}
	return list, nil
}

// write changes the record in the plan's file, which nobody else writes meanwhile.
func (c *recordCmd) write(s *streams) error {
	var k *loft.Planking
	var told []string
	var taken []hull.Spread
	var noted *hull.Entry
	// An interrupt may end the program at any moment: the file is written whole or
	// not at all, and a lock ends with its holder.
	waiting := func() { s.tell([]string{tongue.T("%s is in use by another program; waiting for it.", c.Plan)}) }
	err := app.Amend(context.Background(), c.Plan, waiting, func(session *app.Session) error {
		if session.Path() == "" {
			return misused("%s is a hull source, not a plan: make a plan from it with take-off", c.Plan)
		}
		var err error
		taken, noted, err = c.change(s, session)
		k, told = session.Planking(), session.Told()
		return err
	})
	if err != nil {
		return err
	}
	s.tell(told)
	if other, yes := app.OpenedElsewhere(c.Plan); yes {
		s.tell([]string{other.Warning(c.Plan)})
	}
	if c.What == "learn" {
		return c.give(s, answer.LearnedOf(taken, c.Plan, string(c.From)))
	}
	a, err := c.shown(context.Background(), k)
	if err != nil {
		return err
	}
	shown := a.(answer.Record)
	shown.Written = c.Plan
	if noted != nil {
		shown.Ask(&k.Plan.Record, hull.Side(c.Side), *noted)
	}
	return c.give(s, shown)
}

// learn puts what the plan has taught into the builder's own file.
func (c *recordCmd) learn(s *streams) error {
	k, err := planArg{c.Plan}.plank(s)
	if err != nil {
		return err
	}
	ctx, release := s.interruptible()
	defer release()
	waiting := func() { s.tell([]string{tongue.T("%s is in use by another program; waiting for it.", string(c.To))}) }
	taught, lost, err := app.LearnInto(ctx, string(c.To), waiting, k)
	if err != nil {
		return err
	}
	s.tell(lost)
	return c.give(s, answer.LearnedOf(taught, string(c.To), ""))
}

// change notes, strikes out, takes an option, or what other builds taught; taken is
// that, and noted what was noted.
func (c *recordCmd) change(s *streams, session *app.Session) (taken []hull.Spread, noted *hull.Entry, err error) {
	switch c.What {
	case "learn":
		b, err := hull.OpenBuilder(string(c.From))
		if err != nil {
			return nil, nil, err
		}
		taken, err = session.TakeSpreads(b, string(c.From))
		return taken, nil, err
	case "note":
		e, err := c.entry(session.Planking())
		if err != nil {
			return nil, nil, misuse{err}
		}
		return nil, &e, refusedNote(session.Note(hull.Side(c.Side), e), "note")
	}
	return nil, nil, c.alter(s, session)
}

// alter changes the record otherwise.
func (c *recordCmd) alter(s *streams, session *app.Session) error {
	side := hull.Side(c.Side)
	switch c.What {
	case "strike":
		if err := session.Strike(side, int(*c.Entry)-1); err != nil {
			return refusedNote(err, "--entry")
		}
		return nil
	case "rule":
		return session.SetRule(float64(*c.ReadTo))
	}
	ctx, release := s.interruptible()
	options, err := c.options(ctx, session.Planking())
	release() // from here on something is written
	if err != nil {
		return err
	}
	var ways []string
	for i := range options {
		if string(options[i].Remedy) == string(c.Take) {
			return session.Choose(&options[i], c.date())
		}
		ways = append(ways, string(options[i].Remedy))
	}
	if len(ways) == 0 {
		return misused("--take %s: nothing is left to choose in band %d", c.Take, *c.Band)
	}
	return misused("--take %s: it is not one of the options here, which are %s", c.Take, strings.Join(ways, ", "))
}

// refusedNote tells a fault of the command line from one of the disk.
func refusedNote(err error, where string) error {
	var fault fault.Fault
	if err == nil || errors.As(err, &fault) || errors.Is(err, app.ErrChangedOnDisk) || errors.Is(err, app.ErrNotKept) {
		return err
	}
	return misused("%s: %w", where, err)
}

// date is the one given, or now.
func (c *recordCmd) date() string {
	if c.Date != "" {
		return string(c.Date)
	}
	return time.Now().Format("2006-01-02T15:04:05")
}

// entry reads the flags of note. Of a strake the layer follows from its ID.
func (c *recordCmd) entry(k *loft.Planking) (hull.Entry, error) {
	e := hull.Entry{Date: c.date(), EntryKind: hull.EntryKind(c.EntryKind), Layer: int(c.Layer), Wet: c.Wet, Note: string(c.Note)}
	known := false
	var words []string
	for _, d := range hull.EntryKinds() {
		if d != hull.Chosen {
			words = append(words, string(d))
			known = known || d == e.EntryKind
		}
	}
	if !known {
		return e, tongue.Errorf("--doing %s: it is one of %s", c.EntryKind, strings.Join(words, ", "))
	}
	switch {
	case e.EntryKind == hull.BareGirth:
		if c.Band != nil || c.Strake != "" {
			return e, tongue.Errorf("--doing %s is of a whole bare frame: name no band and no strake", c.EntryKind)
		}
		if c.Layer > whole(len(k.Layers)) {
			return e, tongue.Errorf("--layer %d: %s has layers 1 to %d", c.Layer, c.Plan, len(k.Layers))
		}
	case e.EntryKind.OfBand():
		if c.Band == nil || c.Strake != "" {
			return e, tongue.Errorf("--doing %s is of a band: name it with --band, and no strake", c.EntryKind)
		}
		e.Band = int(*c.Band)
	default:
		if c.Strake == "" || c.Band != nil {
			return e, tongue.Errorf("--doing %s is of a strake: name it with --strake, and no band", c.EntryKind)
		}
		layer := layerWith(k, string(c.Strake))
		if layer < 0 {
			return e, tongue.Errorf("--strake %s: %s has no strake of that ID; they run %s", c.Strake, c.Plan, strakeIDs(k))
		}
		e.Strake, e.Layer = string(c.Strake), layer+1
	}
	switch {
	case !e.EntryKind.Measures():
		if c.MM != nil || c.Frame != "" || c.ReadTo != nil {
			return e, tongue.Errorf("--doing %s is not a measurement: leave --frame, --mm and --read-to out", c.EntryKind)
		}
	case c.MM == nil || c.Frame == "":
		return e, tongue.Errorf("--doing %s is a measurement: give --frame and --mm", c.EntryKind)
	case !hull.Measurement.Holds(float64(*c.MM)):
		return e, hull.Measurement.Refuse("--mm", float64(*c.MM), " mm")
	case k.Plan.Hull.FrameNamed(string(c.Frame)) < 0:
		return e, tongue.Errorf("--frame %s: %s has no frame of that name; girths names them all", c.Frame, c.Plan)
	default:
		e.Frame, e.MM = string(c.Frame), float64(*c.MM)
		if c.ReadTo != nil {
			e.To = float64(*c.ReadTo)
		}
	}
	return e, nil
}

// table writes a CSV file, whole or not at all.
func (c *recordCmd) table(ctx context.Context, s *streams, k *loft.Planking) error {
	rows := answer.RecordRows(&k.Plan.Record)
	if c.What == "order" {
		list, err := working(ctx, s, tongue.T("cutting the pieces"), func() (answer.TickOff, error) { return answer.TickOffOf(ctx, k) })
		if err != nil {
			return fmt.Errorf("%s: %w", c.Plan, err)
		}
		rows = list.Rows()
	}
	path := string(c.CSV)
	if _, err := os.Lstat(path); err == nil && !c.Replace {
		return refused(fs.ErrExist, path)
	}
	lost, err := keep.ReplaceFileTold(path, func(w io.Writer) error { return tables.WriteRows(w, rows) })
	if err != nil {
		return err
	}
	s.tell(lost)
	return c.give(s, answer.RowsWritten{Written: path, Rows: len(rows) - 1})
}
