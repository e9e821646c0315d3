package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Verdict shows a mark and a word in bold, and beneath them the figure behind.
type Verdict struct {
	Box          fyne.CanvasObject
	mark         *widget.Label
	says, figure *widget.Label
}

// NewVerdict makes an empty one.
func NewVerdict() *Verdict {
	v := &Verdict{mark: widget.NewLabelWithStyle("", fyne.TextAlignLeading, fyne.TextStyle{Monospace: true}),
		says: widget.NewLabelWithStyle("", fyne.TextAlignLeading, fyne.TextStyle{Bold: true}), figure: Wrapped("")}
	v.mark.SizeName = theme.SizeNameSubHeadingText
	v.says.SizeName = theme.SizeNameSubHeadingText
	v.says.Wrapping = fyne.TextWrapWord
	v.Box = container.NewVBox(container.NewBorder(nil, nil, v.mark, nil, v.says), v.figure)
	return v
}

// Set shows another.
func (v *Verdict) Set(mark, says, figure string) {
	SetText(v.mark, mark)
	SetText(v.says, says)
	SetText(v.figure, figure)
}
