package welcome

import (
	"image/color"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/visible"
)

// Ways are the ways to begin that the page offers.
type Ways struct {
	Demo, NewHull, Open, Trace func()
	Recent                     func(path string)
	Left                       func(shown bool) // the page came, or went
}

// Page is what the window shows where no plan is given.
type Page struct {
	desk   *desk.Desk
	ways   Ways
	ground *canvas.Rectangle
	title  *canvas.Text
	recent *fyne.Container
	panels []*canvas.Rectangle // behind its parts
	demo   *picture
	root   *fyne.Container
	at     plan // in front of which it was shown
}

// plan is what tells one state of a plan from another.
type plan struct{ session, plan any }

// NewPage makes the page, out of sight.
func NewPage(d *desk.Desk, icon fyne.Resource, w Ways) *Page {
	p := &Page{desk: d, ways: w, ground: canvas.NewRectangle(color.Transparent), title: canvas.NewText("", color.Black), recent: container.NewVBox()}
	p.title.Text, p.title.TextSize, p.title.TextStyle.Bold = "Strakewright", 26, true
	mark := canvas.NewImageFromResource(icon)
	mark.FillMode = canvas.ImageFillContain
	mark.SetMinSize(fyne.NewSquareSize(56))
	head := container.NewHBox(mark, container.NewVBox(p.title,
		widget.NewLabel(tongue.T("Plans the planking of a wooden ship model, from the bare frames to the last strake."))))
	parts := container.New(&columns{left: 0.62, gap: partGap}, p.panel(p.waysPart()), p.panel(p.recentPart()))
	body := container.NewVBox(head, space(partGap), p.panel(p.demoPart()), space(partGap), parts, space(partGap), p.footPart())
	p.root = container.NewStack(p.ground, container.NewVScroll(container.New(&middle{wide: 960}, body)))
	p.root.Hide()
	d.Lazy = append(d.Lazy, p.sync)
	return p
}

// partGap is the room between the parts of the page.
const partGap = 12

// panel puts a ground behind a part of the page.
func (p *Page) panel(o fyne.CanvasObject) fyne.CanvasObject {
	ground := canvas.NewRectangle(color.Transparent)
	ground.CornerRadius, ground.StrokeWidth = 6, 1
	p.panels = append(p.panels, ground)
	return container.NewStack(ground, container.New(layout.NewCustomPaddedLayout(8, 10, 10, 10), o))
}

// space is room of so many units between two parts.
func space(high float32) fyne.CanvasObject {
	r := canvas.NewRectangle(color.Transparent)
	r.SetMinSize(fyne.NewSize(0, high))
	return r
}

// Object is the page.
func (p *Page) Object() fyne.CanvasObject { return p.root }

// Shown tells whether the page is in sight.
func (p *Page) Shown() bool { return p.root.Visible() }

// Show shows the page in front of the plan at hand.
func (p *Page) Show() {
	p.desk.Settle() // no key is to act on what is out of sight
	p.at = p.plan()
	p.fill()
	p.look()
	p.root.Show()
	p.demo.find()
	p.ways.Left(true)
}

// Hide shows the plan at hand again.
func (p *Page) Hide() {
	if p.Shown() {
		p.root.Hide()
		p.ways.Left(false)
	}
}

func (p *Page) plan() plan { return plan{p.desk.Session, p.desk.Plan()} }

// sync leaves the page once another plan, or a changed one, is at hand.
func (p *Page) sync() {
	p.look()
	if p.Shown() && p.at != p.plan() {
		p.Hide()
	}
}

// look brings the colours up to those of the theme.
func (p *Page) look() {
	ground, ink := theme.Color(theme.ColorNameBackground), theme.Color(theme.ColorNameForeground)
	if p.Shown() {
		p.demo.look()
	}
	if p.ground.FillColor != ground {
		p.ground.FillColor, p.title.Color = ground, ink
		p.ground.Refresh()
		p.title.Refresh()
		for _, r := range p.panels {
			r.FillColor, r.StrokeColor = p.desk.Palette().Colour(draw.Paper), theme.Color(theme.ColorNameSeparator)
			r.Refresh()
		}
	}
}

// way is a way to begin: a button, and what it leads to.
func (p *Page) way(name string, icon fyne.Resource, says string, do func()) fyne.CanvasObject {
	b := kit.NewButtonWithIcon(name, icon, do)
	b.Alignment = widget.ButtonAlignLeading
	p.desk.Explain(b, says)
	return container.New(&columns{left: 0.36, gap: 10}, b, wrapped(says))
}

func wrapped(text string) *widget.Label {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return l
}

