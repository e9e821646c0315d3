package window

import (
	"image"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/window/boards"
	"github.com/strakewright/strakewright/assets/tongue"
)

// Shown is what a picture of the window shows; the zero value is the window as it opens.
// A name that is none gives an error that lists those there are.
type Shown struct {
	Panes  []string // those in sight, by the words of paneWords, without the rows of buttons over and the status line under them; all where there is none
	Tab    string   // of tabWords
	Bench  string   // the part of the bench, of benchWords
	Stock  string   // the part of the panel of the wood, in place of the strakes, of stockWords
	Figure string   // what the strake table tells, of figureWords
	Layer  int      // from 1; 0 for the first
	Line   int      // the band line chosen, from 1 below the first band; 0 for the usual choice
	Strake string   // the strake chosen
	Frame  string   // the frame chosen
	From   string   // from where the hull is seen, of boards.Prospects
	Map    string   // what is shown on it, of boards.Maps
	Strip  bool     // a strip of what is chosen lies over the bare frames
	March  bool     // whole strips march out from the free lines
	Theme  string   // of themeWords
	Help   string   // a topic of the help beside the work
}

// The words by which parts of the window are named in Shown, each in the order in which
// they stand in the window.
var (
	paneWords   = []string{"profile", "gauge", "body", "hull", "tables", "settings"}
	tabWords    = []string{"line", "bands", "wood", "bench", "problems"}
	benchWords  = []string{"note", "remaining", "how-to", "order", "history"}
	stockWords  = []string{"compare", "mix", "wood", "mine", "cutting", "seams"}
	themeWords  = []string{"light", "dark"}
	figureWords = []string{"width", "width-on-frame", "upper-edge", "upper-bevel", "lower-bevel", "bench-width", "bench-change"}
)

// Picture draws the window on a session, so many pixels wide and high, with the
// toolkit's painter in memory: no display is needed. It is the window as it
// opens, or as shown says, without the row of menus and the frame that a desktop puts
// round it. Nothing is written, and no plan is marked as open. The error tells what is
// asked for that is not there, or that the theme's font cannot be read.
func Picture(s *app.Session, width, height int, shown Shown) (image.Image, error) {
	a := unseen{test.NewApp()}
	fyne.SetCurrentApp(a)
	w, err := made(a, s)
	if err != nil {
		return nil, err
	}
	defer w.Window.Close()
	w.desk.Patient = true // so that nothing is half done in it
	w.Show()
	w.Resize(fyne.NewSize(float32(width), float32(height)))
	if err := w.set(shown); err != nil {
		return nil, err
	}
	w.desk.Refresh()
	for _, o := range []fyne.CanvasObject{w.panel.tabs, w.tables, w.Hull} { // wrapped texts have found their height, and what is under them follows
		o.Refresh()
	}
	return w.Canvas().Capture(), nil
}

// set has the window show what is asked for.
func (w *mainWindow) set(shown Shown) error {
	if err := w.choose(shown); err != nil {
		return err
	}
	for _, t := range []struct {
		none, word string // what is said where there is no such word
		words      []string
		set        func(i int)
	}{
		{tongue.Mark("there is no tab %q: choose one of %s"), shown.Tab, tabWords, w.panel.tabs.SelectIndex},
		{tongue.Mark("there is no part of the bench %q: choose one of %s"), shown.Bench, benchWords, func(i int) {
			w.panel.tabs.SelectIndex(benchTab)
			w.panel.bench.Show(i)
		}},
		{tongue.Mark("there is no part of the stock %q: choose one of %s"), shown.Stock, stockWords, func(i int) {
			w.tables.SelectIndex(1)
			w.stock.Tabs.SelectIndex(i)
			w.stock.Sync()
			if i == 0 {
				w.desk.CompareWidths()
			}
		}},
		{tongue.Mark("there is no figure %q: choose one of %s"), shown.Figure, figureWords, w.table.pick.SetSelectedIndex},
		{tongue.Mark("there is no view %q: choose one of %s"), shown.From, boards.Prospects(), w.LookFrom},
		{tongue.Mark("there is no theme %q: choose one of %s"), shown.Theme, themeWords, func(i int) {
			if w.desk.Dark != (i == 1) {
				w.desk.SwitchLight()
			}
		}},
		{tongue.Mark("there is no map %q: choose one of %s"), shown.Map, boards.Maps(), w.Tint},
	} {
		if t.word == "" {
			continue
		}
		i, err := placeOf(t.none, t.word, t.words)
		if err != nil {
			return err
		}
		t.set(i)
	}
	if shown.Strip {
		w.LayStrip()
	}
	if shown.March {
		w.desk.ShowMarch(true)
	}
	if shown.Help != "" {
		w.showHelp(shown.Help)
	}
	return w.keepPanes(shown.Panes)
}

// keepPanes puts all panes away but some; none is to be put away where there are none.
func (w *mainWindow) keepPanes(words []string) error {
	if len(words) == 0 {
		return nil
	}
	in := make([]bool, len(paneWords))
	for _, word := range words {
		i, err := placeOf(tongue.Mark("there is no pane %q: choose one of %s"), word, paneWords)
		if err != nil {
			return err
		}
		in[i] = true
	}
	w.changePanes(func() { w.panes.show(in) })
	for _, round := range w.body.(*fyne.Container).Objects[1:] { // the row of buttons and the status line
		round.Hide()
	}
	w.body.Refresh()
	return nil
}

// choose chooses layer, line, strake and frame.
func (w *mainWindow) choose(shown Shown) error {
	d := w.desk
	c := d.Choice
	if n := shown.Layer; n != 0 {
		if n < 1 || n > len(d.Planking().Layers) {
			return tongue.Errorf("layer %d: the plan has %d", n, len(d.Planking().Layers))
		}
		c.Layer = n - 1
		c = c.WithLine(-1)
	}
	l := d.Planking().Layers[c.Layer]
	if n := shown.Line; n != 0 {
		if lines := len(l.Lines) - 2; n < 1 || n > lines {
			return tongue.Errorf("line %d: the layer has %d band lines", n, lines)
		}
		c = c.WithLine(n - 1)
	}
	if id := shown.Strake; id != "" {
		n := l.StrakeNamed(id)
		if n < 0 {
			return tongue.Errorf("strake %s: the layer has none of that name; the command strakes lists them", id)
		}
		c = c.WithStrake(n)
	}
	if name := shown.Frame; name != "" {
		f := d.Plan().Hull.FrameNamed(name)
		if f < 0 {
			return tongue.Errorf("frame %s: there is none of that name; the command girths lists them", name)
		}
		c = c.WithFrame(f)
	}
	d.Choose(c)
	return nil
}

// placeOf finds a word among some; none says that it is not there, and which are.
func placeOf(none, word string, words []string) (int, error) {
	i := slices.Index(words, word)
	if i < 0 {
		return i, tongue.Errorf(none, word, strings.Join(words, ", "))
	}
	return i, nil
}

// unseen is Fyne's app without a screen. It has no loop that runs what it is
// handed, so that fyne.Do is to run it at once: that is what the migration named
// fyneDo makes it do on the goroutine of main.
type unseen struct{ fyne.App }

// Metadata says that fyne.Do is used wherever it must be.
func (unseen) Metadata() fyne.AppMetadata {
	return fyne.AppMetadata{Migrations: map[string]bool{"fyneDo": true}}
}
