package paper

import (
	"image"
	"image/color"
	stddraw "image/draw"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// paperPreview shows one page of the booklet as it will be printed.
type paperPreview struct {
	desk         *desk.Desk
	pixels       *draw.Pixels // with the lettering of paper; nil where its font cannot be read
	set          *export.Set
	page         int
	raster       *canvas.Raster
	number       *widget.Label
	back, onward *kit.Button
	img          *image.RGBA
}

func newPaperPreview(d *desk.Desk) *paperPreview {
	v := &paperPreview{desk: d}
	if p, err := draw.NewPixels(draw.Lettering()); err == nil {
		v.pixels = p
	}
	v.raster = canvas.NewRaster(v.paint)
	v.raster.SetMinSize(fyne.NewSize(200, 240))
	v.number = widget.NewLabel("")
	v.back = d.Button("◂", tongue.T("The page before"), func() { v.turn(-1) })
	v.onward = d.Button("▸", tongue.T("The next page"), func() { v.turn(1) })
	return v
}

func (v *paperPreview) object() fyne.CanvasObject {
	foot := container.NewHBox(v.back, v.number, v.onward)
	return container.NewBorder(nil, container.NewCenter(foot), nil, nil, v.desk.Repainted(v.raster))
}

// show shows another set, nil for none, at the page shown before.
func (v *paperPreview) show(set *export.Set) {
	v.set = set
	v.turn(0)
}

// turn goes some pages on.
func (v *paperPreview) turn(by int) {
	n := 0
	if v.set != nil {
		n = v.set.Pages()
	}
	v.page = max(min(v.page+by, n-1), 0)
	text := ""
	if n > 0 {
		text = tongue.T("page %d of %d", v.page+1, n)
	}
	v.number.SetText(text)
	for b, on := range map[*kit.Button]bool{v.back: v.page > 0, v.onward: v.page < n-1} {
		if on {
			b.Enable()
		} else {
			b.Disable()
		}
	}
	v.desk.Repaint(v.raster)
}

// paint draws the page as large as it fits, in the middle of the ground.
func (v *paperPreview) paint(w, h int) image.Image {
	if v.img == nil || v.img.Rect.Dx() != w || v.img.Rect.Dy() != h {
		v.img = image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	}
	stddraw.Draw(v.img, v.img.Rect, image.NewUniform(color.NRGBA{R: 0x80, G: 0x80, B: 0x80, A: 0xff}), image.Point{}, stddraw.Src)
	if v.set == nil || v.pixels == nil || v.set.Pages() == 0 {
		return v.img
	}
	page := v.set.Page(v.page)
	scale := min(float64(w)/page.Width, float64(h)/page.Height) * 0.98
	pw, ph := int(page.Width*scale), int(page.Height*scale)
	if pw < 1 || ph < 1 {
		return v.img
	}
	sheet := image.NewRGBA(image.Rect(0, 0, pw, ph))
	v.pixels.Render(sheet, &page.Drawing, &draw.Print, draw.View{Scale: scale * page.Scale.X})
	at := image.Pt((w-pw)/2, (h-ph)/2)
	stddraw.Draw(v.img, sheet.Rect.Add(at), sheet, image.Point{}, stddraw.Src)
	return v.img
}
