package kit

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/hull/visible"
)

// Scrolled is a column of parts that can be scrolled.
func Scrolled(o ...fyne.CanvasObject) fyne.CanvasObject {
	return container.NewVScroll(container.New(layout.NewCustomPaddedLayout(4, 8, 2, 10), container.NewVBox(o...)))
}

// SetText has a label say something: one that says it already is not measured
// again. What cannot be seen in it is written out.
func SetText(l *widget.Label, text string) {
	text = visible.Lines(text)
	if l.Text != text {
		l.SetText(text)
	}
}

// NewLabel is a label in which what cannot be seen is written out: for texts with
// words of a plan or a file.
func NewLabel(text string) *widget.Label { return widget.NewLabel(visible.Lines(text)) }

// Heading is the head of a part.
func Heading(s string) fyne.CanvasObject {
	return widget.NewLabelWithStyle(s, fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
}

// Caution is a caution where its step is set.
func Caution(s string) fyne.CanvasObject {
	l := widget.NewLabel("Caution: " + s)
	l.Wrapping = fyne.TextWrapWord
	l.SizeName = theme.SizeNameCaptionText
	l.Importance = widget.WarningImportance
	return l
}

// Show switches an object on or off the panel.
func Show(o fyne.CanvasObject, on bool) {
	if on == o.Visible() {
		return
	}
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// Row is a name with what is set beside it.
func Row(name string, o fyne.CanvasObject) fyne.CanvasObject {
	l := widget.NewLabel(name)
	l.Truncation = fyne.TextTruncateOff
	return container.New(&RowLayout{}, l, o)
}

// RowLayout gives the name two fifths of the width, and the rest to what is set.
type RowLayout struct{}

// named puts a short name before what is chosen.
func named(name string, o fyne.CanvasObject) fyne.CanvasObject {
	l := widget.NewLabel(name)
	l.SizeName = theme.SizeNameCaptionText
	return container.NewBorder(nil, nil, l, nil, o)
}

// TippedNamed is a short name before what is chosen, and a tip for both.
func TippedNamed(name, text string, o fyne.CanvasObject) fyne.CanvasObject {
	return Tipped(named(name, o), text)
}

// Able switches buttons on or off.
func Able(on bool, list ...fyne.Disableable) {
	for _, w := range list {
		if on == !w.Disabled() {
			continue
		}
		if on {
			w.Enable()
		} else {
			w.Disable()
		}
	}
}

// Wrapped is a label that breaks its lines.
func Wrapped(text string) *widget.Label {
	l := NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

// Tall gives an object a least height.
func Tall(o fyne.CanvasObject, height float32) fyne.CanvasObject {
	room := canvas.NewRectangle(color.Transparent)
	room.SetMinSize(fyne.NewSize(10, height))
	return container.NewStack(room, o)
}

// Padded scrolls an object, with room for the bar at its right.
func Padded(o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewVScroll(container.New(layout.NewCustomPaddedLayout(0, 4, 0, 12), o))
}

// LegendText tells what marks mean, in letters of even width.
func LegendText(s string) fyne.CanvasObject {
	return widget.NewLabelWithStyle(s, fyne.TextAlignLeading, fyne.TextStyle{Monospace: true})
}

// Split gives a split its offset while it is made; SetOffset would lay it out.
func Split(s *container.Split, at float64) *container.Split {
	s.Offset = at
	return s
}

// MinSize is the least room for both.
func (RowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(a.Width+b.Width, fyne.Max(a.Height, b.Height))
}

// Layout places them.
func (RowLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := fyne.Max(s.Width*0.42, o[0].MinSize().Width)
	o[0].Move(fyne.NewPos(0, (s.Height-o[0].MinSize().Height)/2))
	o[0].Resize(fyne.NewSize(w, o[0].MinSize().Height))
	o[1].Move(fyne.NewPos(w, 0))
	o[1].Resize(fyne.NewSize(s.Width-w, s.Height))
}
