package stock

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// stockBox is the strips and the sheet wood at hand and on sale, and the rules of
// cutting.
type stockBox struct {
	desk                *desk.Desk
	box, shop           *stripsTable
	sheetBox, sheetShop *stripsTable
	numbers             []*kit.Number
	laying              *kit.Select
	start               *kit.Field    // where laying outward begins
	started             string        // as last shown
	begins              *widget.Label // what comes of that
	quiet               bool
}

// stripsTable is the box or the shop, of strips or of sheets.
type stripsTable struct {
	desk   *desk.Desk
	sold   bool
	sheets bool
	texts  stripsTexts
	wood   woodList
	table  *figureTable
	change *kit.Button
	remove *kit.Button
}

func newStockBox(d *desk.Desk) *stockBox {
	return &stockBox{desk: d,
		box:  newStripsTable(d, false, false, stripList(func(p *hull.Plan) *[]hull.Strips { return &p.Box })),
		shop: newStripsTable(d, true, false, stripList(func(p *hull.Plan) *[]hull.Strips { return &p.Shop })),

		sheetBox:  newStripsTable(d, false, true, sheetList(func(p *hull.Plan) *[]hull.Sheet { return &p.SheetBox })),
		sheetShop: newStripsTable(d, true, true, sheetList(func(p *hull.Plan) *[]hull.Sheet { return &p.SheetShop })),
	}
}

func newStripsTable(d *desk.Desk, sold, sheets bool, wood woodList) *stripsTable {
	t := &stripsTable{desk: d, sold: sold, sheets: sheets, texts: textsOf(sold, sheets), wood: wood}
	heads := []string{tongue.T("how many"), tongue.T("width"), tongue.T("thickness"), tongue.T("length"), tongue.T("wood")}
	if sheets {
		heads[3] = tongue.T("along the grain")
	}
	if sold {
		heads = append(heads, tongue.T("price of one"))
	}
	t.table = newFigureTable(d, heads, make([]string, len(heads)), func(int) { t.able() })
	t.table.table.Enters(d.Notices, t.enter)
	t.change = d.Button(tongue.T("Change…"), t.texts.change, func() { t.ask(t.table.chosen) })
	t.remove = d.Button(tongue.T("Remove"), t.texts.remove, t.drop)
	return t
}

func (t *stripsTable) object() fyne.CanvasObject {
	add := t.desk.Button(tongue.T("Add…"), t.texts.add, func() { t.ask(-1) })
	return container.NewVBox(container.NewHBox(kit.Heading(t.texts.title), add, t.change, t.remove), kit.Tall(t.table.shown, 84))
}

// stripsTexts is what is said of such a table, in whole sentences.
type stripsTexts struct {
	title, form         string
	add, change, remove string // tips
	set, drop           string // steps
}

func textsOf(sold, sheets bool) stripsTexts {
	t := stripsTexts{change: tongue.T("Changes the chosen strips"), remove: tongue.T("Takes the chosen strips away")}
	if sheets {
		t = stripsTexts{change: tongue.T("Changes the chosen sheets"), remove: tongue.T("Takes the chosen sheets away")}
	}
	switch {
	case sheets && sold:
		t.title, t.form = tongue.T("Suppliers: sheets on sale"), tongue.T("Sheets of one kind, the suppliers'")
		t.add = tongue.T("Adds sheets of one kind and size to the suppliers'")
		t.set, t.drop = tongue.T("set sheets, the suppliers'"), tongue.T("take out sheets, the suppliers'")
	case sheets:
		t.title, t.form = tongue.T("My sheets, used first"), tongue.T("Sheets of one kind, your own wood")
		t.add = tongue.T("Adds sheets of one kind and size to your own wood")
		t.set, t.drop = tongue.T("set sheets, your own wood"), tongue.T("take out sheets, your own wood")
	case sold:
		t.title, t.form = tongue.T("Suppliers: strips on sale"), tongue.T("Strips of one kind, the suppliers'")
		t.add = tongue.T("Adds strips of one kind and size to the suppliers'")
		t.set, t.drop = tongue.T("set strips, the suppliers'"), tongue.T("take out strips, the suppliers'")
	default:
		t.title, t.form = tongue.T("My strips, used first"), tongue.T("Strips of one kind, your own wood")
		t.add = tongue.T("Adds strips of one kind and size to your own wood")
		t.set, t.drop = tongue.T("set strips, your own wood"), tongue.T("take out strips, your own wood")
	}
	return t
}

