package main

import (
	"context"
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
	under  bool // between this strake and the next
	dx, dy float64
}

// garboard stands for the lowest strake.
const garboard = "garboard"

// wordsOf are the words of a figure: of the whole profile, of a stretch of it, or of the
// body plan.
type wordsOf struct {
	body          bool
	from, to      string  // the frames at the ends of the stretch; none for the whole
	below         float64 // it begins so far down the girth, as a part of it
	butts         bool    // the butts of all strakes to starboard are marked
	width, height float64
	words         []word
}

// figures are those that the book shows, by their names.
var figures = map[string]wordsOf{
	"hull": {width: 900, height: 330, words: []word{
		{text: "sheer, the upper limit", frame: "11", part: 0, dx: -20, dy: -44},
		{text: "rabbet, the lower limit", frame: "10", part: 1, dx: 40, dy: 40},
		{text: "frame 6", frame: "6", part: 0.1, dx: -40, dy: -62},
		{text: "stem", frame: "stem", part: 0.15, dx: 20, dy: -48},
		{text: "a strake", strake: "1.04", frame: "13", dx: -10, dy: -84},
		{text: "band line", frame: "3", part: 0.36, dx: 40, dy: -70},
		{text: "garboard, the lowest strake", strake: garboard, frame: "5", dx: -40, dy: 42},
	}},
	"girth": {body: true, width: 560, height: 500, words: []word{
		{text: "sheer", frame: "8", part: 0, dx: -30, dy: -34},
		{text: "rabbet", frame: "8", part: 1, dx: 70, dy: 22},
		{text: "frame 8", frame: "8", part: 0.25, dx: -84, dy: 4},
		{text: "girth: the way along the frame", frame: "8", part: 0.66, dx: -34, dy: -50},
	}},
	"slip": {body: true, width: 640, height: 520, words: []word{
		{text: "the slip on frame 6", frame: "6", part: 0.5, dx: -150, dy: -20},
	}},
	"drop": {from: "stem", to: "3", below: 0.5, width: 820, height: 360, words: []word{
		{text: "3.03 ends here, on frame 1", strake: "3.03", frame: "1", dx: 200, dy: -72},
		{text: "3.04 goes on alone", strake: "3.04", frame: "stem", dx: -30, dy: 110},
	}},
	"stealers": {from: "9", to: "stern", width: 820, height: 420, words: []word{
		{text: "a stealer", frame: "13", strake: "1.02", under: true, dx: -90, dy: -90},
		{text: "and another", frame: "13", strake: "1.06", under: true, dx: -150, dy: 130},
	}},
	"butts": {width: 900, height: 330, butts: true, words: []word{}},
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
	if of.butts {
		if err := markButts(d, k, place); err != nil {
			return nil, err
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
		seen = nil
		for _, c := range curves[k.Plan.Hull.FrameNamed(of.from) : k.Plan.Hull.FrameNamed(of.to)+1] {
			seen = append(seen, c[int(of.below*float64(len(c))):])
		}
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
		if w.strake == garboard {
			n = len(l.Strakes) - 1
		}
		if n < 0 {
			return fmt.Errorf("there is no strake %s", w.strake)
		}
		s, i := l.Strakes[n], l.Surface.FrameStation(f)
		upper, lower := s.Upper, s.Lower
		if w.under && n+1 < len(l.Strakes) {
			upper, lower = s.Lower, l.Strakes[n+1].Upper
		}
		at = place(f, upper.P[i].Add(lower.P[i]).Mul(0.5))
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

// markButts marks the butts of the first layer's strakes, to starboard, by the cutting list.
func markButts(d *draw.Drawing, k *loft.Planking, place placed) error {
	cut, err := k.CutLayers(context.Background())
	if err != nil {
		return err
	}
	l := k.Layers[0]
	for _, p := range cut[0].Pieces {
		f := p.ToFrame
		if p.Number == p.Of || f < 0 {
			continue
		}
		s, i := l.Strakes[p.Strake], l.Surface.FrameStation(f)
		a, b := place(f, s.Upper.P[i]), place(f, s.Lower.P[i])
		d.Line(draw.Chosen, draw.Pen{Width: 3}, a, b)
	}
	return nil
}
