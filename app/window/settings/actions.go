package settings

import (
	"github.com/strakewright/strakewright/app/edit"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// SetLineType changes the type of the chosen line.
func SetLineType(d *desk.Desk, m hull.LineType) {
	if d.Line() != nil {
		d.Edit(tongue.T("change the type of line %d", d.Choice.Line+1), edit.SetLineType(d.Choice.Layer, d.Choice.Line, m, d.Course()))
	}
}

// setFollows has the chosen line follow a thin batten or the strip itself.
func setFollows(d *desk.Desk, f hull.Follows) {
	if d.Line() != nil && d.Line().Follows != f {
		what := tongue.T("have line %d follow a thin batten", d.Choice.Line+1)
		if f == hull.StripItself {
			what = tongue.T("have line %d follow the strip itself", d.Choice.Line+1)
		}
		d.Edit(what, edit.SetFollows(d.Choice.Layer, d.Choice.Line, f))
	}
}

// chosenHandle tells whether a handle is chosen, and says so if not.
func chosenHandle(d *desk.Desk) bool {
	if d.Line() == nil || d.Choice.Frame < 0 {
		d.Say(tongue.T("Choose a band line and a frame first."))
		return false
	}
	return true
}

func hold(d *desk.Desk, on bool) {
	if !chosenHandle(d) {
		return
	}
	what := tongue.T("hold line %d at frame %s", d.Choice.Line+1, d.FrameName(d.Choice.Frame))
	if !on {
		what = tongue.T("release line %d at frame %s", d.Choice.Line+1, d.FrameName(d.Choice.Frame))
	}
	d.Edit(what, edit.SetHeld(d.Choice.Layer, d.Choice.Line, d.Choice.Frame, on, d.Course()))
}

func pinHere(d *desk.Desk) {
	if chosenHandle(d) {
		d.Edit(tongue.T("pin line %d at frame %s", d.Choice.Line+1, d.FrameName(d.Choice.Frame)), edit.SetHold(d.Choice.Layer, d.Choice.Line, d.Choice.Frame, d.Course()))
	}
}

// AimAt points the chosen line through a frame; -1 resets its direction.
func AimAt(d *desk.Desk, frame int) {
	if chosenHandle(d) {
		what := tongue.T("reset the direction of line %d", d.Choice.Line+1)
		if frame >= 0 {
			what = tongue.T("point line %d through frame %s", d.Choice.Line+1, d.FrameName(frame))
		}
		d.Edit(what, edit.SetAim(d.Choice.Layer, d.Choice.Line, frame, d.Course()))
	}
}

// AddLine splits the band of the chosen strake, or the one below the chosen line.
func AddLine(d *desk.Desk) {
	band := d.Band()
	if d.Choice.Line >= 0 {
		band = d.Choice.Line + 1
	}
	l := d.Layer()
	if d.Edit(tongue.T("add a band line"), edit.AddLine(d.Choice.Layer, band, edit.Crossings(l, band), edit.Crossings(l, band+1))) {
		d.Choose(d.Choice.WithLine(band))
	}
}

// RemoveLine removes the chosen line.
func RemoveLine(d *desk.Desk) {
	if d.Line() == nil {
		d.Say(tongue.T("Choose a band line first."))
		return
	}
	d.Edit(tongue.T("remove line %d", d.Choice.Line+1), edit.RemoveLine(d.Choice.Layer, d.Choice.Line))
}

// chooseBand chooses the first strake of a band.
func chooseBand(d *desk.Desk, band int) {
	for k, s := range d.Layer().Strakes {
		if s.Band == band+1 {
			d.Choose(d.Choice.WithStrake(k))
			return
		}
	}
}

func setStrakes(d *desk.Desk, n int) bool {
	return d.Edit(tongue.T("set the strakes of band %d", d.Band()+1), edit.SetStrakes(d.Choice.Layer, d.Band(), n))
}

func setShare(d *desk.Desk, w float64) bool {
	if d.Choice.Strake < 0 {
		return false
	}
	s := d.Layer().Strakes[d.Choice.Strake]
	n := d.Layer().Bands[s.Band-1].Strakes
	return d.Edit(tongue.T("set the share of strake %s", s.ID), edit.SetWeight(d.Choice.Layer, s.Band-1, s.Number-1, n, w))
}

// ShowLayer shows a layer and chooses its first line.
func ShowLayer(d *desk.Desk, k int) {
	c := d.Choice.WithStrake(-1)
	c.Layer = k
	if len(d.Plan().Layers[k].Lines) > 0 {
		c.Line = 0
	}
	d.Choose(c)
}

// AddLayer adds a layer and shows it.
func AddLayer(d *desk.Desk) {
	if d.Edit(tongue.T("add a layer"), edit.AddLayer) {
		ShowLayer(d, len(d.Plan().Layers)-1)
	}
}
