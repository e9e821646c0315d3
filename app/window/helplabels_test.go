package window

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/window/help"
	"github.com/strakewright/strakewright/app/window/kit"
)

// labels are the texts that the window shows, without dots, colons and units after them.
type labels map[string]bool

// label is a text as it is compared.
func label(text string) string {
	text, _, _ = strings.Cut(text, " (")
	return strings.ToLower(strings.Trim(text, "…:▾ "))
}

func (l labels) add(texts ...string) {
	for _, text := range texts {
		l[label(text)] = true
	}
}

// within adds all that stands in an object, in tabs that are not shown too.
func (l labels) within(o fyne.CanvasObject) {
	switch o := o.(type) {
	case nil:
		return
	case *kit.Button:
		l.add(o.Text)
	case *widget.Button:
		l.add(o.Text)
	case *widget.Label:
		l.add(o.Text)
	case *widget.Check:
		l.add(o.Text)
	case *widget.CheckGroup:
		l.add(o.Options...)
	case *kit.Select:
		l.add(o.Options...)
	case *widget.Select:
		l.add(o.Options...)
	case *canvas.Text:
		l.add(o.Text)
	case *container.AppTabs:
		for _, item := range o.Items {
			l.add(item.Text)
			l.within(item.Content)
		}
	}
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			l.within(c)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(o).Objects() {
			l.within(c)
		}
	}
}

// keysNamed are the keys that pages name, and what is no label: commands of the shell, and
// what is written into the picture that is traced.
var keysNamed = []string{"return", "escape", "ctrl", "shift", "tab", "home", "f", "f2", "k", "m", "+", "−", "strakewright licences", "ends"}

var quoted = regexp.MustCompile(`\*+([^*\n]+)\*+`)

// Every label that a page of the help quotes, in slanted letters, is one that the window
// shows.
func helpQuotesLabelsThatAreThere(t *testing.T, w *mainWindow, shown labels) {
	t.Helper()
	for _, m := range w.MainMenu().Items {
		shown.add(m.Label)
	}
	w.eachItem(func(_ string, m *fyne.MenuItem) { shown.add(m.Label) })
	missing, found := []string{}, 0
	for _, topic := range help.Topics("") {
		for _, m := range quoted.FindAllStringSubmatch(topic.Text, -1) {
			if strings.HasPrefix(m[0], "**") || slices.Contains(keysNamed, strings.ToLower(m[1])) {
				continue
			}
			found++
			if !shown[label(m[1])] {
				missing = append(missing, topic.ID+": "+m[1])
			}
		}
	}
	assert.Empty(t, missing)
	assert.Greater(t, found, 40)
}