func heading(text string) fyne.CanvasObject {
	return widget.NewLabelWithStyle(text, fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
}

// demoPart offers the demo, with its task.
func (p *Page) demoPart() fyne.CanvasObject {
	open := kit.NewButtonWithIcon(tongue.T("Open the demo ship"), theme.MediaPlayIcon(), p.ways.Demo)
	open.Importance = widget.HighImportance
	p.desk.Explain(open, tongue.T("Opens a copy of the demo ship, with a task of one minute"))
	says := wrapped(tongue.T("In the demo ship one band line is forced upwards: no strip of wood would lie along it. Drag its ringed handle down to the short dashes, until the mark beside it turns to ✓ and says that the strip, left to itself, settles along the line. It is a copy: nothing you do can spoil it."))
	p.demo = newPicture(p.desk)
	return container.New(&columns{left: 0.36, gap: 16},
		container.NewVBox(heading(tongue.T("New here? A task of one minute")), says, container.NewHBox(open)), p.demo.object)
}

// waysPart offers the other ways to begin.
func (p *Page) waysPart() fyne.CanvasObject {
	return container.NewVBox(heading(tongue.T("Begin with a ship of your own")),
		p.way(tongue.T("Open a file…"), theme.FolderOpenIcon(), tongue.T("A plan, or a hull from a drawing (SVG, DXF, PDF), a 3D model (STL, OBJ, 3MF) or a table."), p.ways.Open),
		p.way(tongue.T("New hull…"), theme.ContentAddIcon(), tongue.T("Type or paste what you measured: the girths of the frames on your bench, or points of their outlines."), p.ways.NewHull),
		p.way(tongue.T("Trace a picture…"), theme.MediaPhotoIcon(), tongue.T("Put a scan or photo of a body plan on the screen, and trace its frames."), p.ways.Trace))
}

// recentPart lists the files opened last.
func (p *Page) recentPart() fyne.CanvasObject {
	return container.NewVBox(heading(tongue.T("Opened last")), p.recent)
}

// fill lists them.
func (p *Page) fill() {
	var rows []fyne.CanvasObject
	for _, path := range p.desk.Recent() {
		b := kit.NewButtonWithIcon(shortened(visible.Text(filepath.Base(path))), theme.FileIcon(), func() { p.ways.Recent(path) })
		b.Alignment, b.Importance = widget.ButtonAlignLeading, widget.LowImportance
		p.desk.Explain(b, tongue.T("Opens %s", visible.Text(path)))
		rows = append(rows, b)
	}
	if len(rows) == 0 {
		rows = []fyne.CanvasObject{wrapped(tongue.T("Nothing yet. What you open or save is listed here; a file can also be dropped on the window."))}
	}
	p.recent.Objects = rows
	p.recent.Refresh()
}

// nameLong is how many letters of a file's name there is room for.
const nameLong = 34

// shortened leaves out the middle of a name that is too long.
func shortened(name string) string {
	letters := []rune(name)
	if len(letters) <= nameLong {
		return name
	}
	return string(letters[:nameLong/2]) + "…" + string(letters[len(letters)-nameLong/2:])
}

// skipKey keeps that the page is not wanted at the start.
const skipKey = "welcome.skip"

// Wanted tells whether the page is wanted at the start.
func (p *Page) Wanted() bool { return !p.desk.App.Preferences().Bool(skipKey) }

// footPart is how the page is left, and whether it comes again.
func (p *Page) footPart() fyne.CanvasObject {
	again := kit.NewCheck(tongue.T("Show this page when no plan is given"), func(on bool) { p.desk.App.Preferences().SetBool(skipKey, !on) })
	again.SetChecked(p.Wanted())
	leave := kit.NewButtonWithIcon(tongue.T("Go to the drawings"), theme.NavigateNextIcon(), p.Hide)
	p.desk.Explain(leave, tongue.T("Leaves this page (Escape); Help shows it again"))
	return container.NewBorder(nil, nil, kit.Tipped(again, tongue.T("Whether this page stands before the drawings when the program is started without a plan; Help shows it again too")), leave)
}

// columns lays two objects out side by side, the left one of a share of the width.
type columns struct{ left, gap float32 }

func (c *columns) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := (s.Width - c.gap) * c.left
	h0, h1 := s.Height, s.Height
	if _, ok := o[0].(*kit.Button); ok { // a button keeps its height
		h0 = o[0].MinSize().Height
	}
	o[0].Resize(fyne.NewSize(w, h0))
	o[0].Move(fyne.NewPos(0, 0))
	o[1].Resize(fyne.NewSize(s.Width-c.gap-w, h1))
	o[1].Move(fyne.NewPos(w+c.gap, 0))
}

func (c *columns) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(max(a.Width/c.left, b.Width/(1-c.left))+c.gap, max(a.Height, b.Height))
}

// middle lays an object out in the middle of what is wider, as wide as is well read.
type middle struct{ wide float32 }

func (m *middle) Layout(o []fyne.CanvasObject, s fyne.Size) {
	w := min(m.wide, s.Width-4*theme.InnerPadding())
	o[0].Resize(fyne.NewSize(w, o[0].MinSize().Height))
	top := max(theme.InnerPadding()*3, (s.Height-o[0].MinSize().Height)*0.3)
	o[0].Move(fyne.NewPos((s.Width-w)/2, top))
}

func (m *middle) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(o[0].MinSize().Width+4*theme.InnerPadding(), o[0].MinSize().Height+6*theme.InnerPadding())
}
