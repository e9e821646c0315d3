package photo

import (
	"context"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/picture"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
	"github.com/strakewright/strakewright/loft/sight"
)

// photo is the window in which a photo is read: of one side, layer and band. It is
// used on the main goroutine alone.
type photo struct {
	*kit.Background // of this window
	*kit.Look
	main          *desk.Desk
	side          hull.Side
	layerAt, band int // from 0

	pic     *trace.Picture // nil before one is opened
	cropped bool
	snap    bool
	lens    bool

	of     *loft.Planking // the rows were offered of it
	rows   []row
	group  group
	at     int               // the row to be marked; −1 for none
	chosen string            // its key
	set    map[string]marked // by key
	order  []string          // keys, as they were marked
	fresh  bool              // something was marked since it was noted

	seen  *sight.Seen // what the marks tell; nil where they tell nothing yet
	told  answer.Photo
	lack  string          // why they tell nothing
	slips map[string]bool // known places left out of account

	board  *photoBoard
	panel  *panel
	left   fyne.CanvasObject // what stands beside the board
	foot   *widget.Label
	closed func()
}

// The size at which the window opens.
const firstWidth, firstHeight = 1280, 700

// Photos is where photos are read beside a board.
type Photos struct {
	Main *desk.Desk
	open *photo // nil while none is read
}

// Show opens the window for the side and band at hand, or brings it up.
func (ps *Photos) Show() {
	d := ps.Main
	if ps.open == nil {
		ps.open = newPhoto(d, d.Bench.Side, d.Choice.Layer, d.Band())
		ps.open.closed = func() { ps.open = nil }
	}
	ps.open.changed()
	ps.open.Win.Show()
	ps.open.Win.RequestFocus()
}

// Follow has the window follow the plan.
func (ps *Photos) Follow() {
	if ps.open != nil && ps.Main.Grip == nil && ps.open.of != ps.Main.Planking() {
		ps.open.changed()
	}
}

// Holds asks, before the board closes, about marks that would be lost; then closes
// the window and goes on. It is false where nothing is open.
func (ps *Photos) Holds(then func()) bool {
	if ps.open == nil {
		return false
	}
	ps.open.leave(then)
	return true
}

func newPhoto(main *desk.Desk, side hull.Side, layer, band int) *photo {
	win := main.App.NewWindow(tongue.T("%s: read a photo", main.Win.Title()))
	p := &photo{
		Background: kit.NewBackground(main.Life, win), Look: main.Look, main: main, side: side, layerAt: layer, band: band,
		snap: true, lens: true, at: -1, set: map[string]marked{}, closed: func() {},
	}
	p.OnMain = main.OnMain
	p.foot = widget.NewLabel("")
	p.foot.Truncation = fyne.TextTruncateEllipsis
	p.Status = p.foot.SetText
	p.board = newPhotoBoard(p)
	p.panel = newPanel(p)
	p.Win.SetPadded(false)
	p.left = p.panel.content()
	p.Win.SetContent(p.WithTips(container.NewBorder(nil, p.foot, p.left, nil, p.board)))
	p.Win.SetMainMenu(p.menu())
	p.Win.Resize(fyne.NewSize(firstWidth, firstHeight))
	p.Win.SetCloseIntercept(func() { p.leave(func() {}) })
	p.Win.SetOnDropped(func(_ fyne.Position, files []fyne.URI) {
		if len(files) > 0 && p.Win.Canvas().Overlays().Top() == nil {
			p.openAt(files[0].Path())
		}
	})
	p.Win.Canvas().SetOnTypedKey(p.typed)
	p.take(ends)
	return p
}

// typed takes the keys that no widget has.
func (p *photo) typed(e *fyne.KeyEvent) {
	if !p.windowKey(e.Name) && !p.DialogKey(e) {
		p.board.TypedKey(e)
	}
}

// windowKey does what a key does wherever the focus is, and tells whether it does anything.
func (p *photo) windowKey(key fyne.KeyName) bool {
	return kit.KeyAnywhere(key, p.Win.Canvas(), func() { p.main.Help(p.Notices, "photo") }, p.left, p.board)
}

