package window

import (
	"errors"
	"fmt"
	"math"
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
	notices    *notices
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
func newNumber(t *notices, step float64, write func(float64) string, get func() float64, set func(float64) bool) *number {
	n := &number{notices: t, get: get, set: set, write: write, read: func(v float64) float64 { return v }}
	n.entry = &numberEntry{left: n.commit}
	n.entry.ExtendBaseWidget(n.entry)
	n.entry.OnSubmitted = func(string) { n.commit() }
	n.less = widget.NewButton("−", func() { n.by(-step) })
	n.more = widget.NewButton("+", func() { n.by(step) })
	n.box = container.NewBorder(nil, nil, nil, container.NewHBox(n.less, n.more), n.entry)
	return n
}

// lengthUnits are the units in which lengths are shown: they may change while a
// number is shown.
type lengthUnits interface {
	Number(mm float64) string
	ToMM(shown float64) float64
}

// newLength makes a length, shown in the units of display.
func newLength(t *notices, u lengthUnits, stepMM float64, get func() float64, set func(float64) bool) *number {
	n := newNumber(t, stepMM, u.Number, get, set)
	n.read = u.ToMM
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
		n.notices.status(sentence(err))
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
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(s), ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is no number: write one as 4.5", s)
	}
	return v, nil
}

// parseNumbers reads numbers apart by commas, semicolons or spaces.
func parseNumbers(s string) ([]float64, error) {
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' || r == ' ' })
	if len(parts) == 0 {
		return nil, errors.New("write at least one width, as 4, 5, 6")
	}
	var out []float64
	for _, p := range parts {
		v, err := parseNumber(p)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}

// whole writes a count.
func whole(v float64) string { return strconv.Itoa(int(math.Round(v))) }
