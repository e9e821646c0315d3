package paper

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// paperDialog is where paper for the bench is chosen, looked at and written.
type paperDialog struct {
	desk     *desk.Desk
	k        *loft.Planking // as it stood when the dialog opened
	settings export.Settings
	set      *export.Set // nil while it is being made, or where it cannot be
	making   context.CancelFunc
	changes  int // counts what is set, so that a set made too late is dropped

	roll     *kit.Number
	blocks   *blockChoice
	sections *kit.CheckGroup
	known    []string // the sections there are
	folder   *kit.Field
	preview  *paperPreview
	told     *widget.Label
	write    *kit.Button
	print    *kit.Button
	out      outside
	dialog   *dialog.CustomDialog
}

// paperNames are the papers as they are called.
var paperNames = map[export.Paper]string{
	export.A4: "A4", export.A3: "A3", export.Letter: tongue.Mark("Letter"), export.Legal: tongue.Mark("Legal"), export.Roll: tongue.Mark("Roll"),
}

const paperCaution = "print without scaling or fitting to the page, then measure the bars of 100 mm on a page; if they are off, enter above what they measure. Cut along a supported straight edge in several light scores, fingers behind the blade, away from the body. Sand with extraction and a mask. Makers' sheets and local rules come first."

// Open opens the dialog.
func Open(d *desk.Desk) *paperDialog {
	d.Settle()
	p := &paperDialog{desk: d, k: d.Planking(), settings: paperSettings(d.App.Preferences(), d.Plan()), out: newOutside(d.App)}
	p.settings.Date = d.Session.Date()
	p.settings.Layer = min(p.settings.Layer, len(p.k.Layers))
	p.dialog = d.NewDialog(tongue.T("Full-size paper"), p.content())
	p.write = kit.NewButtonWithIcon(tongue.T("Write the files"), theme.DocumentSaveIcon(), func() { p.start(false) })
	p.write.Importance = widget.HighImportance
	d.Explain(p.write, tongue.T("Writes the booklet and all sheets into the folder"))
	p.print = kit.NewButtonWithIcon(tongue.T("Print the booklet…"), theme.DocumentPrintIcon(), p.askPrint)
	d.Explain(p.print, tongue.T("Sends the booklet to a printer"))
	p.dialog.SetButtons([]fyne.CanvasObject{d.Button(tongue.T("Close"), tongue.T("Leaves without writing anything"), p.dialog.Hide), p.print, p.write})
	p.dialog.SetOnClosed(func() { p.changed(nil) })
	s := d.Win.Canvas().Size()
	p.dialog.Resize(fyne.NewSize(fyne.Min(980, s.Width*0.95), fyne.Min(760, s.Height*0.95)))
	p.dialog.Show()
	p.change(func(*export.Settings) {})
	return p
}

// content is the settings at the left and the page at the right.
func (p *paperDialog) content() fyne.CanvasObject {
	p.preview = newPaperPreview(p.desk)
	p.told = widget.NewLabel("")
	p.told.Wrapping = fyne.TextWrapWord
	unit := p.desk.Units.Name()
	settings := container.NewVScroll(container.New(layout.NewCustomPaddedLayout(0, 0, 0, 10), container.NewVBox(
		kit.TippedRow(tongue.T("Paper"), tongue.T("What paper the printer takes"), p.paper()),
		kit.TippedRow(tongue.T("Roll's width (%s)", unit), tongue.T("How wide the roll is"), p.rollWidth()),
		kit.Heading(tongue.T("A printed bar of 100 mm measures")),
		kit.TippedRow(tongue.T("Across the page (%s)", unit), tongue.T("What the bar across a printed page measures: the sheets are corrected by it"), p.length(0.1, func(s *export.Settings) *float64 { return &s.BarX }).Box),
		kit.TippedRow(tongue.T("Down the page (%s)", unit), tongue.T("What the bar down a printed page measures: the sheets are corrected by it"), p.length(0.1, func(s *export.Settings) *float64 { return &s.BarY }).Box),
		kit.Heading(tongue.T("What is drawn")),
		kit.TippedRow(tongue.T("Overhang (%s)", unit), tongue.T("How much longer shapes are drawn than the strake, to be trimmed"), p.length(1, func(s *export.Settings) *float64 { return &s.Overhang }).Box),
		kit.TippedRow(tongue.T("Layer"), tongue.T("Which layer is drawn"), p.layer()),
		kit.Tipped(p.cards(), tongue.T("Adds a card of figures for every frame to the tick strips, which show the same")),
		kit.Tipped(p.sectionList(), tongue.T("What is drawn: a section of the booklet each")),
		kit.Heading(tongue.T("Filler blocks")), p.blockList(),
	)))
	split := container.NewHSplit(settings, p.preview.object())
	split.SetOffset(0.46)
	return container.NewBorder(nil, container.NewVBox(p.told, p.folderEntry(), kit.Caution(tongue.T(paperCaution))), nil, nil, split)
}

func (p *paperDialog) paper() fyne.CanvasObject {
	var names []string
	for _, paper := range export.Papers {
		names = append(names, tongue.T(paperNames[paper]))
	}
	s := kit.NewSelect(names, nil)
	s.SetSelectedIndex(max(slices.Index(export.Papers, p.settings.Paper), 0))
	s.OnChanged = func(string) {
		p.change(func(now *export.Settings) { now.Paper = export.Papers[s.SelectedIndex()] })
		p.roll.Able(p.settings.Paper == export.Roll)
	}
	return s
}

