package main

import (
	"image/png"
	"io"
	"io/fs"
	"os"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/keep"
)

type pictureCmd struct {
	format
	planArg
	Output  word   `name:"output" short:"o" required:"" placeholder:"FILE" help:"The picture to write, as PNG."`
	Size    pixels `default:"1366x768" placeholder:"WxH" help:"Its width and height in pixels (default ${default})."`
	Replace bool   `help:"Overwrite an existing file."`

	Panes  []string `placeholder:"PANE,PANE" help:"Only these parts of the window: profile, gauge, body, hull, tables, settings (default: all)."`
	Tab    word     `placeholder:"NAME" help:"The tab of the settings: line, bands, wood, bench or problems."`
	Bench  word     `placeholder:"NAME" help:"The part of the bench: note, remaining, how-to, order or history."`
	Stock  word     `placeholder:"NAME" help:"In place of the strake table, the part of the stock: compare, mix, wood, mine, cutting or seams."`
	Figure word     `placeholder:"NAME" help:"What the strake table gives: width, width-on-frame, upper-edge, upper-bevel, lower-bevel, bench-width or bench-change."`
	Layer  whole    `default:"1" placeholder:"N" help:"The layer shown, from 1 outwards (default ${default})."`
	Line   whole    `placeholder:"N" help:"The band line chosen, from 1 below the first band."`
	Strake word     `placeholder:"ID" help:"Or the strake chosen, as 1.05."`
	Frame  word     `placeholder:"NAME" help:"The frame chosen."`
	From   word     `placeholder:"VIEW" help:"From where the hull is seen: off-the-bow, bow, beam, stern, off-the-stern, above, below or at-the-bench."`
	Map    word     `placeholder:"NAME" help:"What the hull shows: wood, edge-set or strip-fit."`
	Strip  bool     `help:"Lay a strip of the chosen strake or line over the bare frames."`
	March  bool     `help:"Show whole strips marched out from the free lines."`
	Theme  word     `placeholder:"NAME" help:"Its colours: light or dark (default: light)."`
	Topic  word     `placeholder:"NAME" help:"Show a topic of the help beside the work."`
}

// shown is what the flags ask the window to show.
func (c *pictureCmd) shown() window.Shown {
	return window.Shown{Panes: c.Panes, Tab: string(c.Tab), Bench: string(c.Bench), Stock: string(c.Stock), Figure: string(c.Figure), Layer: int(c.Layer), Line: int(c.Line),
		Strake: string(c.Strake), Frame: string(c.Frame), From: string(c.From), Map: string(c.Map), Strip: c.Strip, March: c.March, Theme: string(c.Theme), Help: string(c.Topic)}
}

// Run draws the window on the plan, and writes the picture.
func (c *pictureCmd) Run(s *streams) error {
	path := string(c.Output)
	if _, err := os.Lstat(path); err == nil && !c.Replace {
		return refused(fs.ErrExist, path)
	}
	session, err := app.Open(c.Plan)
	if err != nil {
		return err
	}
	img, err := window.Picture(session, c.Size.width, c.Size.height, c.shown())
	if err != nil {
		return misuse{err}
	}
	if err := keep.ReplaceFile(path, func(w io.Writer) error { return png.Encode(w, img) }); err != nil {
		return err
	}
	b := img.Bounds()
	return c.give(s, answer.Drawn{Written: path, Width: b.Dx(), Height: b.Dy()})
}

// The smallest and the greatest picture of the window, in pixels: one that can
// still be read, and a screen of the largest kind.
const (
	leastPixels = 320
	mostPixels  = 7680
)

// pixels is a flag's value that is a width and a height.
type pixels struct{ width, height int }

// UnmarshalText reads 1366x768.
func (p *pixels) UnmarshalText(text []byte) error {
	width, height, _ := strings.Cut(string(text), "x")
	var errs [2]error
	p.width, errs[0] = strconv.Atoi(width)
	p.height, errs[1] = strconv.Atoi(height)
	if errs != [2]error{} || min(p.width, p.height) < leastPixels || max(p.width, p.height) > mostPixels {
		return tongue.Errorf("%q is not a size: give width and height in pixels, each from %d to %d, as 1366x768", text, leastPixels, mostPixels)
	}
	return nil
}
