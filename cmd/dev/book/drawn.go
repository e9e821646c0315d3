package main

import (
	"context"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"github.com/strakewright/strakewright/app/book/quote"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/sheets"
	"github.com/strakewright/strakewright/hull/source"
	"github.com/strakewright/strakewright/loft"
)

// picture draws a picture of the book.
func picture(p quote.Picture, program, bench string) (image.Image, error) {
	switch p.Of {
	case "picture":
		return byProgram(p, program, bench)
	case "sheet":
		return ofSheet(p.Args, bench)
	case "words":
		return ofWords(p.Args, bench)
	}
	return nil, fmt.Errorf("there is no drawing %q: write sheet or words", p.Of)
}

// byProgram has the program draw one of its window.
func byProgram(p quote.Picture, program, bench string) (image.Image, error) {
	to := filepath.Join(bench, p.Name+".png")
	if _, err := told(program, bench, append([]string{"picture", "-o", to}, p.Args...)...); err != nil {
		return nil, err
	}
	f, err := os.Open(to)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return png.Decode(f)
}

// plank reads a plan of the bench and lays it.
func plank(bench, name string) (*loft.Planking, error) {
	p, _, err := source.Open(filepath.Join(bench, name))
	if err != nil {
		return nil, err
	}
	return loft.Plank(p)
}

// perMM is how many pixels of a sheet's picture go to a mm.
const perMM = 4.6

// margin is left free round it, mm.
const margin = 3.0

// ofSheet draws one of a plan's sheets, or a part of it: x, y, width and height, mm.
func ofSheet(args []string, bench string) (image.Image, error) {
	if len(args) != 2 && len(args) != 6 {
		return nil, fmt.Errorf("a sheet is PLAN NAME [X Y WIDTH HEIGHT], not %q", args)
	}
	k, err := plank(bench, args[0])
	if err != nil {
		return nil, err
	}
	all, err := sheets.All(context.Background(), k, sheets.Usual(), nil)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(all, func(s draw.Sheet) bool { return s.Name == args[1] })
	if i < 0 {
		var names []string
		for _, s := range all {
			names = append(names, s.Name)
		}
		return nil, fmt.Errorf("the plan has no sheet %s, but %q", args[1], names)
	}
	part := [4]float64{0, 0, all[i].Width, all[i].Height}
	for j, a := range args[2:] {
		if part[j], err = strconv.ParseFloat(a, 64); err != nil {
			return nil, err
		}
	}
	return painted(&all[i].Drawing, draw.View{Origin: draw.Pt(part[0]-margin, part[1]-margin), Scale: perMM}, part[2]+2*margin, part[3]+2*margin)
}

// painted renders so much of a drawing, in its own units, from the view's origin.
func painted(d *draw.Drawing, v draw.View, width, height float64) (image.Image, error) {
	pixels, err := draw.NewPixels(draw.Lettering())
	if err != nil {
		return nil, err
	}
	img := image.NewRGBA(image.Rect(0, 0, int(width*v.Scale), int(height*v.Scale)))
	pixels.Render(img, d, &draw.Light, v)
	return img, nil
}
