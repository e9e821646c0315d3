package welcome

import (
	"cmp"
	"context"
	"io"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
)

// measured is a kind of table that a new hull is made of: how it begins, and a word on
// what goes into it.
type measured struct {
	name, says, begin string
	read              func(io.Reader, string) (*hull.Hull, error)
}

// kinds are the tables that can be typed in. What they begin with is invented.
var kinds = []measured{
	{tongue.Mark("Girths of the frames"), tongue.Mark("One line a frame, from bow to stern: its name, how far it stands from the first, and its girth from the upper limit of the planking down to the lower, measured with a strip of paper. Without points of the frames it is not known how a strip lies by itself."),
		"frame, x_mm, girth_mm\nstem, 0, 38\n1, 30, 52.5\n2, 70, 64\n3, 120, 66.5\n4, 170, 61\nstern, 215, 44\n", source.ReadGirths},
	{tongue.Mark("Points of the frames"), tongue.Mark("One line a point, each frame from the upper limit down, frames from bow to stern: the frame's name, x along the keel, y from the middle outwards, z upwards."),
		"frame, x_mm, y_mm, z_mm\n1, 0, 12, 40\n1, 0, 10, 24\n1, 0, 3, 8\n2, 60, 30, 36\n2, 60, 29, 20\n2, 60, 20, 7\n2, 60, 3, 2\n3, 120, 26, 38\n3, 120, 23, 20\n3, 120, 3, 4\n", source.ReadPoints},
}

// newTitle is what a new hull is called that is given no name.
func newTitle() string { return tongue.T("New hull") }

// typedName is what faults call a table that was typed in.
func typedName() string { return tongue.T("the table") }

// AskNewHull asks for a table of what was measured, and puts a plan of the hull that it
// makes in place of the one at hand, of whose changes it asks first. A table at fault
// stays, with the fault under it.
func AskNewHull(d *desk.Desk) {
	title := kit.NewField()
	title.SetText(newTitle())
	table := kit.NewField()
	table.MultiLine = true
	table.SetMinRowsVisible(11)
	says, fault := wrapped(tongue.T(kinds[0].says)), wrapped("")
	fault.Importance = widget.DangerImportance
	fault.Hide()
	at := 0
	names := []string{tongue.T(kinds[0].name), tongue.T(kinds[1].name)}
	kind := kit.NewSelect(names, nil)
	kind.OnChanged = func(string) {
		if now := kind.SelectedIndex(); table.Text == "" || table.Text == kinds[at].begin {
			at = now
			table.SetText(kinds[at].begin) // what was typed in stays
		} else {
			at = now
		}
		says.SetText(tongue.T(kinds[at].says))
	}
	kind.SetSelectedIndex(0)
	box := container.NewVBox(kit.Row(tongue.T("Name"), title), kit.Row(tongue.T("What is known"), kind), says, table,
		wrapped(tongue.T("These lines are only an example: put your own in their place, or paste them from a spreadsheet.")), fault)
	ask := newHullDialog{d: d, title: title, table: table, fault: fault, kind: func() *measured { return &kinds[at] }}
	ask.show(container.NewVScroll(box))
}

// newHullDialog is the dialog while it is open.
type newHullDialog struct {
	d            *desk.Desk
	title, table *kit.Field
	fault        *widget.Label
	kind         func() *measured
	shown        dialog.Dialog
}

func (n *newHullDialog) show(content fyne.CanvasObject) {
	q := n.d.Shown(tongue.T("A new hull"), content)
	n.shown = q
	leave := kit.NewButton(tongue.T("Cancel"), q.Hide)
	do := kit.NewButton(tongue.T("Make the hull"), n.make)
	do.Importance = widget.HighImportance
	n.d.Explain(leave, tongue.T("Leaves without a new hull"))
	n.d.Explain(do, tongue.T("Makes a plan of what stands in the table"))
	q.SetButtons([]fyne.CanvasObject{leave, do})
	s := n.d.Win.Canvas().Size()
	q.Resize(fyne.NewSize(min(620, s.Width*0.9), min(500, s.Height*0.92)))
	q.Show()
}

// make makes the hull, once the plan at hand may go, or says under the table why not. The
// dialog stays till then: what was typed is not lost.
func (n *newHullDialog) make() {
	h, err := n.kind().read(strings.NewReader(n.table.Text), typedName())
	if err != nil {
		n.refuse(err)
		return
	}
	n.d.AskFirst(tongue.T("begin a new hull"), func() {
		s, err := app.FromHull(context.Background(), cmp.Or(strings.TrimSpace(n.title.Text), newTitle()), *h)
		if err != nil {
			n.refuse(err)
			return
		}
		n.shown.Hide()
		n.d.Replace(s)
	})
}

func (n *newHullDialog) refuse(why error) {
	n.fault.SetText(kit.SentenceStart(kit.Sentence(why)))
	n.fault.Show()
}
