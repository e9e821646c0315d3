package kit

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull/visible"
)

// Cell is a ground with text in even figures upon it, and lays out the container
// of both. Painting in software, Fyne takes longer for a table's many rectangles
// than for anything else, since each is computed corner by corner; an image of
// one pixel, stretched, looks the same and costs as little as the text.
type Cell struct {
	*frame
	ground *canvas.Raster // hidden where the cell has the table's own ground
	Text   *canvas.Text
	in     *Notices
	fill   color.NRGBA // of the ground; the zero value for none
}

// NewCell makes a cell of a table in a window.
func (n *Notices) NewCell() fyne.CanvasObject {
	text := canvas.NewText("0.00 ◂▸", color.Black)
	text.TextStyle.Monospace = true
	text.TextSize = 11.5
	text.Alignment = fyne.TextAlignCenter
	c := &Cell{frame: &frame{content: text}, Text: text, in: n}
	c.ground = canvas.NewRaster(c.pixel)
	c.ground.Hide()
	return container.New(c, c.ground, text)
}

// pixel is the image of the ground.
func (c *Cell) pixel(int, int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, 1, 1))
	img.Set(0, 0, c.fill)
	return img
}

// Fill writes the cell on a ground, with none of its own on that of paper, and tells
// whether it stood otherwise before.
func (c *Cell) Fill(text string, pal *draw.Palette, ground draw.Role) bool {
	var fill color.NRGBA
	if ground != draw.Paper {
		fill = pal.Colour(ground)
	}
	return c.set(visible.Text(text), pal.Colour(draw.Ink), fill)
}

// set writes the cell, and tells whether it stood otherwise before. Fyne's font of
// even figures has no bold, and would be read once more for it.
func (c *Cell) set(text string, ink, fill color.NRGBA) bool {
	if c.Text.Text == text && c.Text.Color == color.Color(ink) && c.fill == fill {
		return false
	}
	c.Text.Text, c.Text.Color = text, ink
	if c.fill != fill {
		c.fill = fill
		if fill == (color.NRGBA{}) {
			c.ground.Hide()
		} else {
			c.ground.Show()
			c.in.Repaint(c.ground)
		}
	}
	return true
}
