package main

import (
	"fmt"
	"image/png"
	"io"
	"io/fs"
	"os"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/window"
	"github.com/strakewright/strakewright/hull/keep"
)

type pictureCmd struct {
	format
	planArg
	Output  word   `name:"output" short:"o" required:"" placeholder:"FILE" help:"The picture to write, as PNG."`
	Size    pixels `default:"1366x768" placeholder:"WxH" help:"Its width and height in pixels (default ${default})."`
	Replace bool   `help:"Overwrite an existing file."`
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
	img, err := window.Picture(session, c.Size.width, c.Size.height)
	if err != nil {
		return err
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
		return fmt.Errorf("%q is not a size: give width and height in pixels, each from %d to %d, as 1366x768", text, leastPixels, mostPixels)
	}
	return nil
}
