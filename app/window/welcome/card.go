package welcome

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// card is a few words beside the work: a mark, what it is about, a sentence or two,
// and buttons.
type card struct {
	ground, edge *canvas.Rectangle
	icon         *widget.Icon
	head, text   *widget.Label
	deeds        *fyne.Container
	object       *fyne.Container
	edgeName     fyne.ThemeColorName
}

// edgeWide is how wide the stripe is by which a card is told from the bars beside it.
const edgeWide = 5

func newCard() *card {
	c := &card{ground: canvas.NewRectangle(color.Transparent), edge: canvas.NewRectangle(color.Transparent), icon: widget.NewIcon(nil),
		head: widget.NewLabelWithStyle("", fyne.TextAlignLeading, fyne.TextStyle{Bold: true}), text: widget.NewLabel(""), deeds: container.NewHBox()}
	c.text.Wrapping = fyne.TextWrapWord
	c.head.Truncation = fyne.TextTruncateEllipsis
	c.edge.SetMinSize(fyne.NewSize(edgeWide, 0))
	c.icon.Resize(fyne.NewSquareSize(theme.IconInlineSize()))
	mark := container.New(layout.NewCustomPaddedLayout(0, 0, 4, 0), container.NewCenter(c.icon))
	words := container.New(words{}, c.head, c.text)
	said := container.NewBorder(nil, nil, container.NewHBox(c.edge, mark), container.NewCenter(c.deeds), words)
	c.object = container.NewStack(c.ground, container.NewBorder(widget.NewSeparator(), widget.NewSeparator(), nil, nil, said))
	return c
}

// look brings the card's colours up to those of the theme.
func (c *card) look() {
	ground, edge := theme.Color(theme.ColorNameBackground), theme.Color(c.edgeName)
	if c.ground.FillColor != ground || c.edge.FillColor != edge {
		c.ground.FillColor, c.edge.FillColor = ground, edge
		c.ground.Refresh()
		c.edge.Refresh()
	}
}

// says has the card say something, with a mark and the colour that goes with it.
func (c *card) says(mark fyne.Resource, edge fyne.ThemeColorName, head, text string) {
	c.edgeName = edge
	if c.icon.Resource == nil || c.icon.Resource.Name() != mark.Name() {
		c.icon.SetResource(mark)
	}
	if c.head.Text != head {
		c.head.SetText(head)
	}
	if c.text.Text != text {
		c.text.SetText(text)
	}
	c.look()
}

// offers has the card offer buttons.
func (c *card) offers(deeds ...fyne.CanvasObject) {
	c.deeds.Objects = deeds
	c.deeds.Refresh()
}

// words lays a line out over a text of at most two. Its height is always the same, so
// that nothing under the card shifts when it says something else, nor after the first
// frame, before which no text knows how wide it is.
type words struct{}

// nearer is by how much the text stands nearer to its head than Fyne has it.
const nearer = 4

func (words) Layout(o []fyne.CanvasObject, s fyne.Size) {
	high := o[0].MinSize().Height
	o[0].Resize(fyne.NewSize(s.Width, high))
	o[0].Move(fyne.NewPos(0, 0))
	o[1].Resize(fyne.NewSize(s.Width, s.Height-high+nearer))
	o[1].Move(fyne.NewPos(0, high-nearer))
}

func (words) MinSize(o []fyne.CanvasObject) fyne.Size {
	line := fyne.MeasureText("A", theme.TextSize(), fyne.TextStyle{}).Height
	return fyne.NewSize(100, o[0].MinSize().Height-nearer+2*line+2*theme.InnerPadding())
}
