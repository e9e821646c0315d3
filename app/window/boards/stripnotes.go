package boards

import (
	"image"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/loft"
)

// The lettering over the lofted view.
const noteSize, toldSize, noteGap = 10.5, 11.0, 3.0

// hardest gives the greatest force of all states, N.
func hardest(states []*loft.Sprung) float64 {
	most := 0.0
	for _, s := range states {
		most = math.Max(most, scene.Hardest(s))
	}
	return most
}

// annotate writes over the strip what is told of it, all in the board's own units:
// a disc where it is held, and while it rests how far it stands off, how hard it is
// pressed, and what follows in a few sentences.
func (v *hullView) annotate(img *image.RGBA, shown stripShown, scale float64) {
	d := &v.labels
	d.Reset()
	var taken []box
	w := float64(v.w) / scale
	lines := []string{shown.said}
	if shown.rests() && shown.said == "" {
		lines = answer.StripTold(v.desk.Layer(), shown.sp, shown.from, v.desk.Units)
	}
	taken = v.tell(d, lines, w)
	for _, n := range v.made.notes {
		if n.Kind == scene.HeldNote {
			if x, y, ok := v.render.Seen(v.cam, n.Of); ok {
				d.Mark(draw.Pt(x/scale, y/scale), draw.Disc, 7, draw.Ink)
			}
		}
	}
	if shown.rests() {
		for _, n := range byWeight(v.made.notes) {
			text := answer.StripNewtons(n.Size)
			if n.Kind == scene.LiftNote {
				text = v.desk.Units.Long(n.Size)
			}
			taken = v.note(d, text, n.Of, n.At, taken, scale)
		}
	}
	v.frameNames(d, taken, scale)
	v.paper.Over(img, v.desk.Look, d, scale)
}

// byWeight gives the notes that have a label: forces first, the greatest first.
func byWeight(notes []scene.Note) []scene.Note {
	out := slices.DeleteFunc(slices.Clone(notes), func(n scene.Note) bool { return n.Kind == scene.HeldNote })
	lift := func(n scene.Note) int {
		if n.Kind == scene.LiftNote {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(out, func(a, b scene.Note) int {
		if c := lift(a) - lift(b); c != 0 {
			return c
		}
		return int(math.Copysign(1, math.Abs(b.Size)-math.Abs(a.Size)))
	})
	return out
}

// box is a part of the view that is written on.
type box struct{ x, y, w, h float64 } // its upper left corner, and how wide and high it is

func (b box) meets(o box) bool {
	return b.x < o.x+o.w && o.x < b.x+b.w && b.y < o.y+o.h && o.y < b.y+b.h
}

// frameNames names the frames above their tops, as far as there is room.
func (v *hullView) frameNames(d *draw.Drawing, taken []box, scale float64) {
	for f, outline := range v.made.outlines {
		top := outline[0]
		top[1] *= v.made.side
		taken = v.note(d, v.desk.FrameName(f), top, top, taken, scale)
	}
}

// note writes a text at a place of the hull, beyond what ends at another, further out
// where there is no room, and not where there is none there either: the status line
// tells what is at every frame.
func (v *hullView) note(d *draw.Drawing, text string, place, beyond mgl64.Vec3, taken []box, scale float64) []box {
	x, y, ok := v.render.Seen(v.cam, place)
	if !ok {
		return taken
	}
	of := draw.Pt(x/scale, y/scale)
	x, y = v.cam.At(beyond, v.w, v.h)
	at := draw.Pt(x/scale, y/scale)
	dx, dy := at.X-of.X, at.Y-of.Y
	if l := math.Hypot(dx, dy); l > 1e-6 {
		dx, dy = dx/l, dy/l
	} else {
		dx, dy = 0, -1
	}
	w, h := v.desk.Pixels.Width(text, noteSize)+2, noteSize+1.5
	const tries = 4
	for k := range tries {
		far := noteGap + w/2*math.Abs(dx) + h/2*math.Abs(dy) + float64(k)*h
		mid := draw.Pt(at.X+dx*far, at.Y+dy*far)
		b := box{mid.X - w/2, mid.Y - h/2, w, h}
		if slices.ContainsFunc(taken, b.meets) || b.x < 0 || b.y < 0 || b.x+w > float64(v.w)/scale || b.y+h > float64(v.h)/scale {
			continue
		}
		if k > 0 {
			d.Line(draw.Faint, draw.Pen{Width: 0.8}, at, mid)
		}
		v.write(d, text, b, noteSize)
		return append(taken, b)
	}
	return taken
}

// write sets a text into a box of paper.
func (v *hullView) write(d *draw.Drawing, text string, b box, size float64) {
	d.Rect(draw.Paper, draw.Pt(b.x, b.y), draw.Pt(b.x+b.w, b.y+b.h))
	at := draw.Pt(b.x+1, b.y+b.h-size*0.28)
	if rest, ok := strings.CutPrefix(text, answer.VerdictMark(loft.SpringsDry)); ok {
		arch(d, at, size)
		at.X += v.desk.Pixels.Width(text, size) - v.desk.Pixels.Width(rest, size)
		text = rest
	}
	d.Text(at, text, draw.Ink, size, draw.Left)
}

// arch draws the mark of what springs dry on the line of a text: the lettering has no
// such sign.
func arch(d *draw.Drawing, at draw.Point, size float64) {
	const steps = 8
	r := 0.26 * size
	var line []draw.Point
	for k := range steps + 1 {
		sin, cos := math.Sincos(math.Pi * float64(k) / steps)
		line = append(line, draw.Pt(at.X+r*(1-cos), at.Y-0.16*size-r*sin))
	}
	d.Line(draw.Ink, draw.Pen{Width: 1.1}, line...)
}

// tell writes sentences at the top of a view that is so wide, and gives what room
// they take.
func (v *hullView) tell(d *draw.Drawing, sentences []string, w float64) []box {
	var out []box
	y := noteGap
	for _, s := range sentences {
		if s == "" {
			continue
		}
		for _, line := range draw.Wrap(s, toldSize, w-4*noteGap) {
			b := box{noteGap, y, v.desk.Pixels.Width(line, toldSize) + 2, toldSize + noteGap}
			v.write(d, line, b, toldSize)
			out = append(out, b)
			y += b.h
		}
	}
	return out
}
