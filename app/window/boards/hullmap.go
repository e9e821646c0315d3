package boards

import (
	"image"
	"math"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// tintings tell what the hull can show: on its button, in its menu, over its bar, and at
// either end of that.
var tintings = map[scene.Tinting]struct{ name, told, title, down, up string }{
	scene.Bare:      {name: tongue.Mark("Wood"), told: tongue.Mark("Wood")},
	scene.ByEdgeSet: {tongue.Mark("Edge-set"), tongue.Mark("Edge-set: how far strakes are forced sideways"), tongue.Mark("Edge-set, % of strain"), tongue.Mark("bent down"), tongue.Mark("bent up")},
	scene.ByFit:     {tongue.Mark("Strip fit"), tongue.Mark("Strip fit: where strips are too wide or too narrow"), tongue.Mark("Strip against its place, % of width"), tongue.Mark("tapers"), tongue.Mark("gaps")},
}

// mapBar is the bar of what the colours and the hatching of the hull mean, beside the
// drawing and not in it.
type mapBar struct {
	view   *hullView
	raster *canvas.Raster
	paper  kit.Sheet
	d      draw.Drawing
	img    *image.RGBA
}

// The bar, in the board's own units: its whole height, that of its steps and where they
// begin, and the size of its lettering.
const barHeight, stepHeight, stepTop, barText = 42.0, 11.0, 15.0, 10.5

func newMapBar(v *hullView) *mapBar {
	b := &mapBar{view: v}
	b.raster = canvas.NewRaster(b.paint)
	b.raster.SetMinSize(fyne.NewSize(60, barHeight))
	b.raster.Hide()
	return b
}

// show has the bar there while a map is shown.
func (b *mapBar) show() {
	if on := b.view.mapped(); on != b.raster.Visible() {
		if on {
			b.raster.Show()
		} else {
			b.raster.Hide()
		}
	}
	if b.raster.Visible() {
		b.view.desk.Repaint(b.raster)
	}
}

// mapped tells whether the hull shows a map.
func (v *hullView) mapped() bool {
	return v.tinting != scene.Bare && !v.strip.on && !v.desk.Shapeless()
}

func (b *mapBar) paint(w, h int) image.Image {
	scale := 1.0
	if s := b.raster.Size().Width; s > 0 {
		scale = float64(w) / float64(s)
	}
	if b.img == nil || b.img.Rect.Dx() != w || b.img.Rect.Dy() != h {
		b.img = image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	}
	b.d.Reset()
	b.d.Rect(draw.Paper, draw.Pt(0, 0), draw.Pt(float64(w), float64(h)))
	b.paper.Over(b.img, b.view.desk.Look, &b.d, 1)
	b.d.Reset()
	b.letter(float64(w)/scale, func(from, to float64, step int) {
		px := func(v float64) int { return int(math.Round(v * scale)) }
		scene.Swatch(b.img, image.Rect(px(from), px(stepTop), px(to), px(stepTop+stepHeight)), step, b.view.palette(), scale)
	})
	b.paper.Over(b.img, b.view.desk.Look, &b.d, scale)
	return b.img
}

// letter sets the bar's title, ends, figures and frame on a width, and has every step
// filled from one place to another.
func (b *mapBar) letter(w float64, fill func(from, to float64, step int)) {
	t := tintings[b.view.tinting]
	left, right := barEdge, w-barEdge
	at := func(k float64) float64 { return left + (right-left)*(k+scene.Steps+0.5)/(2*scene.Steps+1) }
	b.d.Text(draw.Pt(w/2, stepTop-4), tongue.T(t.title), draw.Ink, barText, draw.Centre)
	b.d.Text(draw.Pt(left, stepTop-4), tongue.T(t.down), draw.Ink, barText, draw.Left)
	b.d.Text(draw.Pt(right, stepTop-4), tongue.T(t.up), draw.Ink, barText, draw.Right)
	full := b.view.tinting.Full(b.view.desk.Layer())
	foot := stepTop + stepHeight
	for step := -scene.Steps; step <= scene.Steps; step++ {
		from, to := at(float64(step)-0.5), at(float64(step)+0.5)
		fill(from, to, step)
		if step > -scene.Steps {
			edge := float64(step)
			if step <= 0 {
				edge--
			}
			b.d.Line(draw.Ink, draw.Pen{Width: 0.8}, draw.Pt(from, stepTop), draw.Pt(from, foot+3))
			b.d.Text(draw.Pt(from, foot+3+barText), percentOf(edge/scene.Steps*full), draw.Ink, barText, draw.Centre)
		}
	}
	b.d.Line(draw.Ink, draw.Pen{Width: 0.8}, draw.Pt(left, stepTop), draw.Pt(right, stepTop), draw.Pt(right, foot), draw.Pt(left, foot), draw.Pt(left, stepTop))
}

// barEdge is how far the bar's ends lie from those of the pane.
const barEdge = 8.0

// percentOf writes a share in percent, with a sign and as many decimals as its size
// needs.
func percentOf(share float64) string {
	p, decimals := 100*share, 2
	if math.Abs(p) >= 5 {
		decimals = 0
	}
	text := tongue.Figure(strconv.FormatFloat(math.Abs(p), 'f', decimals, 64))
	if p < 0 {
		return "-" + text
	}
	return "+" + text
}

// figures writes on the map how much it is where it is most, either way, on the side
// that is seen.
func (v *hullView) figures(d *draw.Drawing, scale float64) {
	const disc = 4.0
	var seen []scene.Peak
	var taken []box
	for _, p := range scene.Peaks(v.made.of, v.tinting) {
		p.At[1] *= v.cam.Side()
		x, y, ok := v.render.Seen(v.cam, p.At)
		if !ok {
			p.At[1] *= -1
			if x, y, ok = v.render.Seen(v.cam, p.At); !ok {
				continue
			}
		}
		x, y = x/scale, y/scale
		d.Mark(draw.Pt(x, y), draw.Disc, disc+2, draw.Halo)
		d.Mark(draw.Pt(x, y), draw.Disc, disc, draw.Ink)
		seen, taken = append(seen, p), append(taken, box{x - disc/2, y - disc/2, disc, disc})
	}
	for _, p := range seen {
		taken = v.note(d, percentOf(p.Value)+" %", p.At, p.At, taken, scale)
	}
}
