package main

import (
	"cmp"
	"image"
	"image/color"
	"image/png"
	"os"
	"slices"
)

// colours is how many a picture of the book has at most.
const colours = 96

// small writes a picture in few colours, so that its file is small.
func small(path string, img image.Image) error {
	b := img.Bounds()
	counts := map[[3]uint8]int{}
	at := func(x, y int) [3]uint8 {
		r, g, bl, _ := img.At(x, y).RGBA()
		return [3]uint8{uint8(r >> 8), uint8(g >> 8), uint8(bl >> 8)}
	}
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			counts[at(x, y)]++
		}
	}
	pal, index := medianCut(counts, colours)
	out := image.NewPaletted(b, pal)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			out.SetColorIndex(x, y, index[at(x, y)])
		}
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(f, out); err != nil {
		return err
	}
	return f.Close()
}

// counted is a colour, and how many pixels have it.
type counted struct {
	c [3]uint8
	n int
}

// medianCut gives at most so many colours that stand for all, and for each of these the
// place of the one that does: the box of colours that spreads most is halved by its pixels
// till there are enough (Heckbert, Color image quantization for frame buffer display,
// 1982). The most frequent colour of a box stands for it where it has half of its pixels,
// so that grounds stay as they are, else the mean.
func medianCut(counts map[[3]uint8]int, most int) (color.Palette, map[[3]uint8]uint8) {
	var all []counted
	for c, n := range counts {
		all = append(all, counted{c, n})
	}
	slices.SortFunc(all, func(a, b counted) int { return slices.Compare(a.c[:], b.c[:]) })
	boxes := [][]counted{all}
	for len(boxes) < most {
		worst, along, spread := -1, 0, 0.0
		for i, box := range boxes {
			if k, s := spreadOf(box); len(box) > 1 && s > spread {
				worst, along, spread = i, k, s
			}
		}
		if worst < 0 {
			break
		}
		a, b := halved(boxes[worst], along)
		boxes[worst] = a
		boxes = append(boxes, b)
	}
	var pal color.Palette
	index := map[[3]uint8]uint8{}
	for i, box := range boxes {
		pal = append(pal, standIn(box))
		for _, c := range box {
			index[c.c] = uint8(i)
		}
	}
	return pal, index
}

// spreadOf gives the channel along which the colours of a box spread most, and the sum of
// their squares from the mean there.
func spreadOf(box []counted) (channel int, most float64) {
	for k := range 3 {
		n, sum, squares := 0.0, 0.0, 0.0
		for _, c := range box {
			v, m := float64(c.c[k]), float64(c.n)
			n, sum, squares = n+m, sum+m*v, squares+m*v*v
		}
		if s := squares - sum*sum/n; s > most {
			channel, most = k, s
		}
	}
	return channel, most
}

// halved parts a box where half of its pixels are passed.
func halved(box []counted, channel int) (a, b []counted) {
	slices.SortStableFunc(box, func(a, b counted) int { return cmp.Compare(a.c[channel], b.c[channel]) })
	all, n := 0, 0
	for _, c := range box {
		all += c.n
	}
	for i, c := range box[:len(box)-1] {
		if n += c.n; 2*n >= all {
			return box[:i+1], box[i+1:]
		}
	}
	return box[:len(box)-1], box[len(box)-1:]
}

// standIn is the colour that stands for a box.
func standIn(box []counted) color.Color {
	var sum [3]int
	all := 0
	best := box[0]
	for _, c := range box {
		for k := range sum {
			sum[k] += c.n * int(c.c[k])
		}
		all += c.n
		if c.n > best.n {
			best = c
		}
	}
	if 2*best.n >= all {
		return color.RGBA{best.c[0], best.c[1], best.c[2], 255}
	}
	return color.RGBA{uint8(sum[0] / all), uint8(sum[1] / all), uint8(sum[2] / all), 255}
}