func (t *stripsTable) sync() {
	u := t.desk.Units
	var rows [][]string
	for _, s := range t.wood.all(t.desk.Plan()) {
		count := strconv.Itoa(s.Count)
		if s.Count == hull.AsMany {
			count = tongue.T("as many as wanted")
		}
		r := []string{count, u.Number(s.Width), u.Number(s.Thickness), u.Long(s.Length), orAny(s.Species)}
		if t.sold {
			price := tongue.T("not known")
			if s.Price > 0 {
				price = tongue.T("%.2f", s.Price)
			}
			r = append(r, price)
		}
		rows = append(rows, r)
	}
	t.table.set(rows)
	t.able()
}

func orAny(species string) string {
	if species == "" {
		return tongue.T("any")
	}
	return species
}

func (t *stripsTable) able() {
	for _, b := range []*kit.Button{t.change, t.remove} {
		if t.table.chosen >= 0 {
			b.Enable()
		} else {
			b.Disable()
		}
	}
}

// stripsForm is what is typed of strips.
type stripsForm struct{ count, width, thickness, length, species, price *kit.Field }

// ask asks for strips to add, or to change where they are those of that index.
func (t *stripsTable) ask(index int) {
	d := t.desk
	own := d.PlanLayer().Stock
	s := hull.Strips{Width: own.Width, Thickness: own.Thickness, Length: own.Length, Species: own.Species, Count: 10}
	if t.sheets {
		usual := hull.UsualSheet(own.Thickness, own.Species)
		s.Width, s.Length = usual.Width, usual.Length
	}
	if t.sold {
		s.Count = hull.AsMany
	}
	if all := t.wood.all(d.Plan()); index >= 0 && index < len(all) {
		s = all[index]
	}
	f := newStripsForm(s, t.sold, d.Units)
	unit := d.Units.Name()
	items := []*widget.FormItem{
		{Text: tongue.T("How many"), Widget: kit.TippedField(f.count, tongue.T("How many of this kind and size there are"))},
		{Text: tongue.T("Width (%s)", unit), Widget: kit.TippedField(f.width, tongue.T("How wide each is, across the grain"))},
		{Text: tongue.T("Thickness (%s)", unit), Widget: kit.TippedField(f.thickness, tongue.T("How thick each is"))},
		{Text: tongue.T("Length (%s)", unit), Widget: kit.TippedField(f.length, tongue.T("How long each is, along the grain"))},
		{Text: tongue.T("Wood"), Widget: kit.TippedField(f.species, tongue.T("The species, as the plan names it")), HintText: tongue.T("left empty: any")},
	}
	if t.sold {
		items[0].HintText = tongue.T("left empty: as many as wanted")
		items = append(items, &widget.FormItem{Text: tongue.T("Price of one"), Widget: kit.TippedField(f.price, tongue.T("What one costs, in any currency")), HintText: tongue.T("left empty: not known")})
	}
	if t.sheets {
		items[3].HintText = tongue.T("along the grain")
	}
	form := d.AskForm(t.texts.form, tongue.T("Keep them"), items, func() {
		t.put(index, s, f)
	})
	form.Resize(fyne.NewSize(420, 340))
	form.Show()
}

func newStripsForm(s hull.Strips, sold bool, u views.Units) *stripsForm {
	f := &stripsForm{kit.NewField(), kit.NewField(), kit.NewField(), kit.NewField(), kit.NewField(), kit.NewField()}
	for e, mm := range map[*kit.Field]float64{f.width: s.Width, f.thickness: s.Thickness, f.length: s.Length} {
		e.SetText(u.Number(mm))
	}
	if s.Count != hull.AsMany {
		f.count.SetText(strconv.Itoa(s.Count))
	}
	for _, e := range []*kit.Field{f.width, f.thickness, f.length} {
		e.Validator = isNumber
	}
	f.count.Validator, f.price.Validator = emptyOr(isNumber), emptyOr(isNumber)
	if !sold {
		f.count.Validator = isNumber
	}
	f.species.SetText(s.Species)
	if s.Price > 0 {
		f.price.SetText(tongue.T("%g", s.Price))
	}
	return f
}

// columns are its fields, in the order of the table's columns.
func (f *stripsForm) columns() []*kit.Field {
	return []*kit.Field{f.count, f.width, f.thickness, f.length, f.species, f.price}
}

