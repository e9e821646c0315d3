package main

import (
	"errors"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
)

// drawingFlags tell how a drawing of the frames is taken off.
type drawingFlags struct {
	Drawn   scale `placeholder:"1:N" help:"For a drawing: its scale."`
	Model   scale `placeholder:"1:N" help:"For a drawing: the scale of the model. The lines are scaled; an x in a name is the model's."`
	Factor  scale `placeholder:"F" help:"For a drawing: the factor to scale it by, in place of the two scales."`
	Half    half  `placeholder:"both|right|left" help:"For a drawing: the half to take of frames drawn whole (default both, their mean)."`
	Page    page  `placeholder:"N" help:"For a PDF: the page with the lines (default 1)."`
	Sheet   word  `placeholder:"NAME" help:"For a workbook: the sheet with the table (default: the first that has one)."`
	Shows   shown `placeholder:"frames|waterlines|buttocks" help:"For a drawing: what its unnamed lines are."`
	With    word  `placeholder:"FILE" help:"For a drawing of waterlines or buttocks: the drawing of the other plan."`
	Water   even  `name:"waterlines" placeholder:"FROM,EVERY" help:"For a drawing: the heights of its waterlines, evenly from the lowest, mm (default: as named)."`
	Butt    even  `name:"buttocks" placeholder:"FROM,EVERY" help:"For a drawing: the half-breadths of its buttocks, likewise."`
	Level   level `placeholder:"slot-below|slot-above|deck|foot|drawn" help:"For a drawing of frames to cut: what all have at one height, the closed ends of their slots, the deck at the side, the lower ends of the planking, or all as drawn."`
	Upright bool  `help:"For a drawing of frames to cut: all are upright as drawn, whatever their shapes suggest."`
	Table   word  `placeholder:"CSV" help:"For a drawing: the table outline,frame,x_mm or frame,x_mm (default: the one beside it under its name)."`
}

func (f drawingFlags) taking(along *drawing.Stations, bow hull.BowEnd) drawing.Options {
	how := drawing.Options{Drawn: float64(f.Drawn), Model: float64(f.Model), Factor: float64(f.Factor), Half: drawing.Half(f.Half), Table: string(f.Table), Page: int(f.Page), Sheet: string(f.Sheet), Stations: along, With: string(f.With),
		Level: drawing.Level(f.Level), Upright: f.Upright}
	if f.ofLines() || bow != "" {
		how.Lines = &drawing.Lines{Shows: drawing.Shown(f.Shows), Waterlines: drawing.Even(f.Water), Buttocks: drawing.Even(f.Butt), Bow: bow}
	}
	return how
}

// ofLines tells whether anything is said that is of a drawing of waterlines and buttocks.
func (f drawingFlags) ofLines() bool {
	return f.Shows != "" || f.Water != even{} || f.Butt != even{}
}

// shown is what a drawing shows.
type shown drawing.Shown

// Decode reads the word after a flag.
func (s *shown) Decode(ctx *kong.DecodeContext) error {
	return oneOf(ctx, (*string)(s), "%q is not a kind of drawing: write %s or %s", string(drawing.ShowsFrames), string(drawing.ShowsWaterlines), string(drawing.ShowsButtocks))
}

// even is a flag's value that is an even spacing, as 0,5.
type even drawing.Even

// Decode reads the two lengths after a flag.
func (e *even) Decode(ctx *kong.DecodeContext) error {
	text, err := valueOf(ctx)
	if err != nil {
		return err
	}
	from, every, _ := strings.Cut(text, ",")
	if e.From, err = readNumber(strings.TrimSpace(from)); err == nil {
		e.Every, err = readNumber(strings.TrimSpace(every))
	}
	if err != nil || e.From < 0 || e.Every <= 0 {
		return tongue.Errorf("%q is not an even spacing: write the first and the distance in mm, as 0,5", text)
	}
	return nil
}

// level is what frames to be cut have at one height.
type level drawing.Level

// Decode reads the word after a flag.
func (l *level) Decode(ctx *kong.DecodeContext) error {
	return oneOf(ctx, (*string)(l), "%q is not a height that frames have in common: write %s or %s", string(drawing.SlotBelow), string(drawing.SlotAbove), string(drawing.DeckLevel), string(drawing.FootLevel), string(drawing.DrawnLevel))
}

// scale is a scale, as 1:48, or a factor, as 0.5.
type scale float64

// Decode reads the scale after a flag.
func (s *scale) Decode(ctx *kong.DecodeContext) error {
	text, err := valueOf(ctx)
	if err != nil {
		return err
	}
	v, err := strconv.ParseFloat(strings.TrimPrefix(text, "1:"), 64)
	if err != nil && !errors.Is(err, strconv.ErrRange) || !(v > 0) {
		return tongue.Errorf("%q is not a scale: write a scale as 1:48, a factor as 0.5", text)
	}
	if err := hull.DrawingScale.Refuse(tongue.T("the scale"), v, ""); err != nil {
		return err
	}
	*s = scale(v)
	return nil
}

// page is the number of a page, from 1.
type page int

// Decode reads the number after a flag.
func (p *page) Decode(ctx *kong.DecodeContext) error {
	text, err := valueOf(ctx)
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 100000 {
		return tongue.Errorf("%q is not a page: write its number, 1 for the first", text)
	}
	*p = page(n)
	return nil
}

// half is what is taken of frames drawn whole.
type half drawing.Half

// Decode reads the half after a flag.
func (h *half) Decode(ctx *kong.DecodeContext) error {
	text, err := valueOf(ctx)
	if err != nil {
		return err
	}
	is, known := map[string]drawing.Half{"both": drawing.BothHalves, "right": drawing.RightHalf, "left": drawing.LeftHalf}[text]
	if !known {
		return tongue.Errorf("%q is not a half: write both, right or left", text)
	}
	*h = half(is)
	return nil
}