// menu is the window's menu, for the keys: all of it stands beside the photo too.
func (p *photo) menu() *fyne.MainMenu {
	open, leave := fyne.NewMenuItem(tongue.T("Open a photo…"), p.openPicture), fyne.NewMenuItem(tongue.T("Close"), func() { p.leave(func() {}) })
	open.Shortcut = kit.NewShortcut(fyne.KeyO, fyne.KeyModifierShortcutDefault)
	leave.Shortcut = kit.NewShortcut(fyne.KeyW, fyne.KeyModifierShortcutDefault)
	leave.IsQuit = true
	group := fyne.NewMenuItem(tongue.T("Mark the next kind of places"), func() { p.take((p.group + 1) % groups) })
	group.Shortcut = kit.NewShortcut(fyne.KeyTab, fyne.KeyModifierControl)
	return fyne.NewMainMenu(fyne.NewMenu(tongue.T("Photo"), open, fyne.NewMenuItem(tongue.T("Note the readings"), p.note), leave),
		fyne.NewMenu(tongue.T("View"), fyne.NewMenuItem(tongue.T("Show the whole photo"), p.board.Fit), group))
}

// layer is the layer that is read.
func (p *photo) layer() *loft.Layer {
	return p.main.Planking().Layers[p.layerAt]
}

// states are those of the side that is read.
func (p *photo) states() []progress.BandState {
	if !p.main.Bench.Reckon() {
		return nil
	}
	var out []progress.BandState
	for _, s := range p.main.Bench.On[p.side] {
		if s.Layer == p.layerAt+1 {
			out = append(out, s)
		}
	}
	return out
}

// changed brings the window up to date: what is offered follows the plan, and what is
// told the marks.
func (p *photo) changed() {
	if now := p.main.Planking(); p.of != now {
		key := ""
		if p.of != nil && p.at >= 0 {
			key = p.chosen
		}
		p.layerAt = min(p.layerAt, len(now.Layers)-1) // the plan may have fewer by now
		p.band = min(p.band, len(p.layer().Bands)-1)
		p.of, p.rows, p.at = now, p.offered(), -1
		for i := range p.rows {
			if p.key(&p.rows[i]) == key {
				p.at = i
			}
		}
		if p.at < 0 {
			p.next(false)
		}
	}
	p.chosen = ""
	if p.at >= 0 {
		p.chosen = p.key(&p.rows[p.at])
	}
	p.read()
	p.board.Changed()
	p.panel.Update()
	p.Status(p.prompt())
}

// read reckons what the marks tell.
func (p *photo) read() {
	p.seen, p.lack, p.slips, p.told = nil, "", map[string]bool{}, answer.Photo{}
	if p.pic == nil {
		return
	}
	m, known := p.marks()
	seen, err := sight.Read(p.of, p.side, p.layerAt, p.band, p.states(), m, sight.UsualCare())
	if err != nil {
		p.lack = kit.Sentence(err)
		return
	}
	p.seen, p.told = seen, answer.PhotoOf(p.of, p.side, p.layerAt, p.band, &m, seen, p.main.Units)
	for _, i := range append(append([]int{}, seen.Slips...), seen.Unclear...) {
		p.slips[known[i]] = true
	}
}

// prompt tells what is to be done next.
func (p *photo) prompt() string {
	switch {
	case p.pic == nil:
		return tongue.T("Open a photo of the half-planked hull: PNG or JPEG.")
	case p.at < 0:
		return tongue.T("Nothing of this kind can be marked here.")
	}
	if _, ok := p.set[p.chosen]; ok {
		return tongue.T("Marked: %s. A click moves it; Enter goes on to the next.", p.name(&p.rows[p.at]))
	}
	return tongue.T("Click: %s. Enter skips one that cannot be seen.", p.name(&p.rows[p.at]))
}

// openPicture asks for a picture.
func (p *photo) openPicture() {
	p.AskFile(p.main.Folder(), kit.Extensions(trace.Endings...), p.openAt)
}

// openAt reads a picture, which can be stopped. The marks of another are given up.
func (p *photo) openAt(path string) {
	load := func() {
		var pic *trace.Picture
		p.Work(tongue.T("Opening %s…", filepath.Base(path)), func(ctx context.Context) (err error) {
			pic, err = trace.Open(ctx, path, 1)
			return err
		}, func() {
			p.pic, p.set, p.order, p.fresh = pic, map[string]marked{}, nil, false
			p.take(ends)
			p.board.Fit()
		})
	}
	if p.pic == nil || !p.fresh {
		load()
		return
	}
	p.Confirm(tongue.T("Open another photo?"), tongue.T("The marks in this one would be lost."), tongue.T("Open it"), load)
}

