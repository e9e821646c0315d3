package boards

import (
	"fyne.io/fyne/v2"

	"strakewright/app/draw/views"
	"strakewright/app/scene"
	"strakewright/app/window/desk"
)

// Drawings are the boards of a window, and what is drawn on them: the long view,
// the gauge strip on its axis, the body plan and the hull, which show the girths
// where the shape is not known.
type Drawings struct {
	desk       *desk.Desk
	Profile    *profileView
	expanded   *expandedView // in place of the profile where only girths are known
	Gauge      *gaugeView
	GaugeBoard *Board
	Body       *bodyView
	Hull       *hullView
}

func New(d *desk.Desk) *Drawings {
	w, axis := &Drawings{desk: d}, &lengthAxis{}
	w.Profile, w.Body, w.Hull = &profileView{desk: d, axis: axis}, &bodyView{desk: d}, &hullView{desk: d, render: &scene.Renderer{}, back: &scene.Renderer{}}
	w.expanded = &expandedView{desk: d, axis: axis}
	fits := &expandedView{desk: d, axis: &lengthAxis{}, fits: true}
	w.Profile.Board = newBoard(d, eitherView{d, w.Profile, w.expanded}, fyne.NewSize(300, 90))
	w.Body.Board = newBoard(d, eitherView{d, w.Body, &noBodyView{desk: d}}, fyne.NewSize(120, 100))
	w.Hull.board = newBoard(d, eitherView{d, w.Hull, fits}, fyne.NewSize(120, 100))
	w.expanded.board, fits.board = w.Profile.Board, w.Hull.board
	w.Gauge = &gaugeView{desk: d, axis: axis}
	w.GaugeBoard = newBoard(d, w.Gauge, fyne.NewSize(300, 80))
	d.GaugeRefresh = w.GaugeBoard.Refresh
	return w
}

// LongHandles gives the handles on the long view, where its drawing stands now.
func (w *Drawings) LongHandles() []views.Handle {
	if w.desk.Shapeless() {
		w.expanded.current()
		return w.expanded.v.Handles
	}
	w.Profile.current()
	return w.Profile.v.Handles
}

// LongLimits gives the handles of the limits there.
func (w *Drawings) LongLimits() []views.Handle {
	if w.desk.Shapeless() {
		return w.expanded.v.Limits
	}
	return w.Profile.v.Limits
}
