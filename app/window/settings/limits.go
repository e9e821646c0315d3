package settings

import (
	"math"
	"reflect"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// limitStep is how far a limit is set in at a press, mm.
const limitStep = 0.1

// limitsDialog sets the edges of the planked region. What is entered is a draft
// until it is applied, as one step.
type limitsDialog struct {
	desk  *desk.Desk
	was   hull.Limits // those that the draft was made from
	draft hull.Limits
	names []string // of the frames
	frame int      // the frame whose insets are shown
	busy  bool     // the widgets are brought up to date and report nothing

	upper, lower *kit.Field
	from, to     *kit.Select
	at           *kit.Select
	down, up     *kit.Number
	downName     *widget.Label
	upName       *widget.Label
	given        *fyne.Container
	told         *widget.Label
	apply        *kit.Button
	dialog       *dialog.CustomDialog
}

// SetLimits opens the dialog of the limits.
func SetLimits(d *desk.Desk) *limitsDialog {
	l := &limitsDialog{desk: d, frame: max(d.Choice.Frame, 0)}
	l.apply = kit.NewButtonWithIcon(tongue.T("Apply"), theme.ConfirmIcon(), l.applied)
	d.Explain(l.apply, tongue.T("Sets the limits of the plan to these, as one step"))
	l.apply.Importance = widget.HighImportance
	content := l.content()
	l.take()
	l.dialog = d.NewDialog(tongue.T("Limits"), content)
	l.dialog.SetButtons([]fyne.CanvasObject{d.Button(tongue.T("Close"), tongue.T("Leaves the limits as they are"), func() { l.dialog.Hide() }), l.apply})
	s := d.Win.Canvas().Size()
	l.dialog.Resize(fyne.NewSize(fyne.Min(620, s.Width*0.95), fyne.Min(640, s.Height*0.95)))
	l.dialog.Show()
	return l
}

// content is what can be set, with the list of insets below.
func (l *limitsDialog) content() fyne.CanvasObject {
	d := l.desk
	l.upper, l.lower = kit.NewField(), kit.NewField()
	l.upper.OnChanged = func(s string) { l.changed(func() { l.draft.Upper = strings.TrimSpace(s) }) }
	l.lower.OnChanged = func(s string) { l.changed(func() { l.draft.Lower = strings.TrimSpace(s) }) }
	l.from = l.frames(func(f int) { l.draft.From = l.end(f, 0) })
	l.to = l.frames(func(f int) { l.draft.To = l.end(f, len(l.names)-1) })
	l.at = l.frames(func(f int) {
		l.commit()
		l.frame = f
	})
	l.down, l.downName = l.inset(&l.draft.Down), widget.NewLabel("")
	l.up, l.upName = l.inset(&l.draft.Up), widget.NewLabel("")
	l.given = container.NewVBox()
	l.told = widget.NewLabel("")
	l.told.Wrapping = fyne.TextWrapWord
	how := widget.NewLabel(tongue.T("A limit runs through its insets as a batten does, and along the frames' ends where none is given. Its handles on the drawings move it too. Band lines keep their girths below the upper limit."))
	how.Wrapping = fyne.TextWrapWord
	head := container.NewVBox(
		kit.TippedRow(tongue.T("Upper limit"), tongue.T("What the upper limit is called: wale, sheer"), l.upper), kit.TippedRow(tongue.T("Lower limit"), tongue.T("What the lower limit is called: rabbet, keel"), l.lower),
		kit.TippedRow(tongue.T("Planked from frame"), tongue.T("The first frame that is planked"), l.from), kit.TippedRow(tongue.T("to frame"), tongue.T("The last frame that is planked"), l.to),
		widget.NewSeparator(),
		how,
		kit.TippedRow(tongue.T("Inset at frame"), tongue.T("The frame whose insets are set here"), l.at),
		kit.Tipped(container.New(&kit.RowLayout{}, l.downName, l.down.Box), tongue.T("How far the upper limit is set in on this frame")),
		kit.Tipped(container.New(&kit.RowLayout{}, l.upName, l.up.Box), tongue.T("How far the lower limit is set in on this frame")),
		kit.Heading(tongue.T("Insets given (%s of girth)", d.Units.Name())))
	return container.NewBorder(head, l.told, nil, nil, container.NewVScroll(l.given))
}

// frames makes a list of the frames to choose from.
func (l *limitsDialog) frames(set func(f int)) *kit.Select {
	s := kit.NewSelect(nil, nil)
	s.OnChanged = func(string) {
		if i := s.SelectedIndex(); i >= 0 {
			l.changed(func() { set(i) })
		}
	}
	return s
}

// inset makes the number of the frame's inset in a list of the draft; it is
// empty where none is given, and a step from there begins at 0.
func (l *limitsDialog) inset(list *[]hull.Inset) *kit.Number {
	get := func() float64 {
		if i := edit.InsetAt(*list, l.names[l.frame]); i >= 0 {
			return (*list)[i].MM
		}
		return math.NaN()
	}
	set := func(mm float64) bool {
		if mm < 0 {
			l.desk.Status(tongue.T("A limit can only be set in, by 0 or more, never out beyond the end of a frame."))
			return false
		}
		l.changed(func() { *list = edit.WithInset(*list, l.names[l.frame], mm, l.names) })
		return true
	}
	n := kit.NewLength(l.desk.Notices, &l.desk.Units, limitStep, get, set)
	n.Entry.SetPlaceHolder(tongue.In("inset", "none"))
	n.More.OnTapped = func() {
		if math.IsNaN(get()) {
			set(0)
		}
		n.By(limitStep)
	}
	return n
}

// end names the frame at which the planking ends: none for that at which it
// ends of itself.
func (l *limitsDialog) end(f, itself int) string {
	if f == itself {
		return ""
	}
	return l.names[f]
}

// take makes the draft that of the plan as it stands.
func (l *limitsDialog) take() {
	h := l.desk.Plan().Hull
	l.was = h.Limits
	l.draft = h.Limits
	l.draft.Down, l.draft.Up = slices.Clone(h.Limits.Down), slices.Clone(h.Limits.Up)
	l.names = edit.FrameNames(&h)
	l.frame = min(l.frame, len(l.names)-1)
	l.sync()
}

// changed makes a change to the draft and shows it.
func (l *limitsDialog) changed(f func()) {
	if l.busy {
		return
	}
	f()
	l.sync()
}

// sync shows the draft.
func (l *limitsDialog) sync() {
	l.busy = true
	defer func() { l.busy = false }()
	for _, e := range []struct {
		entry *kit.Field
		name  string
	}{{l.upper, l.draft.Upper}, {l.lower, l.draft.Lower}} {
		if strings.TrimSpace(e.entry.Text) != e.name {
			e.entry.SetText(e.name)
		}
	}
	choose := func(s *kit.Select, name string, otherwise int) {
		if !slices.Equal(s.Options, l.names) {
			s.SetOptions(l.names)
		}
		i := slices.Index(l.names, name)
		if i < 0 {
			i = otherwise
		}
		if s.SelectedIndex() != i {
			s.SetSelectedIndex(i)
		}
	}
	choose(l.from, l.draft.From, 0)
	choose(l.to, l.draft.To, len(l.names)-1)
	choose(l.at, l.names[l.frame], 0)
	l.downName.SetText(tongue.T("%s below the upper end (%s)", kit.SentenceStart(desk.LimitCalled(l.draft.Upper, tongue.T("upper limit"))), l.desk.Units.Name()))
	l.upName.SetText(tongue.T("%s above the lower end (%s)", kit.SentenceStart(desk.LimitCalled(l.draft.Lower, tongue.T("lower limit"))), l.desk.Units.Name()))
	l.down.Sync()
	l.up.Sync()
	l.listGiven()
	kit.SetText(l.told, l.tell())
	if l.open() {
		l.apply.Enable()
	} else {
		l.apply.Disable()
	}
}

// open tells whether the draft is not what the plan has.
func (l *limitsDialog) open() bool { return !reflect.DeepEqual(l.draft, l.was) }

// listGiven lists the insets, each with a button that removes it.
func (l *limitsDialog) listGiven() {
	l.given.RemoveAll()
	for _, side := range []struct {
		list *[]hull.Inset
		text func(frame, by string) string
	}{
		{&l.draft.Down, func(frame, by string) string {
			return tongue.T("Frame %s: %s %s below the upper end", frame, desk.LimitCalled(l.draft.Upper, tongue.T("upper limit")), by)
		}},
		{&l.draft.Up, func(frame, by string) string {
			return tongue.T("Frame %s: %s %s above the lower end", frame, desk.LimitCalled(l.draft.Lower, tongue.T("lower limit")), by)
		}},
	} {
		for _, in := range *side.list {
			text := side.text(in.Frame, l.desk.Units.Length(in.MM))
			remove := l.desk.Button(tongue.T("Remove"), tongue.T("Takes this inset away"), func() { l.changed(func() { *side.list = edit.WithoutInset(*side.list, in.Frame) }) })
			l.given.Add(container.NewBorder(nil, nil, nil, remove, kit.NewLabel(text)))
		}
	}
	if len(l.given.Objects) == 0 {
		l.given.Add(widget.NewLabel(tongue.T("None: the limits run along the ends of the frames.")))
	}
}

// tell says what the limits leave of the frame, as they were applied last.
func (l *limitsDialog) tell() string {
	k := l.desk.Layer()
	name, girth := l.names[l.frame], l.desk.Units.Length(k.Girths[l.frame])
	text := tongue.T("Frame %s has a girth of %s between the limits.", name, girth)
	if first, last := k.Surface.Planked(); l.frame < first || l.frame > last {
		text = tongue.T("Frame %s has a girth of %s between the limits, and is not planked.", name, girth)
	}
	if l.open() {
		return text + " " + tongue.T("Your changes here are not applied yet.")
	}
	return text
}

// commit takes over what is typed.
func (l *limitsDialog) commit() {
	busy := l.busy
	l.busy = false
	l.down.Commit()
	l.up.Commit()
	l.busy = busy
}

// applied puts the draft into the plan, as one step.
func (l *limitsDialog) applied() {
	l.commit()
	if !l.open() {
		return
	}
	if l.stale() {
		l.desk.Say(tongue.T("The limits have changed since they were shown here: they are shown anew, so set them once more."))
		l.take()
		return
	}
	if l.desk.Edit(tongue.T("set the limits"), edit.LimitsSet(l.draft)) {
		l.take()
		l.desk.Status(tongue.T("The limits are set; undo puts them back."))
	}
}

// stale tells whether the plan has other limits than those shown, as when they
// were taken back in the meantime.
func (l *limitsDialog) stale() bool {
	h := &l.desk.Plan().Hull
	return !reflect.DeepEqual(h.Limits, l.was) || len(h.Frames) != len(l.names)
}