// enter has a figure of strips entered in its cell. The wood, which is no figure, is
// changed in the form.
func (t *stripsTable) enter(id widget.TableCellID, cell fyne.CanvasObject, first string) {
	index, all := t.table.at(id.Row), t.wood.all(t.desk.Plan())
	if index < 0 || index >= len(all) {
		return
	}
	f := newStripsForm(all[index], t.sold, t.desk.Units)
	field := f.columns()[id.Col]
	if field == f.species {
		t.ask(index)
		return
	}
	stands, head := field.Text, kit.SentenceStart(t.table.heads[id.Col])
	asks := tongue.T("%s (%s). Return enters it, Escape cancels.", head, t.desk.Units.Name())
	if field == f.count || field == f.price {
		asks = tongue.T("%s. Return enters it, Escape cancels.", head)
	}
	t.desk.EnterOver(cell, stands, first, asks, func(text string) error {
		if text == stands {
			return nil
		}
		field.SetText(text)
		s, err := f.read(all[index], t.sold, t.desk.Units)
		if err != nil {
			return err
		}
		return t.desk.TryEdit(t.texts.set, woodEdit(func(p *hull.Plan) { t.wood.put(p, index, s) }))
	})
}

// isNumber keeps a form open until a number is typed.
func isNumber(s string) error {
	_, err := kit.ParseNumber(s)
	return err
}

// emptyOr lets an entry be left empty.
func emptyOr(check fyne.StringValidator) fyne.StringValidator {
	return func(s string) error {
		if strings.TrimSpace(s) == "" {
			return nil
		}
		return check(s)
	}
}

// read takes over what was typed; a length left as it was shown stays exact.
func (f *stripsForm) read(s hull.Strips, sold bool, u views.Units) (hull.Strips, error) {
	for _, l := range []struct {
		e  *kit.Field
		mm *float64
	}{{f.width, &s.Width}, {f.thickness, &s.Thickness}, {f.length, &s.Length}} {
		if l.e.Text == u.Number(*l.mm) {
			continue
		}
		v, err := kit.ParseNumber(l.e.Text)
		if err != nil {
			return s, err
		}
		*l.mm = u.ToMM(v)
	}
	count, price := strings.TrimSpace(f.count.Text), strings.TrimSpace(f.price.Text)
	var err error
	switch {
	case count == "" && sold:
		s.Count = hull.AsMany
	default:
		if s.Count, err = strconv.Atoi(count); err != nil || s.Count < 0 {
			return s, tongue.New("say how many strips there are: a whole number, 0 or more")
		}
	}
	s.Price = 0
	if price != "" && sold {
		if s.Price, err = kit.ParseNumber(price); err != nil {
			return s, err
		}
	}
	s.Species = strings.TrimSpace(f.species.Text)
	return s, nil
}

// put keeps what was typed, as one step.
func (t *stripsTable) put(index int, s hull.Strips, f *stripsForm) bool {
	s, err := f.read(s, t.sold, t.desk.Units)
	if err != nil {
		t.desk.Say(kit.Sentence(err))
		return false
	}
	return editWood(t.desk, t.texts.set, func(p *hull.Plan) { t.wood.put(p, index, s) })
}

func (t *stripsTable) drop() {
	i := t.table.chosen
	if i < 0 {
		return
	}
	editWood(t.desk, t.texts.drop, func(p *hull.Plan) { t.wood.drop(p, i) })
}

// cuttingOf is the plan's way of cutting, or the usual one.
func cuttingOf(p *hull.Plan) hull.Cutting {
	if p.Cutting == (hull.Cutting{}) {
		return hull.NewCutting()
	}
	return p.Cutting
}

// layings are the orders of laying, as layingNames names them.
var layings = []hull.Laying{hull.Meeting, hull.Downward, hull.Upward, hull.Outward}

func layingNames() []string {
	return []string{tongue.T("from both limits, to meet"), tongue.T("from the upper limit down"), tongue.T("from the garboard up"), tongue.T("outward from the free line")}
}

