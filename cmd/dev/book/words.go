package main

import (
	"fmt"
	"image"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/loft"
)

// word is a word of the trade beside what it names: a place on a frame, so far down as a
// part of its girth, or in the middle of a strake of the first layer there. Its text
// stands off by so many units.
type word struct {
	text   string
	frame  string
	part   float64
	strake string
	dx, dy float64
}

// wordsOf are the words of a figure: of the whole profile, of a stretch of it, or of the
// body plan.
type wordsOf struct {
	body          bool
	from, to      string // the frames at the ends of the stretch; none for the whole
	width, height float64
	words         []word
}

// figures are those that the book shows, by their names.
var figures = map[string]wordsOf{
	"hull": {width: 900, height: 360, words: []word{
		{text: "sheer, the upper limit", frame: "11", part: 0, dx: -30, dy: -26},
		{text: "rabbet, the lower limit", frame: "11", part: 1, dx: 20, dy: 34},
		{text: "frame 6", frame: "6", part: 0.02, dx: -50, dy: -30},
		{text: "stem", frame: "stem", part: 0.35, dx: -8, dy: -60},
		{text: "a strake", strake: "1.03", frame: "9", dx: 46, dy: -46},
		{text: "band line", frame: "13", part: 0.4, dx: 20, dy: -54},
		{text: "garboard, the lowest strake", strake: "G", frame: "5", dx: -60, dy: 46},
	}},
	"girth": {body: true, width: 560, height: 480, words: []word{
		{text: "sheer", frame: "8", part: 0, dx: -70, dy: -24},
		{text: "rabbet", frame: "8", part: 1, dx: 40, dy: 28},
		{text: "a strake's edge", frame: "8", part: 0.364, dx: -110, dy: -8},
		{text: "girth: the way along the frame", frame: "8", part: 0.72, dx: -60, dy: 60},
	}},
	"drop": {from: "stem", to: "4", width: 820, height: 330, words: []word{
		{text: "3.03 ends here, on frame 1", strake: "3.03", frame: "1", dx: 110, dy: 70},
		{text: "3.04 goes on alone", strake: "3.04", frame: "stem", dx: 10, dy: 60},
	}},
}

// ofWords draws the words of a figure on a plan.
func ofWords(args []string, bench string) (image.Image, error) {
	if len(args) != 2 {
		return nil, fmt.Errorf("words are PLAN FIGURE, not %q", args)
	}
	of, ok := figures[args[1]]
	if !ok {
		return nil, fmt.Errorf("there is no figure %s", args[1])
	}
	k, err := plank(bench, args[0])
	if err != nil {
		return nil, err
	}
	d, place := of.drawn(k)
	for _, w := range of.words {
		if err := w.write(d, k.Layers[0], place); err != nil {
			return nil, fmt.Errorf("%s: %w", w.text, err)
		}
	}
	return painted(d, draw.View{Scale: 1}, of.width, of.height)
}

// placed gives where a point of a frame is in a figure.
type placed func(frame int, p mgl64.Vec3) draw.Point

// drawn draws the figure without its words.
func (of wordsOf) drawn(k *loft.Planking) (*draw.Drawing, placed) {
	l := k.Layers[0]
	curves := views.CurvesOf(l)
	if of.body {
		v := &views.Body{}
		v.Mid, v.Z, v.Scale = views.FitBody(curves, of.width, of.height)
		v.Draw(k, curves, views.Nothing, of.width, of.height)
		return &v.Drawing, v.Place
	}
	v := &views.Profile{}
	seen := curves
	if of.from != "" {
		seen = curves[k.Plan.Hull.FrameNamed(of.from) : k.Plan.Hull.FrameNamed(of.to)+1]
	}
	v.X, v.Z = views.FitProfile(seen, of.width, of.height)
	v.Draw(k, curves, views.Nothing, of.width, of.height)
	return &v.Drawing, func(_ int, p mgl64.Vec3) draw.Point { return v.Place(p) }
}

// The size of a word, and how far its leader stays off it.
const wordSize, leaderGap = 15.0, 4.0

// write writes a word with a leader to what it names.
func (w word) write(d *draw.Drawing, l *loft.Layer, place placed) error {
	f := l.Surface.FrameNamed(w.frame)
	if f < 0 {
		return fmt.Errorf("there is no frame %s", w.frame)
	}
	at := place(f, l.Surface.AtDown(f, w.part*l.Girths[f]))
	if w.strake != "" {
		n := l.StrakeNamed(w.strake)
		if w.strake == "G" {
			n = len(l.Strakes) - 1
		}
		if n < 0 {
			return fmt.Errorf("there is no strake %s", w.strake)
		}
		s, i := l.Strakes[n], l.Surface.FrameStation(f)
		at = place(f, s.Upper.P[i].Add(s.Lower.P[i]).Mul(0.5))
	}
	to := draw.Pt(at.X+w.dx, at.Y+w.dy)
	wide := draw.TextWidth(w.text, wordSize)
	high := draw.CapHeight(wordSize)
	d.Rect(draw.Paper, draw.Pt(to.X-wide/2-3, to.Y-high-3), draw.Pt(to.X+wide/2+3, to.Y+4))
	end := draw.Pt(to.X, to.Y+leaderGap)
	if w.dy > 0 {
		end.Y = to.Y - high - leaderGap
	}
	d.Line(draw.Chosen, draw.Pen{Width: 1.4}, end, at)
	d.Mark(at, draw.Disc, 6, draw.Chosen)
	d.Text(to, w.text, draw.Chosen, wordSize, draw.Centre)
	return nil
}
