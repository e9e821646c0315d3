package stock

import (
	"context"
	"strings"

	"fyne.io/fyne/v2"
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

// stockMix finds the best mix of strips for each band, and lays it.
type stockMix struct {
	desk   *desk.Desk
	widths *kit.Field
	list   *fyne.Container
	told   *widget.Label
	mixes  []answer.Mix
	made   *hull.Plan
	layer  int
	units  views.Units
}

func newStockMix(d *desk.Desk) *stockMix {
	m := &stockMix{desk: d, layer: -1, widths: kit.NewField(), list: container.NewVBox(), told: kit.Wrapped("")}
	m.widths.SetPlaceHolder(tongue.T("4, 5, 6.5 or 4; 5; 6,5"))
	m.widths.OnSubmitted = func(string) { m.find() }
	return m
}

func (m *stockMix) object() fyne.CanvasObject {
	d := m.desk
	head := container.NewBorder(nil, nil, widget.NewLabel(tongue.T("Widths at hand")), d.Button(tongue.T("Find the best mixes"), tongue.T("Of up to three of the widths in each band, what leaves the least to shave or fill"), m.find), kit.Tipped(m.widths, tongue.T("The widths of strips that you have or can buy")))
	buttons := container.NewHBox(asked(d, "mix"),
		d.Button(tongue.T("Lay all of them"), tongue.T("Lays the mix of every band, as one step"), func() { m.lay(m.mixes) }),
		d.Button(tongue.T("Back to one width"), tongue.T("Lays every band in the layer's own strips again"), m.plain))
	return container.NewBorder(container.NewVBox(head, buttons), nil, nil, nil, container.NewVScroll(container.NewVBox(m.told, m.list)))
}

func (m *stockMix) sync() {
	d := m.desk
	if d.Choice.Layer == m.layer && d.Units != m.units {
		inUnits(m.widths, m.units, d.Units)
		m.units, m.mixes, m.made = d.Units, nil, nil // the advice is in other units
	}
	if d.Choice.Layer != m.layer {
		var out []string
		own := d.PlanLayer().Stock.Width
		for _, v := range []float64{own - 1, own, own + 1} {
			if v > 0 {
				out = append(out, lengthIn(v, d.Units))
			}
		}
		m.widths.SetText(strings.Join(out, "; "))
		m.layer, m.units, m.mixes, m.made = d.Choice.Layer, d.Units, nil, nil
	}
	m.show()
}

// find searches every band.
func (m *stockMix) find() {
	d := m.desk
	widths, err := readList(m.widths.Text)
	if err != nil {
		d.Say(kit.Sentence(err))
		return
	}
	for i := range widths {
		widths[i] = d.Units.ToMM(widths[i])
	}
	k, layer, units := d.Planking(), d.Choice.Layer, d.Units
	var mixes []answer.Mix
	d.Work(tongue.T("Looking for the best mixes…"), func(ctx context.Context) error {
		for b := range k.Layers[layer].Bands {
			mix, err := answer.MixOf(ctx, k, layer, b, widths, units)
			if err != nil {
				return err
			}
			mixes = append(mixes, mix)
		}
		return nil
	}, func() {
		m.mixes, m.made, m.layer = mixes, k.Plan, layer
		m.show()
	})
}

func (m *stockMix) show() {
	d := m.desk
	text := tongue.T("Several widths in one band can leave less to shave and fill than one. Type those you have or can buy, %s.", tongue.T(plaintext.ListRule))
	switch {
	case len(m.mixes) > 0 && m.made != d.Plan():
		text = staleText()
	case len(m.mixes) > 0:
		text = tongue.T("The areas are reckoned; where the wider strips go is a rule of thumb: where the frame is flattest.")
	}
	m.told.SetText(text)
	m.list.RemoveAll()
	for _, mix := range m.mixes {
		lay := d.Button(tongue.T("Lay this mix in band %d", mix.Band), tongue.T("Gives every strake of the band its strip, as one step"), func() { m.lay([]answer.Mix{mix}) })
		var order []string
		for _, w := range mix.Order {
			order = append(order, d.Units.Number(w))
		}
		m.list.Add(container.NewVBox(kit.Wrapped(mix.Advice), kit.Wrapped(tongue.T("Down the band: %s", strings.Join(order, " · "))), container.NewHBox(lay), widget.NewSeparator()))
	}
	m.list.Refresh()
}

// lay gives bands their mixes, as one step.
func (m *stockMix) lay(mixes []answer.Mix) bool {
	d := m.desk
	if len(mixes) == 0 {
		d.Status(tongue.T("Find the best mixes first."))
		return false
	}
	if m.made != d.Plan() && len(d.PlanLayer().Bands) != len(m.mixes) {
		d.Say(kit.Sentence(errChanged))
		return false
	}
	what := tongue.T("lay the mix of band %d", mixes[0].Band)
	if len(mixes) > 1 {
		what = tongue.T("lay the mixes of all bands")
	}
	return d.Edit(what, edit.OnLayer(m.layer, func(l *hull.Layer) {
		for _, mix := range mixes {
			answer.LayMix(l, mix)
		}
	}))
}

// plain lays every band in the stock's own width.
func (m *stockMix) plain() {
	m.desk.Edit(tongue.T("lay it in one width"), edit.OnLayer(m.desk.Choice.Layer, func(l *hull.Layer) {
		for i := range l.Bands {
			if l.Bands[i].Strips != nil {
				l.Bands[i].Strakes, l.Bands[i].Strips = 0, nil
			}
		}
	}))
}