func (p *paperDialog) rollWidth() fyne.CanvasObject {
	p.roll = p.length(10, func(s *export.Settings) *float64 { return &s.RollWidth })
	p.roll.Able(p.settings.Paper == export.Roll)
	return p.roll.Box
}

// length is a length among the settings.
func (p *paperDialog) length(stepMM float64, of func(*export.Settings) *float64) *kit.Number {
	n := kit.NewLength(p.desk.Notices, &p.desk.Units, stepMM, func() float64 { return *of(&p.settings) }, func(mm float64) bool {
		p.change(func(s *export.Settings) { *of(s) = mm })
		return true
	})
	n.Sync()
	return n
}

func (p *paperDialog) layer() fyne.CanvasObject {
	names := []string{tongue.In("layers", "all")}
	for n := range p.k.Layers {
		names = append(names, fmt.Sprint(n+1))
	}
	s := kit.NewSelect(names, nil)
	s.SetSelectedIndex(p.settings.Layer)
	s.OnChanged = func(string) {
		p.change(func(now *export.Settings) { now.Layer = s.SelectedIndex() })
	}
	return s
}

func (p *paperDialog) cards() fyne.CanvasObject {
	c := kit.NewCheck(tongue.T("Frame marking cards"), nil)
	c.SetChecked(p.settings.Cards)
	c.OnChanged = func(on bool) {
		p.change(func(s *export.Settings) {
			s.Cards = on
			if s.Sections != nil && on {
				s.Sections = append(s.Sections, tongue.T("Frame marking cards"))
			}
		})
	}
	return c
}

// sectionList is filled once the sections are known.
func (p *paperDialog) sectionList() fyne.CanvasObject {
	p.sections = kit.NewCheckGroup(func(chosen []string) {
		p.change(func(s *export.Settings) {
			s.Sections = chosen
			if len(chosen) == len(p.known) {
				s.Sections = nil
			}
		})
	})
	return p.sections.Box
}

// showSections lists the sections that there are; those of before stay chosen
// as they were.
func (p *paperDialog) showSections(all []string) {
	if slices.Equal(all, p.known) {
		return
	}
	var chosen []string
	for _, s := range all {
		if p.settings.Sections == nil || slices.Contains(p.settings.Sections, s) {
			chosen = append(chosen, s)
		}
	}
	p.known = all
	p.sections.Show(all, chosen)
}

func (p *paperDialog) folderEntry() fyne.CanvasObject {
	p.folder = kit.NewField()
	p.folder.SetText(filepath.Join(p.desk.Folder(), tongue.T("%s paper", p.desk.FileName())))
	browse := p.desk.Button(tongue.T("Folder…"), tongue.T("Chooses the folder that it is written beside"), func() {
		o := dialog.NewFolderOpen(func(dir fyne.ListableURI, err error) {
			if err == nil && dir != nil {
				p.folder.SetText(filepath.Join(dir.Path(), filepath.Base(p.folder.Text)))
			}
		}, p.desk.Win)
		kit.StartIn(o, p.desk.Folder())
		o.Resize(kit.DialogSize(p.desk.Win))
		o.Show()
	})
	return container.NewBorder(nil, nil, widget.NewLabel(tongue.T("Into the folder")), browse, kit.Tipped(p.folder, tongue.T("The folder that is made for the files")))
}

// change sets something and makes the pages anew, off the main goroutine.
func (p *paperDialog) change(f func(*export.Settings)) {
	f(&p.settings)
	keepPaperSettings(p.desk.App.Preferences(), p.settings)
	ctx, cancel := context.WithCancel(context.Background())
	p.changed(cancel)
	mine, k, s := p.changes, p.k, p.settings
	p.told.SetText(tongue.T("Laying out the pages…"))
	go func() {
		set, err := export.Make(ctx, k, s)
		p.desk.OnMain(func() {
			if mine == p.changes {
				p.made(set, err)
			}
		})
	}()
}

// changed drops what was being made.
func (p *paperDialog) changed(next context.CancelFunc) {
	if p.making != nil {
		p.making()
	}
	p.making, p.set = next, nil
	p.changes++
	kit.Able(false, p.write, p.print)
}

// made shows the pages, or says why there are none.
func (p *paperDialog) made(set *export.Set, err error) {
	if err != nil {
		p.told.SetText(kit.Sentence(err))
		p.preview.show(nil)
		return
	}
	p.set = set
	p.showSections(set.Sections())
	p.preview.show(set)
	p.told.SetText(tongue.Count(set.Pages(), "%d page, %.0f %% of its room used.", "%d pages, %.0f %% of their room used.", set.Pages(), 100*set.Use()) + " " + tongue.T("Beside the booklet: each section, every sheet for screens and cutters, and the tables."))
	if letters := set.Lacking(); letters != "" {
		p.told.SetText(p.told.Text + " " + answer.LackingText(letters))
	}
	kit.Able(true, p.write, p.print)
}

// start writes the files; replace writes over those that exist.
func (p *paperDialog) start(replace bool) {
	dir := strings.TrimSpace(p.folder.Text)
	switch {
	case dir == "":
		p.told.SetText(tongue.T("Name a folder to write into."))
	case p.set != nil:
		writePaper(p.desk, p.set, dir, replace, func() { p.start(true) }, func() {
			p.dialog.Hide()
			p.offerFolder(dir)
		})
	}
}
