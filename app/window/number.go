package window

import (
	"errors"
	"fmt"
	"math"
	"strakewright/hull/plaintext"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// number is a number that can be typed, or stepped with the mouse alone.
type number struct {
	entry      *numberEntry
	box        fyne.CanvasObject
	desk       *desk
	get        func() float64
	set        func(float64) bool
	write      func(float64) string
	read       func(float64) float64 // from what is typed to what is set
	shown      string
	less, more *widget.Button
}

// numberEntry takes over what is typed when it is left.
type numberEntry struct {
	widget.Entry
	left func()
}

// FocusLost takes over what is typed.
func (e *numberEntry) FocusLost() {
	e.Entry.FocusLost()
	e.left()
}

// newNumber makes a plain number; get may give NaN for none.
func newNumber(d *desk, step float64, write func(float64) string, get func() float64, set func(float64) bool) *number {
	n := &number{desk: d, get: get, set: set, write: write, read: func(v float64) float64 { return v }}
	n.entry = &numberEntry{left: n.commit}
	n.entry.ExtendBaseWidget(n.entry)
	n.entry.OnSubmitted = func(string) { n.commit() }
	n.less = widget.NewButton("−", func() { n.by(-step) })
	n.more = widget.NewButton("+", func() { n.by(step) })
	n.box = container.NewBorder(nil, nil, nil, container.NewHBox(n.less, n.more), n.entry)
	return n
}

// newLength makes a length, shown in the units of display.
func newLength(d *desk, stepMM float64, get func() float64, set func(float64) bool) *number {
	n := newNumber(d, stepMM, func(mm float64) string { return d.units.Number(mm) }, get, set)
	n.read = func(v float64) float64 { return d.units.ToMM(v) }
	return n
}

func (n *number) by(step float64) {
	v := n.get()
	if math.IsNaN(v) {
		return
	}
	n.set(math.Round((v+step)*1e6) / 1e6)
	n.sync()
}

// commit takes over what is typed, if it is anything else than what was shown.
func (n *number) commit() {
	if n.entry.Text == n.shown {
		return
	}
	v, err := parseNumber(n.entry.Text)
	if err != nil {
		n.desk.status(sentence(err))
	} else {
		n.set(n.read(v))
	}
	n.sync()
}

// sync shows the number as it stands, but leaves what is being typed.
func (n *number) sync() {
	v := n.get()
	text := ""
	if !math.IsNaN(v) {
		text = n.write(v)
	}
	if text == n.shown && n.entry.Text == text {
		return
	}
	if n.typing() && text == n.shown {
		return
	}
	n.shown = text
	n.entry.SetText(text)
}

func (n *number) typing() bool {
	c := fyne.CurrentApp().Driver().CanvasForObject(n.entry)
	return c != nil && c.Focused() == fyne.Focusable(n.entry) && n.entry.Text != n.shown
}

// able switches the number on or off.
func (n *number) able(on bool) {
	for _, w := range []fyne.Disableable{n.entry, n.less, n.more} {
		if on {
			w.Enable()
		} else {
			w.Disable()
		}
	}
}

// parseNumber reads a number with a point or a comma.
func parseNumber(s string) (float64, error) {
	v, wrong := plaintext.Number(strings.TrimSpace(s), true)
	if wrong != "" {
		return 0, fmt.Errorf("%q is no number: write one as 4.5", s)
	}
	return v, nil
}

// parseNumbers reads the numbers of a list, told apart as plaintext.Fields does.
func parseNumbers(s string) ([]float64, error) {
	if strings.TrimSpace(s) == "" {
		return nil, errors.New("write at least one width, as 4, 5, 6")
	}
	items, comma := plaintext.Fields(s)
	var out []float64
	for _, item := range items {
		v, wrong := plaintext.Number(item, comma)
		if wrong != "" {
			return nil, fmt.Errorf("%q is no number: write them as 4, 5, 6.5, %s", item, plaintext.ListRule)
		}
		out = append(out, v)
	}
	return out, nil
}

// whole writes a count.
func whole(v float64) string { return strconv.Itoa(int(math.Round(v))) }

// row is a name with what is set beside it.
func row(name string, o fyne.CanvasObject) fyne.CanvasObject {
	l := widget.NewLabel(name)
	l.Truncation = fyne.TextTruncateOff
	return container.New(&rowLayout{}, l, o)
}

// rowLayout gives the name two fifths of the width, and the rest to what is set.
type rowLayout struct{}

// MinSize is the least room for both.
func (rowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(a.Width+b.Width, fyne.Max(a.Height, b.Height))
}

// Layout places them.
func (rowLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := fyne.Max(s.Width*0.42, o[0].MinSize().Width)
	o[0].Move(fyne.NewPos(0, (s.Height-o[0].MinSize().Height)/2))
	o[0].Resize(fyne.NewSize(w, o[0].MinSize().Height))
	o[1].Move(fyne.NewPos(w, 0))
	o[1].Resize(fyne.NewSize(s.Width-w, s.Height))
}
