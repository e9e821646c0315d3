package stock

import (
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// stockWood is the species and what soaking does to the run of a band.
type stockWood struct {
	desk                  *desk.Desk
	numbers               []*kit.Number
	laid, measured        float64 // percent; mm, 0 for none
	strips                int     // 0: the band's own
	told                  *widget.Label
	runs, woods           *figureTable
	runsRoom              fyne.CanvasObject
	table                 []hull.Wood // that comes with the program
	change, remove, adopt *kit.Button
}

func newStockWood(d *desk.Desk) *stockWood {
	w := &stockWood{desk: d, laid: loft.SoakedThrough, told: kit.Wrapped(""), table: hull.UsualWoods()}
	w.runs = newFigureTable(d, []string{tongue.T("wood"), tongue.T("sawn"), tongue.T("shrinkage"), tongue.T("swelling"), tongue.T("strip laid"), tongue.T("run laid"), tongue.T("run in the room"), tongue.T("seam opens")},
		[]string{"", "", "shrinkage", "swelling", "swelling", "run", "run", "opens"}, nil)
	w.woods = newFigureTable(d, []string{tongue.T("wood"), tongue.T("radial"), tongue.T("tangential"), tongue.T("whose"), tongue.T("source")}, []string{"", "shrinkage", "shrinkage", "", ""}, func(int) { w.sync() })
	w.woods.table.Enters(d.Notices, w.enter)
	w.adopt = d.Button(tongue.T("Lay it in this wood"), tongue.T("Makes the chosen wood that of the layer"), w.take)
	w.change = d.Button(tongue.T("Change…"), tongue.T("Changes a wood of your own"), func() { w.ask(w.own()) })
	w.remove = d.Button(tongue.T("Remove"), tongue.T("Takes away a wood of your own"), w.drop)
	return w
}

func (w *stockWood) object() fyne.CanvasObject {
	d := w.desk
	percentOf := func(what, tip string, of func(*hull.Moisture) *float64) fyne.CanvasObject {
		return kit.TippedRow(what, tip, w.number(kit.NewNumber(d.Notices, 1, plainNumber, func() float64 { m := moistureOf(d.Plan()); return *of(&m) }, func(v float64) bool {
			return editWood(d, tongue.T("set the moisture"), func(p *hull.Plan) {
				p.Moisture = moistureOf(p)
				*of(&p.Moisture) = v
			})
		})))
	}
	grid := container.NewGridWithColumns(2,
		percentOf(tongue.T("Bought at %"), tongue.T("The moisture of the wood as it is bought, in percent of its dry weight"), func(m *hull.Moisture) *float64 { return &m.Bought }),
		percentOf(tongue.T("Room at %"), tongue.T("The moisture that the wood comes to in the room where the model stands"), func(m *hull.Moisture) *float64 { return &m.Room }),
		kit.TippedRow(tongue.T("Laid at %"), tongue.T("The moisture of the strips as they are laid, in percent of their dry weight"), w.number(kit.NewNumber(d.Notices, 1, plainNumber, func() float64 { return w.laid }, func(v float64) bool { w.laid = max(v, 0); w.sync(); return true }))),
		kit.TippedRow(tongue.T("Strips"), tongue.T("How many strips lie side by side in the run"), w.number(kit.NewNumber(d.Notices, 1, kit.Whole, func() float64 { return float64(w.count()) }, func(v float64) bool { w.strips = max(int(v), 0); w.sync(); return true }))),
		kit.TippedRow(tongue.T("Run measured"), tongue.T("How wide the run measures wet; how much of that is swelling is told below"), w.number(kit.NewLength(d.Notices, &d.Units, 0.1, func() float64 {
			if w.measured == 0 {
				return math.NaN()
			}
			return w.measured
		}, func(mm float64) bool { w.measured = max(mm, 0); w.sync(); return true }))),
		container.NewHBox(asked(d, "swelling"), asked(d, "loose")))
	buttons := container.NewHBox(w.adopt, d.Button(tongue.T("Add your own…"), tongue.T("Adds a wood with its shrinkage"), func() { w.ask(-1) }), w.change, w.remove)
	w.runsRoom = kit.Tall(w.runs.shown, 130)
	return kit.Padded(container.NewVBox(grid, w.told, w.runsRoom,
		kit.Caution(tongue.T("hot water, steam and irons burn; keep leads and water apart. Let strips dry before they are glued. The dust of some woods is a sensitiser: extraction and a mask. Makers' sheets and local rules come first.")),
		container.NewHBox(kit.Heading(tongue.T("Woods")), asked(d, "shrinkage")), kit.Wrapped(tongue.T("The swelling above is reckoned for the wood chosen here, or else for that of the layer.")), buttons, kit.Tall(w.woods.shown, 190)))
}

func (w *stockWood) number(n *kit.Number) fyne.CanvasObject {
	w.numbers = append(w.numbers, n)
	return n.Box
}

// plainNumber writes a number as short as it is.
func plainNumber(v float64) string { return tongue.T("%g", desk.Hundredths(v)) }

// moistureOf is the plan's, or the usual.
func moistureOf(p *hull.Plan) hull.Moisture {
	if p.Moisture == (hull.Moisture{}) {
		return hull.NewMoisture()
	}
	return p.Moisture
}

// count is how many strips are soaked: those of the chosen band unless told.
func (w *stockWood) count() int {
	if w.strips > 0 {
		return w.strips
	}
	return w.desk.Layer().Bands[w.desk.Band()].Strakes
}

func (w *stockWood) sync() {
	d := w.desk
	for _, n := range w.numbers {
		n.Sync()
	}
	laid, species := w.laid, ""
	if i := w.woods.chosen; i >= 0 && i < len(w.woods.rows) {
		species = w.woods.rows[i][0]
	}
	s, err := answer.SwellingOf(d.Planking(), d.Choice.Layer, d.Band(), answer.Wetted{Strips: w.strips, Species: species, Laid: &laid, Measured: w.measured}, d.Units)
	if err != nil {
		w.told.SetText(kit.Sentence(err) + " " + tongue.T("Choose a wood below."))
		w.runs.set(nil)
	} else {
		text := tongue.T("Band %d of layer %d, %s: %s", s.Band, d.Choice.Layer+1, s.Species, s.Advice)
		if s.Measured == nil {
			text += " " + tongue.T("Enter a run measured as laid to see how much of it is swelling and how much loose fit.")
		}
		kit.SetText(w.told, text)
		w.runs.set(w.runRows(s))
	}
	kit.Show(w.runsRoom, err == nil)
	var rows [][]string
	for _, v := range d.Plan().Woods {
		rows = append(rows, woodRow(v, tongue.T("your own")))
	}
	for _, v := range w.table {
		rows = append(rows, woodRow(v, tongue.T("table")))
	}
	w.woods.set(rows)
	w.able()
}

func (w *stockWood) runRows(s answer.Swelling) [][]string {
	u := w.desk.Units
	var out [][]string
	for _, r := range s.Runs {
		out = append(out, []string{r.Wood, answer.SawnWord(r.Sawn), tongue.T("%.1f %%", r.Total), tongue.T("%.2f %%", r.Swelling), u.Number(r.StripLaid), u.Number(r.RunLaid), u.Number(r.RunRoom), u.Number(r.OpensEach)})
	}
	return out
}

func woodRow(v hull.Wood, whose string) []string {
	return []string{v.Name, tongue.T("%g %%", v.Radial), tongue.T("%g %%", v.Tangential), whose, v.Source}
}

// own is the index of the chosen wood among the plan's own, or -1.
func (w *stockWood) own() int {
	if i := w.woods.chosen; i >= 0 && i < len(w.desk.Plan().Woods) {
		return i
	}
	return -1
}

func (w *stockWood) able() {
	for b, on := range map[*kit.Button]bool{w.adopt: w.woods.chosen >= 0, w.change: w.own() >= 0, w.remove: w.own() >= 0} {
		if on {
			b.Enable()
		} else {
			b.Disable()
		}
	}
}

// take makes the chosen wood that of the layer.
func (w *stockWood) take() {
	if i := w.woods.chosen; i >= 0 {
		name := w.woods.rows[i][0]
		w.desk.Edit(tongue.T("set the wood"), edit.OnLayer(w.desk.Choice.Layer, func(l *hull.Layer) { l.Stock.Species = name }))
	}
}

// ask asks for a wood of the builder's own, to be added, or changed where it is
// the one of that index.
func (w *stockWood) ask(index int) {
	d := w.desk
	v := hull.Wood{Source: "own"}
	if index >= 0 {
		v = d.Plan().Woods[index]
	}
	name, radial, tangential, source := kit.NewField(), kit.NewField(), kit.NewField(), kit.NewField()
	radial.Validator, tangential.Validator = isNumber, isNumber
	name.Validator = func(s string) error {
		if strings.TrimSpace(s) == "" {
			return tongue.New("name the wood")
		}
		return nil
	}
	name.SetText(v.Name)
	source.SetText(v.Source)
	if index >= 0 {
		radial.SetText(tongue.T("%g", v.Radial))
		tangential.SetText(tongue.T("%g", v.Tangential))
	}
	items := []*widget.FormItem{
		{Text: tongue.T("Name"), Widget: kit.TippedField(name, tongue.T("What the wood is called in the plan"))},
		{Text: tongue.T("Radial shrinkage, %"), Widget: kit.TippedField(radial, tongue.T("How much the wood shrinks across the growth rings, from green to oven dry")), HintText: tongue.T("green to oven dry, across quarter-sawn strips")},
		{Text: tongue.T("Tangential, %"), Widget: kit.TippedField(tangential, tongue.T("How much it shrinks along the growth rings, from green to oven dry")), HintText: tongue.T("across flat-sawn strips")},
		{Text: tongue.T("Source"), Widget: kit.TippedField(source, tongue.T("Where the figures come from"))},
	}
	form := d.AskForm(tongue.T("A wood of your own"), tongue.T("Keep it"), items, func() {
		v.Name, v.Source = strings.TrimSpace(name.Text), strings.TrimSpace(source.Text)
		w.put(index, v, radial.Text, tangential.Text)
	})
	form.Resize(fyne.NewSize(420, 300))
	form.Show()
}

// put adds a wood, or changes that of an index.
func (w *stockWood) put(index int, v hull.Wood, radial, tangential string) bool {
	var err error
	if v.Radial, err = kit.ParseNumber(radial); err == nil {
		v.Tangential, err = kit.ParseNumber(tangential)
	}
	if err != nil {
		w.desk.Say(kit.Sentence(err))
		return false
	}
	return editWood(w.desk, tongue.T("set a wood"), ownWood(index, v))
}

// ownWood puts a wood among the plan's own, in the place of that of an index.
func ownWood(index int, v hull.Wood) func(*hull.Plan) {
	return func(p *hull.Plan) {
		p.Woods = slices.Clone(p.Woods)
		if index >= 0 && index < len(p.Woods) {
			p.Woods[index] = v
		} else {
			p.Woods = append(p.Woods, v)
		}
	}
}

// enter has the shrinkage of a wood of the builder's own entered in its cell, and opens the
// form for what is no figure.
func (w *stockWood) enter(id widget.TableCellID, cell fyne.CanvasObject, first string) {
	d, index := w.desk, w.woods.at(id.Row)
	if index < 0 || index >= len(d.Plan().Woods) {
		d.Status(tongue.T("The figures of the table of woods stay: add a wood of your own to have others."))
		return
	}
	v := d.Plan().Woods[index]
	of := map[int]*float64{1: &v.Radial, 2: &v.Tangential}[id.Col]
	if of == nil {
		w.ask(index)
		return
	}
	stands := tongue.T("%g", *of)
	d.EnterOver(cell, stands, first, tongue.T("%s (%s). Return enters it, Escape cancels.", kit.SentenceStart(w.woods.heads[id.Col]), "%"), func(text string) error {
		if text == stands {
			return nil
		}
		percent, err := kit.ParseNumber(text)
		if err != nil {
			return err
		}
		*of = percent
		return d.TryEdit(tongue.T("set a wood"), woodEdit(ownWood(index, v)))
	})
}

func (w *stockWood) drop() {
	if i := w.own(); i >= 0 {
		editWood(w.desk, tongue.T("remove a wood"), func(p *hull.Plan) { p.Woods = slices.Delete(slices.Clone(p.Woods), i, i+1) })
	}
}