func (b *stockBox) object() fyne.CanvasObject {
	d := b.desk
	set := func(f func(*hull.Cutting)) bool {
		return editWood(d, tongue.T("set the rules of cutting"), func(p *hull.Plan) {
			c := cuttingOf(p)
			f(&c)
			p.Cutting = c
		})
	}
	length := func(name, tip string, step float64, of func(*hull.Cutting) *float64) fyne.CanvasObject {
		return kit.TippedRow(name, tip, b.number(kit.NewLength(d.Notices, &d.Units, step, func() float64 { c := cuttingOf(d.Plan()); return *of(&c) }, func(mm float64) bool {
			return set(func(c *hull.Cutting) { *of(c) = mm })
		})))
	}
	count := func(name, tip string, of func(*hull.Cutting) *int) fyne.CanvasObject {
		return kit.TippedRow(name, tip, b.number(kit.NewNumber(d.Notices, 1, kit.Whole, func() float64 { c := cuttingOf(d.Plan()); return float64(*of(&c)) }, func(v float64) bool {
			return set(func(c *hull.Cutting) { *of(c) = int(v) })
		})))
	}
	b.laying = kit.NewSelect(layingNames(), func(string) {
		if i := b.laying.SelectedIndex(); !b.quiet && i >= 0 {
			set(func(c *hull.Cutting) { c.Laying = layings[i] })
		}
	})
	b.start, b.begins = kit.NewField(), kit.Wrapped("")
	b.start.SetPlaceHolder(tongue.T("the free line; or 1.05; or line 2"))
	b.start.OnSubmitted = func(text string) { b.startAt(text, set) }
	rules := container.NewGridWithColumns(2,
		length(tongue.T("Kerf"), tongue.T("How much wood a cut takes away"), 0.1, func(c *hull.Cutting) *float64 { return &c.Kerf }),
		length(tongue.T("Overhang"), tongue.T("How much longer a piece is cut than it will be"), 1, func(c *hull.Cutting) *float64 { return &c.Overhang }),
		count(tongue.T("Strakes between"), tongue.T("How many whole strakes lie between two butts on one frame"), func(c *hull.Cutting) *int { return &c.Between }),
		count(tongue.T("Frames apart"), tongue.T("How many frames a butt lies from the nearest one of the next strake"), func(c *hull.Cutting) *int { return &c.Shift }),
		count(tongue.T("Pins a frame"), tongue.T("How many pins hold a strake on each frame"), func(c *hull.Cutting) *int { return &c.Pins }),
		count(tongue.T("Treenails a frame"), tongue.T("How many treenails hold a strake on each frame"), func(c *hull.Cutting) *int { return &c.Treenails }))
	return kit.Padded(container.NewVBox(b.box.object(), b.shop.object(), b.sheetBox.object(), b.sheetShop.object(),
		kit.Wrapped(tongue.T("Sheets are for strakes whose flat shape is cut from sheet wood. The length of a sheet is that along its grain, even where it is the shorter side.")),
		container.NewHBox(kit.Heading(tongue.T("Rules of cutting")), asked(d, "butts"), asked(d, "pins")), rules, kit.TippedRow(tongue.T("Laid"), tongue.T("In what order the strakes are laid"), b.laying), kit.TippedRow(tongue.T("Begins at"), tongue.T("Where the laying outwards begins: the free line, a strake, or a line"), b.start), b.begins,
		kit.Wrapped(tongue.T("Strakes between: full strakes that lie between two butts on one frame. Frames apart: from a butt to the next strake's nearest. These are common practice, not law."))))
}

// startAt has the laying begin outward at a strake or a line that there is.
func (b *stockBox) startAt(text string, set func(func(*hull.Cutting)) bool) {
	d := b.desk
	trial := *d.Plan()
	trial.Cutting = cuttingOf(&trial)
	trial.Cutting.Start = strings.TrimSpace(text)
	if err := (&loft.Planking{Plan: &trial, Layers: d.Planking().Layers}).CheckStart(); err != nil {
		d.Say(kit.Sentence(err))
		return
	}
	set(func(c *hull.Cutting) {
		c.Start = trial.Cutting.Start
		if c.Start != "" {
			c.Laying = hull.Outward
		}
	})
}

// beginning tells where the laying of the layer shown begins.
func (b *stockBox) beginning() string {
	l := b.desk.Layer()
	c := b.desk.Planking().Cutting()
	if c.Laying != hull.Outward || len(l.Strakes) == 0 {
		return tongue.T("Type a strake or a line to begin there and go outward, one for each layer with commas between, and press Enter.")
	}
	return tongue.T("In this layer %s, and then goes on both ways in turn.", answer.BeginsAt(l, c))
}

func (b *stockBox) number(n *kit.Number) fyne.CanvasObject {
	b.numbers = append(b.numbers, n)
	return n.Box
}

func (b *stockBox) sync() {
	for _, t := range []*stripsTable{b.box, b.shop, b.sheetBox, b.sheetShop} {
		t.sync()
	}
	for _, n := range b.numbers {
		n.Sync()
	}
	b.quiet = true
	defer func() { b.quiet = false }()
	if start := cuttingOf(b.desk.Plan()).Start; start != b.started {
		b.started = start // what is typed and not entered yet stays
		b.start.SetText(start)
	}
	b.begins.SetText(b.beginning())
	b.laying.SetSelectedIndex(max(slices.Index(layings, cuttingOf(b.desk.Plan()).Laying), 0))
}
