package stock

import (
	"context"
	"image"
	"math"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// stockCompare lays the layer in strips of several widths, thicknesses and
// woods, side by side.
type stockCompare struct {
	desk                   *desk.Desk
	widths, thick, species *kit.Field
	unit                   *widget.Label
	table                  *figureTable
	chart                  *canvas.Raster
	advice                 *widget.Label
	use                    *kit.Button
	paper                  kit.Sheet
	v                      views.WidthChart

	layer  int        // of the trials, and of what is typed
	made   *hull.Plan // what the trials were laid of
	trials []*answer.Trial
	asked  bool // trials were asked for at least once
}

// comparedFigures is how many of answer.Figures are columns.
const comparedFigures = 22

func newStockCompare(d *desk.Desk) *stockCompare {
	c := &stockCompare{desk: d, layer: -1, widths: kit.NewField(), thick: kit.NewField(), species: kit.NewField(), unit: widget.NewLabel("")}
	c.widths.SetPlaceHolder("4; 5; 6,5")
	c.thick.SetPlaceHolder("1; 1,5")
	for _, e := range []*kit.Field{c.widths, c.thick, c.species} {
		e.OnSubmitted = func(string) { c.lay() }
	}
	var heads, keys []string
	for _, f := range answer.Figures()[:comparedFigures] {
		heads, keys = append(heads, f.Name), append(keys, f.Key)
	}
	c.table = newFigureTable(d, heads, keys, func(int) { c.chose() })
	c.chart = canvas.NewRaster(c.paint)
	c.chart.SetMinSize(fyne.NewSize(200, 60))
	c.advice = kit.Wrapped("")
	c.use = d.Button(tongue.T("Use this strip"), tongue.T("Lays the layer in the strips of the chosen row"), func() { c.take() })
	c.use.Importance = widget.HighImportance
	c.use.Disable()
	return c
}

func (c *stockCompare) object() fyne.CanvasObject {
	d := c.desk
	entries := container.NewGridWithColumns(3, kit.Tipped(labelled(tongue.T("Widths"), c.widths), tongue.T("Widths of strips to compare, with semicolons between them")), kit.Tipped(labelled(tongue.T("Thick"), c.thick), tongue.T("Thicknesses of strips to compare; leave empty for the layer's own")), kit.Tipped(labelled(tongue.T("Woods"), c.species), tongue.T("Woods to compare; leave empty for the layer's own")))
	buttons := container.NewHBox(c.unit, d.Button(tongue.T("Compare"), tongue.T("Lays the layer in strips of every width, thickness and wood, and cuts them. Write several %s", tongue.T(plaintext.ListRule)), c.lay),
		d.Button(tongue.T("⤢ Room"), tongue.T("Gives the panel more room, or takes it back"), func() { d.StockRoom() })) // which the window gives after this is made
	head := container.NewVBox(entries, container.NewBorder(nil, nil, buttons, c.use))
	chart := d.Repainted(c.chart)
	s := container.NewVSplit(c.table.shown, chart)
	s.SetOffset(0.5)
	foot := container.NewVBox(c.advice)
	scroll := container.NewVScroll(container.NewVBox(foot, kit.Caution(tongue.T("soak and heat strips with care: steam and irons burn; keep leads and water apart. The dust of some woods is a sensitiser: extraction and a mask. Makers' sheets and local rules come first."))))
	return container.NewBorder(head, kit.Tall(scroll, 100), nil, nil, s)
}

// labelled puts a name before an entry.
func labelled(name string, o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewBorder(nil, nil, widget.NewLabel(name), nil, o)
}

// offered is the layer's own strip, and a step to either side.
func (c *stockCompare) offered() {
	d := c.desk
	own := d.PlanLayer().Stock
	var out []string
	for _, v := range []float64{own.Width - 1, own.Width, own.Width + 1} {
		if v > 0 {
			out = append(out, lengthIn(v, d.Units))
		}
	}
	c.widths.SetText(strings.Join(out, "; "))
	c.thick.SetText(lengthIn(own.Thickness, d.Units))
	c.species.SetText(own.Species)
}

// sync shows the rows in the units of display; for another layer, or first, it
// lays them.
func (c *stockCompare) sync() {
	d := c.desk
	c.unit.SetText(map[views.Units]string{views.Millimetres: tongue.T("in mm"), views.Inches: tongue.T("in inches")}[d.Units])
	if d.Choice.Layer != c.layer || !c.asked {
		c.layer, c.asked, c.v.Units = d.Choice.Layer, true, d.Units
		c.trials, c.made = nil, nil
		c.offered()
		c.lay()
		return
	}
	for _, e := range []*kit.Field{c.widths, c.thick} {
		inUnits(e, c.v.Units, d.Units)
	}
	c.v.Units = d.Units
	c.show()
}

// inUnits writes the lengths typed in other units.
func inUnits(e *kit.Field, from, to views.Units) {
	vs, err := readList(e.Text)
	if from == to || err != nil {
		return
	}
	var out []string
	for _, v := range vs {
		out = append(out, lengthIn(from.ToMM(v), to))
	}
	e.SetText(strings.Join(out, "; "))
}

// lengthIn writes a length as short as it is, to a thousandth.
func lengthIn(mm float64, u views.Units) string {
	return tongue.Figure(strconv.FormatFloat(math.Round(u.Of(mm)*1000)/1000, 'g', -1, 64))
}

func (c *stockCompare) show() {
	d := c.desk
	var rows [][]string
	for _, t := range c.trials {
		rows = append(rows, c.row(t))
	}
	c.table.set(rows)
	c.desk.Repaint(c.chart)
	text := ""
	if len(c.trials) > 0 {
		text = answer.TrialAdvice(d.Planking(), c.trials, d.Units)
		if c.made != d.Plan() {
			text = staleText() + text
		}
	}
	c.advice.SetText(text)
	if c.table.chosen >= 0 && len(c.trials) > 0 {
		c.use.Enable()
	} else {
		c.use.Disable()
	}
}

// kinds reads what was typed.
func (c *stockCompare) kinds() ([]hull.Stock, error) {
	d := c.desk
	lengths := func(e *kit.Field) ([]float64, error) {
		if strings.TrimSpace(e.Text) == "" {
			return nil, nil
		}
		vs, err := readList(e.Text)
		for i := range vs {
			vs[i] = d.Units.ToMM(vs[i])
		}
		return vs, err
	}
	widths, err := lengths(c.widths)
	if err != nil {
		return nil, err
	}
	thick, err := lengths(c.thick)
	if err != nil {
		return nil, err
	}
	species := answer.ReadSpecies(strings.ReplaceAll(c.species.Text, ";", ","))
	return answer.Kinds(d.PlanLayer().Stock, widths, thick, species)
}

// lay lays every kind that was typed.
func (c *stockCompare) lay() {
	d := c.desk
	kinds, err := c.kinds()
	if err != nil {
		d.Say(kit.Sentence(err))
		return
	}
	k, layer := d.Planking(), d.Choice.Layer
	var trials []*answer.Trial
	d.Work(tongue.T("Laying and cutting the strips…"), func(ctx context.Context) error {
		t, err := answer.NewTrials(ctx, k, layer)
		if err != nil {
			return err
		}
		for _, kind := range kinds {
			trial, err := t.Lay(ctx, kind)
			if err != nil {
				return err
			}
			trials = append(trials, trial)
		}
		return nil
	}, func() {
		c.layer, c.made, c.trials = layer, k.Plan, trials
		c.table.chosen = -1
		c.show()
	})
}

func (c *stockCompare) chose() { c.show() }

// row tells a trial, a cell a figure.
func (c *stockCompare) row(t *answer.Trial) []string {
	u, r := c.desk.Units, t.Row
	lengths := func(vs []float64) string {
		var out []string
		for _, v := range vs {
			out = append(out, u.Number(v))
		}
		return strings.Join(out, " ")
	}
	cost := tongue.T("no price")
	if v, known := t.Cost(); known {
		cost = tongue.T("%.2f", v)
	}
	if n := t.Missing(); n > 0 {
		cost = tongue.Count(n, "%d piece lacks its wood", "%d pieces lack their wood", n)
	}
	edge, face, how := desk.Percent(r.EdgeStrainMax), desk.Percent(r.FaceStrainMax), answer.HowWord(r.How)
	if c.desk.Shapeless() {
		edge, face, how = desk.Unknown, desk.Unknown, desk.Unknown
	}
	made := t.Made()
	return []string{
		c.name(t.Stock), counts(r.Strakes), u.Number(r.Narrowest), u.Number(r.Widest),
		strconv.Itoa(r.Tapered), u.Number(r.TaperMost), strconv.Itoa(r.Wedges), strconv.Itoa(r.Stealers), strconv.Itoa(r.Drops),
		lengths(r.LeftOver), lengths(r.Creep), edge, face, how, counts([]int{made[hull.Sprung], made[hull.Spiled], made[hull.Block]}),
		u.Area(t.Shave), u.Area(t.Fill), strconv.Itoa(t.Strips()), strconv.Itoa(t.FromBox()), u.Long(r.Length), u.Long(t.Waste()), cost,
	}
}

func (c *stockCompare) name(s hull.Stock) string {
	return strings.TrimSpace(c.desk.Units.Number(s.Width) + " x " + c.desk.Units.Number(s.Thickness) + " " + s.Species)
}

func counts(n []int) string {
	var out []string
	for _, v := range n {
		out = append(out, strconv.Itoa(v))
	}
	return strings.Join(out, "+")
}

func (c *stockCompare) paint(w, h int) image.Image {
	scale := 1.0
	if s := c.chart.Size().Width; s > 0 {
		scale = float64(w) / float64(s)
	}
	var lanes []views.StockLane
	for _, t := range c.trials {
		l := views.StockLane{Name: c.name(t.Stock), Stock: t.Stock.Width}
		l.Least, l.Mean, l.Most = t.Needed()
		for i := range l.Least {
			l.X = append(l.X, c.desk.Plan().Hull.Frames[i].X())
		}
		lanes = append(lanes, l)
	}
	c.v.Units = c.desk.Units
	c.v.Draw(lanes, c.table.chosen, float64(w)/scale, float64(h)/scale)
	return c.paper.Render(c.desk.Look, &c.v.Drawing, w, h, scale)
}

// take puts the chosen strips into the plan; the number of strakes is left to
// the girth, as it was in the comparison.
func (c *stockCompare) take() bool {
	if c.table.chosen < 0 || c.table.chosen >= len(c.trials) {
		return false
	}
	s := c.trials[c.table.chosen].Stock
	if !c.desk.Edit(tongue.T("lay it in %s", c.name(s)), edit.OnLayer(c.layer, func(l *hull.Layer) {
		l.Stock.Width, l.Stock.Thickness, l.Stock.Species = s.Width, s.Thickness, s.Species
		for i := range l.Bands {
			l.Bands[i].Strakes, l.Bands[i].Strips = 0, nil
		}
	})) {
		return false
	}
	c.desk.Status(tongue.T("The layer is laid in %s; undo brings the former strips back.", c.name(s)))
	return true
}
