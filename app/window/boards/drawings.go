package boards

import (
	"slices"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/scene"
	"github.com/strakewright/strakewright/app/window/desk"
)

// Drawings are the boards of a window, and what is drawn on them: the long view,
// the gauge strip on its axis, the body plan and the hull, which show the girths
// where the shape is not known.
type Drawings struct {
	desk     *desk.Desk
	profile  *profileView
	expanded *expandedView // in place of the profile where only girths are known
	gauge    *gaugeView
	body     *bodyView
	hull     *hullView

	Long, Gauge, BodyPlan *Board
	Hull                  fyne.CanvasObject // with the key of its colours
	HullBoard             *Board            // without
}

// New makes the boards of a desk, which follow it from then on.
func New(d *desk.Desk) *Drawings {
	w, axis := &Drawings{desk: d}, &lengthAxis{}
	w.profile, w.body, w.hull = &profileView{desk: d, axis: axis}, &bodyView{desk: d}, &hullView{desk: d, render: &scene.Renderer{}, back: &scene.Renderer{}, full: func(bool) {}}
	w.expanded = &expandedView{desk: d, axis: axis}
	fits := &expandedView{desk: d, axis: &lengthAxis{}, fits: true}
	w.profile.board = newBoard(d, eitherView{d, w.profile, w.expanded}, fyne.NewSize(300, 90))
	w.body.board = newBoard(d, eitherView{d, w.body, &noBodyView{desk: d}}, fyne.NewSize(120, 100))
	w.hull.board = newBoard(d, eitherView{d, w.hull, fits}, fyne.NewSize(120, 100))
	w.expanded.board, fits.board = w.profile.board, w.hull.board
	w.hull.strip = newStrip(d, w.hull.board, w.hull.refit)
	w.gauge = &gaugeView{desk: d, axis: axis}
	w.Gauge = newBoard(d, w.gauge, fyne.NewSize(300, 80))
	w.Long, w.BodyPlan, w.HullBoard, w.Hull = w.profile.board, w.body.board, w.hull.board, w.hull.object()
	d.GaugeRefresh = w.Gauge.Refresh
	for _, b := range []*Board{w.Long, w.Gauge, w.BodyPlan, w.hull.board} {
		b.keyed = w.hull.strip.keyed
	}
	w.hull.board.keyed = func(b *Board, key fyne.KeyName) bool {
		return w.hull.strip.keyed(b, key) || w.hull.keys().Press(key)
	}
	w.hull.board.typed = w.hull.rune
	return w
}

// OnStrip has f told when a strip is laid over the frames of the lofted view, and
// when it is taken off again.
func (w *Drawings) OnStrip(f func(laid bool)) { w.hull.strip.laid = f }

// OnFull has f told when the hull is to have the whole board, and when it gives it back.
func (w *Drawings) OnFull(f func(full bool)) { w.hull.full = f }

// TellFull tells the hull whether it has the whole board, however that came.
func (w *Drawings) TellFull(full bool) {
	w.hull.isFull = full
	w.hull.look.show()
}

// LongHandles gives the handles on the long view, where its drawing stands now.
func (w *Drawings) LongHandles() []views.Handle {
	if w.desk.Shapeless() {
		w.expanded.current()
		return w.expanded.v.Handles
	}
	w.profile.current()
	return w.profile.v.Handles
}

// LongLimits gives the handles of the limits there.
func (w *Drawings) LongLimits() []views.Handle {
	if w.desk.Shapeless() {
		return w.expanded.v.Limits
	}
	return w.profile.v.Limits
}

// BodyHandles gives the handles on the body plan, those of the limits last; none
// where there is no body plan.
func (w *Drawings) BodyHandles() []views.Handle {
	if w.desk.Shapeless() {
		return nil
	}
	w.body.current()
	return slices.Concat(w.body.v.Handles, w.body.v.Limits)
}
