package window

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"strakewright/app/answer"
	"strakewright/hull"
	"strakewright/loft"
)

// stockSeams tells how far the layer's seams lie off those beneath, and keeps
// them apart.
type stockSeams struct {
	desk  *desk
	table *figureTable
	told  *widget.Label
	apart *tipButton
}

func newStockSeams(d *desk) *stockSeams {
	s := &stockSeams{desk: d, told: wrapped("")}
	s.table = newFigureTable(d, []string{"seam below", "over that below", "at frame", "distance"}, []string{"", "", "", "seams"}, nil)
	s.apart = d.button("Keep seams apart", "Makes the first strake of each band wider or narrower, so that the seams lie farther off those beneath", s.stagger)
	return s
}

func (s *stockSeams) object() fyne.CanvasObject {
	head := container.NewVBox(s.told, container.NewHBox(s.apart, s.desk.asked("seams"),
		s.desk.button("Show the outer layer", "Shows the outermost layer", func() { s.desk.showLayer(len(s.desk.plan().Layers) - 1) })))
	return container.NewBorder(head, nil, nil, nil, s.table.table)
}

func (s *stockSeams) sync() {
	d := s.desk
	a, err := answer.SeamsOf(d.planking(), d.choice.Layer, d.units)
	if err != nil {
		s.told.SetText("The layer shown is the innermost: no seam lies beneath its own. Show an outer layer, or add one, with its own strips, thickness and bands (Wood and Bands at the left).")
		s.table.set(nil)
		s.apart.Disable()
		return
	}
	s.apart.Enable()
	s.told.SetText(a.Advice)
	var rows [][]string
	for _, c := range a.Seams {
		rows = append(rows, []string{c.Below, c.Beneath, c.Frame, d.units.Number(c.Distance)})
	}
	s.table.set(rows)
}

// stagger shifts the seams, as one step.
func (s *stockSeams) stagger() {
	d := s.desk
	p, layer := d.plan(), d.choice.Layer
	var q *hull.Plan
	d.work("Shifting the seams…", func(ctx context.Context) (err error) {
		q, err = loft.Stagger(ctx, p, layer)
		return err
	}, func() {
		if d.plan() != p {
			d.say(sentence(errChanged))
			return
		}
		d.edit("keep the seams apart", onLayer(layer, func(l *hull.Layer) { l.Bands = q.Layers[layer].Bands }))
	})
}