// How a hand sets a mark, in board units as standard errors: under the magnifier, and
// along a line onto which it is then drawn.
const (
	handError  = 0.5
	alongError = 1.5
)

// placed is a mark at a place of the picture; free leaves the snap out.
func (p *photo) placed(at trace.Point, r *row, free bool) (sight.Mark, bool) {
	if p.snap && !free {
		reach := p.board.Pixels(picture.SnapReach, at)
		for _, reach := range []float64{reach / 3, reach} { // what lies close comes first
			if r.group == ends {
				if to, ok := p.pic.SnapCorner(at, reach); ok {
					return sight.Clicked(to.X, to.Y), true
				}
				continue
			}
			if to, heading, ok := p.pic.SnapLine(at, reach); ok {
				return sight.Snapped(to.X, to.Y, heading, p.board.Pixels(alongError, at)), true
			}
		}
	}
	m := sight.Clicked(at.X, at.Y)
	hand := max(m.Across, p.board.Pixels(handError, at))
	m.Across, m.Along = hand, hand
	return m, false
}

// click marks the chosen row there and goes on to the next.
func (p *photo) click(at trace.Point, free bool) {
	if p.pic == nil || p.at < 0 || !p.pic.Holds(at) {
		return
	}
	_, again := p.set[p.chosen]
	p.put(at, free)
	if !again {
		p.next(false)
	}
	p.changed()
}

// put marks the chosen row.
func (p *photo) put(at trace.Point, free bool) {
	r := p.rows[p.at]
	x, ok := p.set[p.chosen]
	if !ok {
		x = marked{row: r, face: sight.OnFrame}
		if r.group != edges {
			x.face = sight.UsualFace(p.layer(), p.states(), r.known.What, r.known.Frame)
		}
		p.order = append(p.order, p.chosen)
	}
	x.mark, x.snapped = p.placed(at, &r, free)
	p.set[p.chosen], p.fresh = x, true
}

// unmark takes a mark away, and chooses its row.
func (p *photo) unmark(key string) {
	if _, ok := p.set[key]; !ok {
		return
	}
	delete(p.set, key)
	for i, k := range p.order {
		if k == key {
			p.order = append(p.order[:i:i], p.order[i+1:]...)
			break
		}
	}
	p.choose(key)
}

// choose chooses a row by its key.
func (p *photo) choose(key string) {
	for i := range p.rows {
		if p.key(&p.rows[i]) == key {
			p.group, p.at = p.rows[i].group, i
		}
	}
	p.changed()
}

// entries are the readings as they are noted.
func (p *photo) entries() []hull.Entry {
	if p.seen == nil || !p.told.Read {
		return nil
	}
	out := answer.PhotoEntries(p.of, p.layerAt, p.band, p.seen, "")
	for i := range out {
		out[i].Date = p.main.Bench.Date
	}
	return out
}

// note puts the readings into the record, as one step.
func (p *photo) note() {
	list := p.entries()
	if len(list) == 0 {
		return
	}
	if !p.main.Bench.NoteTo(p.side, list...) {
		return
	}
	p.fresh = false
	p.changed()
	side := desk.ToSide(p.side)
	p.Status(tongue.Count(len(list), "%d reading is noted %s, under %s.", "%d readings are noted %s, under %s.", len(list), side, tongue.Day(p.main.Bench.Date)))
}

// leave closes the window, after asking about marks that would be lost, and goes on.
func (p *photo) leave(then func()) {
	end := func() {
		p.end()
		then()
	}
	if !p.fresh {
		end()
		return
	}
	p.Win.RequestFocus()
	p.Confirm(tongue.T("Leave the photo?"), tongue.T("What you have marked is not noted yet, and would be lost."), tongue.T("Leave it"), end)
}

func (p *photo) end() {
	p.Background.Leave()
	p.closed()
	p.Win.SetCloseIntercept(nil)
	p.Win.Close()
}
