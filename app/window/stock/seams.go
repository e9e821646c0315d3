package stock

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/settings"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// stockSeams tells how far the layer's seams lie off those beneath, and keeps
// them apart.
type stockSeams struct {
	desk  *desk.Desk
	table *figureTable
	told  *widget.Label
	apart *kit.Button
}

func newStockSeams(d *desk.Desk) *stockSeams {
	s := &stockSeams{desk: d, told: kit.Wrapped("")}
	s.table = newFigureTable(d, []string{tongue.T("seam below"), tongue.T("over that below"), tongue.T("at frame"), tongue.T("distance")}, []string{"", "", "", "seams"}, nil)
	s.apart = d.Button(tongue.T("Keep seams apart"), tongue.T("Makes the first strake of each band wider or narrower, so that the seams lie farther off those beneath"), s.stagger)
	return s
}

func (s *stockSeams) object() fyne.CanvasObject {
	head := container.NewVBox(s.told, container.NewHBox(s.apart, asked(s.desk, "seams"),
		s.desk.Button(tongue.T("Show the outer layer"), tongue.T("Shows the outermost layer"), func() { settings.ShowLayer(s.desk, len(s.desk.Plan().Layers)-1) })))
	return container.NewBorder(head, nil, nil, nil, s.table.shown)
}

func (s *stockSeams) sync() {
	d := s.desk
	a, err := answer.SeamsOf(d.Planking(), d.Choice.Layer, d.Units)
	if err != nil {
		s.told.SetText(tongue.T("The layer shown is the innermost: no seam lies beneath its own. Show an outer layer, or add one, with its own strips, thickness and bands (Wood and Bands at the left)."))
		s.table.set(nil)
		s.apart.Disable()
		return
	}
	s.apart.Enable()
	s.told.SetText(a.Advice)
	var rows [][]string
	for _, c := range a.Seams {
		rows = append(rows, []string{c.Below, c.Beneath, c.Frame, d.Units.Number(c.Distance)})
	}
	s.table.set(rows)
}

// stagger shifts the seams, as one step.
func (s *stockSeams) stagger() {
	d := s.desk
	p, layer := d.Plan(), d.Choice.Layer
	var q *hull.Plan
	d.Work(tongue.T("Shifting the seams…"), func(ctx context.Context) (err error) {
		q, err = loft.Stagger(ctx, p, layer)
		return err
	}, func() {
		if d.Plan() != p {
			d.Say(kit.Sentence(errChanged))
			return
		}
		d.Edit(tongue.T("keep the seams apart"), edit.OnLayer(layer, func(l *hull.Layer) { l.Bands = q.Layers[layer].Bands }))
	})
}
