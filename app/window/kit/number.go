package kit

import (
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// Number is a number that can be typed, or stepped with the mouse alone.
type Number struct {
	Entry      *NumberEntry
	Box        fyne.CanvasObject
	notices    *Notices
	get        func() float64
	set        func(float64) bool
	write      func(float64) string
	read       func(float64) float64 // from what is typed to what is set
	shown      string
	Less, More *Button
}

// NumberEntry takes over what is typed when it is left.
type NumberEntry struct {
	widget.Entry
	Left func()
	ring ring
}

// CreateRenderer is called by Fyne.
func (e *NumberEntry) CreateRenderer() fyne.WidgetRenderer {
	e.ExtendBaseWidget(e)
	return &ringed{e.Entry.CreateRenderer(), &e.ring}
}

// FocusGained shows that the keys act here.
func (e *NumberEntry) FocusGained() {
	e.ring.gained(e)
	e.Entry.FocusGained()
}

// FocusLost takes over what is typed.
func (e *NumberEntry) FocusLost() {
	e.ring.lost()
	e.Entry.FocusLost()
	e.Left()
}

// TypedKey takes a key.
func (e *NumberEntry) TypedKey(k *fyne.KeyEvent) {
	e.Entry.TypedKey(k)
	HandOn(k, e)
}

// NewNumber makes a plain number; get may give NaN for none.
func NewNumber(t *Notices, step float64, write func(float64) string, get func() float64, set func(float64) bool) *Number {
	n := &Number{notices: t, get: get, set: set, write: write, read: func(v float64) float64 { return v }}
	n.Entry = &NumberEntry{Left: n.Commit}
	n.Entry.ExtendBaseWidget(n.Entry)
	n.Entry.OnSubmitted = func(string) { n.Commit() }
	n.Less = NewButton("−", func() { n.By(-step) })
	n.More = NewButton("+", func() { n.By(step) })
	n.Box = container.NewBorder(nil, nil, nil, container.NewHBox(n.Less, n.More), n.Entry)
	return n
}

// lengthUnits are the units in which lengths are shown: they may change while a
// number is shown.
type lengthUnits interface {
	Number(mm float64) string
	ToMM(shown float64) float64
}

// namedUnits are such with a name.
type namedUnits interface {
	lengthUnits
	Name() string
}

// NewLength makes a length, shown in the units of display.
func NewLength(t *Notices, u lengthUnits, stepMM float64, get func() float64, set func(float64) bool) *Number {
	n := NewNumber(t, stepMM, u.Number, get, set)
	n.read = u.ToMM
	return n
}

func (n *Number) By(step float64) {
	v := n.get()
	if math.IsNaN(v) {
		return
	}
	n.set(math.Round((v+step)*1e6) / 1e6)
	n.Sync()
}

// Commit takes over what is typed, if it is anything else than what was shown.
// What is no number does not stay in the field as though it held.
func (n *Number) Commit() {
	if n.Entry.Text == n.shown {
		return
	}
	v, err := ParseNumber(n.Entry.Text)
	if err != nil {
		n.notices.Status(tongue.T("%s. The field shows the value in force again.", strings.TrimSuffix(Sentence(err), ".")))
		n.Entry.SetText(n.shown)
	} else {
		n.set(n.read(v))
	}
	n.Sync()
}

// Sync shows the number as it stands, but leaves what is being typed.
func (n *Number) Sync() {
	v := n.get()
	text := ""
	if !math.IsNaN(v) {
		text = tongue.Figure(n.write(v))
	}
	if text == n.shown && n.Entry.Text == text {
		return
	}
	if n.Typing() && text == n.shown {
		return
	}
	n.shown = text
	n.Entry.SetText(text)
}

func (n *Number) Typing() bool {
	c := fyne.CurrentApp().Driver().CanvasForObject(n.Entry)
	return c != nil && c.Focused() == fyne.Focusable(n.Entry) && n.Entry.Text != n.shown
}

// Able switches the number on or off.
func (n *Number) Able(on bool) {
	for _, w := range []fyne.Disableable{n.Entry, n.Less, n.More} {
		if on {
			w.Enable()
		} else {
			w.Disable()
		}
	}
}

// ParseNumber reads a number with a point or a comma.
func ParseNumber(s string) (float64, error) {
	v, wrong := plaintext.Number(strings.TrimSpace(s), true)
	if wrong != "" {
		return 0, tongue.Errorf("%q is not a number: write one as %s", s, tongue.Figure("4.5"))
	}
	return v, nil
}

// ParseNumbers reads the numbers of a list, told apart as plaintext.Fields does. In a
// language with decimal commas, one within a word and alone there is one: "1,5" is one
// number in German, and "4, 5" and "4,5,6" are lists as ever.
func ParseNumbers(s string) ([]float64, error) {
	if strings.TrimSpace(s) == "" {
		return nil, tongue.New("write at least one width, as 4, 5, 6")
	}
	items, comma := plaintext.Fields(decimalCommas(s))
	var out []float64
	for _, item := range items {
		v, wrong := plaintext.Number(item, comma)
		if wrong != "" {
			return nil, tongue.Errorf("%q is not a number: write them as 4, 5, 6.5, %s", item, tongue.T(plaintext.ListRule))
		}
		out = append(out, v)
	}
	return out, nil
}

// decimalCommas writes points for the commas of a list where the reader's language has
// decimal commas and every comma can be one.
func decimalCommas(list string) string {
	if tongue.Figure(".") == "." || strings.Contains(list, ";") {
		return list
	}
	for word := range strings.FieldsSeq(list) {
		whole, tenths, found := strings.Cut(word, ",")
		if found && (whole == "" || tenths == "" || strings.Contains(tenths, ",")) {
			return list
		}
	}
	return strings.ReplaceAll(list, ",", ".")
}

// Whole writes a count.
func Whole(v float64) string { return strconv.Itoa(int(math.Round(v))) }
