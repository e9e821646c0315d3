package welcome

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Guide is the card beside the work: it tells of the task while there is one, and
// otherwise gives hints.
type Guide struct {
	desk *desk.Desk
	task *task // or nil
	on   bool  // hints are given
	card *card
	seen *hint // on the card, or nil
	told state // on the card, of the task
	root *fyne.Container
}

// state is how far the task is.
type state uint8

const (
	noTask state = iota
	forced
	freed
)

// NewGuide makes the card, which shows nothing yet.
func NewGuide(d *desk.Desk) *Guide {
	g := &Guide{desk: d, card: newCard()}
	g.root = container.NewStack(g.card.object)
	g.root.Hide()
	d.Lazy = append(d.Lazy, g.Sync)
	d.Pull = func(line, frame int, down float64) float64 {
		if g.task == nil {
			return down
		}
		return g.task.pull(line, frame, down)
	}
	return g
}

// Object is what stands beside the work.
func (g *Guide) Object() fyne.CanvasObject { return g.root }

// Begin forces the line of the demo plan, which is at hand, and tells how to free it.
func (g *Guide) Begin() {
	t, err := newTask(g.desk)
	if err != nil {
		g.desk.Say(kit.Sentence(err))
		return
	}
	g.task, g.told = t, noTask
	g.Sync()
}

// Hint gives hints from now on, but those that were closed.
func (g *Guide) Hint() {
	g.on = true
	g.Sync()
}

// Again gives all hints again.
func (g *Guide) Again() {
	g.desk.App.Preferences().SetStringList(closedKey, nil)
	g.seen = nil
	g.Hint()
}

// Sync brings the card up to date.
func (g *Guide) Sync() {
	if t := g.task; t != nil && (g.desk.Session != t.of || g.desk.Plan().Layers[forcedLayer].Lines == nil ||
		g.desk.Plan().Layers[forcedLayer].Lines[forcedLine].LineType != hull.Least) {
		g.task = nil // another plan is at hand, or the line runs free
	}
	switch {
	case g.task != nil:
		g.seen = nil
		g.tellTask()
	case g.on:
		g.tellHint()
	default:
		g.show(false)
	}
}

// show has the card seen, or not.
func (g *Guide) show(on bool) {
	if on != g.root.Visible() {
		if on {
			g.root.Show()
		} else {
			g.root.Hide()
		}
	}
	g.card.look()
}

// tellTask tells how the strip lies now, what is to be done, and once it is done what
// comes next.
func (g *Guide) tellTask() {
	t, d := g.task, g.desk
	says, lies := t.verdict()
	if says == "" {
		if d.Grip != nil {
			return // a slow machine tells it when the handle is let go
		}
		says = tongue.T("choose line 1 on the drawings to go on")
	}
	now := forced
	if lies {
		now = freed
	}
	if now == freed {
		g.card.says(theme.NewSuccessThemedResource(theme.ConfirmIcon()), theme.ColorNameSuccess, kit.SentenceStart(says)+".",
			tongue.T("Done: laid along this line, a strip needs no force sideways. Let the line run free, and it stays so wherever you drag it. Strakes beside it may still need work, as the table tells: Lay all lines… shows better ways to share out the hull."))
	} else {
		g.card.says(theme.NewWarningThemedResource(theme.WarningIcon()), theme.ColorNameWarning, tongue.T("Line 1 is forced: %s.", says),
			tongue.T("A strip along it would have to be cut to shape: it does not bend so far sideways. Drag the ringed handle at frame %s down to the short dashes, until the mark beside it turns to ✓.", forcedFrame))
	}
	if now != g.told {
		g.told = now
		if now == freed {
			free := d.Button(tongue.T("Let it run free"), tongue.T("Makes it a free line, which a strip always follows unforced"), func() { settings.SetLineType(d, hull.Free) })
			free.Importance = widget.HighImportance
			g.card.offers(free, d.Button(tongue.T("Close"), tongue.T("Leaves the line through its handles, and closes this card"), g.leave))
		} else {
			g.card.offers(d.Button(tongue.T("Show me"), tongue.T("Moves the handle to where the strip lies; one Undo takes it back"), g.showMe),
				d.Button(tongue.T("Leave the task"), tongue.T("Closes this card"), g.leave))
		}
	}
	g.show(true)
}

// showMe moves the handle to where the strip lies by itself.
func (g *Guide) showMe() {
	t, d := g.task, g.desk
	d.Edit(tongue.T("move line 1 to where its strip lies at frame %s", forcedFrame), edit.MoveHandle(forcedLayer, forcedLine, t.frame, t.free))
	c := d.Choice
	c.Layer = forcedLayer
	d.Choose(c.WithLine(forcedLine).WithFrame(t.frame))
}

// leave ends the task.
func (g *Guide) leave() {
	g.task = nil
	g.Sync()
}

// tellHint gives the next hint.
func (g *Guide) tellHint() {
	p := g.desk.App.Preferences()
	h, number := nextHint(p)
	g.told = noTask
	if h != nil && h != g.seen {
		g.card.says(theme.NewPrimaryThemedResource(theme.InfoIcon()), theme.ColorNamePrimary, tongue.T(h.head), tongue.T(h.text))
		g.card.offers(widget.NewLabel(tongue.T("Hint %d of %d", number, len(hints))),
			g.desk.Button(tongue.T("Got it"), tongue.T("Closes this hint for good"), func() {
				closeHint(p, h)
				g.Sync()
			}),
			g.desk.Button(tongue.T("No more hints"), tongue.T("Closes them all; the Help menu brings them back"), func() {
				closeHints(p)
				g.Sync()
			}))
	}
	g.seen = h
	g.show(h != nil)
}
