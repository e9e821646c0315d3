package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/visible"
)

type sheetsCmd struct {
	format
	planArg
	Output      word    `name:"output" short:"o" required:"" placeholder:"DIR" help:"The folder to write into; created if missing."`
	Paper       word    `default:"a4" placeholder:"NAME" help:"The paper to print on: a4, a3, letter, legal or roll (default ${default})."`
	RollWidth   *number `placeholder:"MM" help:"The width of the roll."`
	PrinterBar  *number `placeholder:"MM" help:"The measured length of the 100 mm bar across a printed page, to correct the printer's error."`
	PrinterBarY *number `placeholder:"MM" help:"The measured length of the 100 mm bar down the page, where it differs."`
	Overhang    *number `placeholder:"MM" help:"The extra length of every strake at its free end, to hold it by (default: the plan's)."`
	Layer       *whole  `placeholder:"N" help:"One layer alone, from 1 outwards (default: all)."`
	Blocks      word    `placeholder:"FROM,TO,MM" help:"Filler blocks between two frames, as sections of that thickness."`
	Cards       bool    `help:"A card of figures for every frame as well as its tick strip."`
	Replace     bool    `help:"Overwrite existing files, and remove those of an earlier set that this one does not have. What you changed is kept."`
}

// Run writes every sheet and table into a folder.
func (c *sheetsCmd) Run(s *streams) error {
	if _, err := c.settings(&hull.Plan{}); err != nil { // before the plan is read
		return misuse{err}
	}
	k, err := c.plank(s)
	if err != nil {
		return err
	}
	settings, err := c.settings(k.Plan)
	if err != nil {
		return misuse{err}
	}
	if err := settings.Check(k); err != nil {
		return misuse{err}
	}
	settings.Date = app.DateOf(c.Plan)
	ctx, release := s.interruptible()
	defer release()
	meter := newMeter(s.messages)
	defer meter.end()
	dir := string(c.Output)
	made, err := working(ctx, s, tongue.T("drawing the sheets"), func() (*export.Set, error) { return export.Make(ctx, k, settings) })
	if err == nil {
		var written *export.Written
		if written, err = made.Write(ctx, dir, c.Replace, meter.tell); err == nil {
			meter.end()
			return c.give(s, answer.Written{Folder: dir, Revision: made.Revision(), Lacking: made.Lacking(), Pages: made.Pages(), Use: 100 * made.Use(), Files: written.Files, Removed: written.Removed, Left: written.Left})
		}
	}
	switch {
	case ctx.Err() != nil:
		return errStopped
	case errors.Is(err, fs.ErrExist):
		return tongue.Errorf("%w or add --replace", err)
	}
	return err
}

// settings reads the flags; what they leave open is the plan's, or usual.
func (c *sheetsCmd) settings(p *hull.Plan) (export.Settings, error) {
	s := export.Usual(p)
	var err error
	if s.Paper, err = export.ReadPaper(string(c.Paper)); err != nil {
		return s, tongue.Errorf("--paper: %w", err)
	}
	switch {
	case s.Paper == export.Roll && c.RollWidth == nil:
		return s, tongue.New("--paper roll: give the roll's width in mm with --roll-width")
	case s.Paper != export.Roll && c.RollWidth != nil:
		return s, tongue.New("--roll-width goes only with --paper roll")
	}
	s.Cards = c.Cards
	set(&s.RollWidth, c.RollWidth)
	set(&s.Overhang, c.Overhang)
	set(&s.BarX, c.PrinterBar)
	set(&s.BarY, c.PrinterBar)
	set(&s.BarY, c.PrinterBarY)
	if c.Layer != nil {
		if s.Layer = int(*c.Layer); s.Layer < 1 {
			return s, tongue.Errorf("--layer %d: layers count from 1", s.Layer)
		}
	}
	s.Blocks, err = blocksOf(string(c.Blocks))
	return s, err
}

// set takes a flag that was given.
func set(to *float64, flag *number) {
	if flag != nil {
		*to = float64(*flag)
	}
}

// blocksOf reads "FROM,TO,MM"; nil for nothing.
func blocksOf(text string) (*export.Blocks, error) {
	if text == "" {
		return nil, nil
	}
	parts := strings.Split(text, ",")
	if len(parts) != 3 {
		return nil, tongue.Errorf("--blocks %q: give two frames and a thickness in mm with commas between, as A,C,5", text)
	}
	mm, err := strconv.ParseFloat(strings.TrimSpace(parts[2]), 64)
	if err != nil || !(mm > 0) {
		return nil, tongue.Errorf("--blocks: %q is not a thickness in mm", strings.TrimSpace(parts[2]))
	}
	return &export.Blocks{From: strings.TrimSpace(parts[0]), To: strings.TrimSpace(parts[1]), Spacing: mm}, nil
}

// patience is how long work may take before it tells how far it is, and how
// often it does so then.
const patience = time.Second

// meter tells on a terminal or in a log how far long work is.
type meter struct {
	w      io.Writer
	line   bool // a terminal, on which one line is written over and over
	open   bool // something stands on that line
	after  time.Time
	moment func() time.Time
}

func newMeter(w io.Writer) *meter {
	m := &meter{w: w, moment: time.Now}
	if f, ok := w.(*os.File); ok {
		info, err := f.Stat()
		m.line = err == nil && info.Mode()&os.ModeCharDevice != 0
	}
	m.after = m.moment().Add(patience)
	return m
}

// tell is told how far the work is.
func (m *meter) tell(p export.Progress) {
	now := m.moment()
	if now.Before(m.after) || p.Done == p.All {
		return
	}
	m.after = now.Add(patience / 10)
	if !m.line {
		m.after = now.Add(patience)
	}
	m.write(tongue.T("%d of %d: %s", p.Done, p.All, p.What))
}

// write writes a text over the line, or as a line of the log.
func (m *meter) write(text string) {
	text = visible.Text(text)
	if !m.line {
		fmt.Fprintf(m.w, "strakewright: %s\n", text)
		return
	}
	m.open = true
	fmt.Fprintf(m.w, "\r\x1b[K%s", text)
}

// end clears the line.
func (m *meter) end() {
	if m.open {
		fmt.Fprint(m.w, "\r\x1b[K")
	}
	m.open = false
}
