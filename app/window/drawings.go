package window

import (
	"fyne.io/fyne/v2"

	"strakewright/app/draw/views"
	"strakewright/app/scene"
)

// drawings are the boards of a window, and what is drawn on them: the long view,
// the gauge strip on its axis, the body plan and the hull, which show the girths
// where the shape is not known.
type drawings struct {
	desk       *desk
	profile    *profileView
	expanded   *expandedView // in place of the profile where only girths are known
	gauge      *gaugeView
	gaugeBoard *board
	body       *bodyView
	hull       *hullView
}

func newDrawings(d *desk) *drawings {
	w, axis := &drawings{desk: d}, &lengthAxis{}
	w.profile, w.body, w.hull = &profileView{desk: d, axis: axis}, &bodyView{desk: d}, &hullView{desk: d, render: &scene.Renderer{}, back: &scene.Renderer{}}
	w.expanded = &expandedView{desk: d, axis: axis}
	fits := &expandedView{desk: d, axis: &lengthAxis{}, fits: true}
	w.profile.board = newBoard(d, eitherView{d, w.profile, w.expanded}, fyne.NewSize(300, 90))
	w.body.board = newBoard(d, eitherView{d, w.body, &noBodyView{desk: d}}, fyne.NewSize(120, 100))
	w.hull.board = newBoard(d, eitherView{d, w.hull, fits}, fyne.NewSize(120, 100))
	w.expanded.board, fits.board = w.profile.board, w.hull.board
	w.gauge = &gaugeView{desk: d, axis: axis}
	w.gaugeBoard = newBoard(d, w.gauge, fyne.NewSize(300, 80))
	d.gaugeRefresh = w.gaugeBoard.Refresh
	return w
}

// longHandles gives the handles on the long view, where its drawing stands now.
func (w *drawings) longHandles() []views.Handle {
	if w.desk.shapeless() {
		w.expanded.current()
		return w.expanded.v.Handles
	}
	w.profile.current()
	return w.profile.v.Handles
}

// longLimits gives the handles of the limits there.
func (w *drawings) longLimits() []views.Handle {
	if w.desk.shapeless() {
		return w.expanded.v.Limits
	}
	return w.profile.v.Limits
}
