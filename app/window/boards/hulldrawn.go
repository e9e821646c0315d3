package boards

import (
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/scene"
)

// seenRoles are what the lines of the lofted view are drawn as.
var seenRoles = map[scene.Kind]draw.Role{
	scene.SeamLine: draw.Seam, scene.FrameLine: draw.FrameInk, scene.BandLine: draw.BandInk, scene.LimitLine: draw.Limit, scene.ChosenLine: draw.Chosen,
	scene.LiftLine: draw.StripInk, scene.ForceLine: draw.Warning,
	scene.BareFrameLine: draw.FrameInk, scene.BareLimitLine: draw.Limit, scene.BareChosenLine: draw.Chosen,
}

// seenPen is by how much finer a line is drawn on paper than on the screen, where it has
// shaded wood under it; and seenSeam by how much a seam is finer still.
const seenPen, seenSeam = 0.8, 0.7

// drawing gives the hull as it stands on the screen in lines: what is seen of seams,
// frames, limits and of the edges of what is built, over the ground of what is chosen, with
// what is told there. The shading of the wood is left to pixels.
func (v *hullView) drawing() *draw.Drawing {
	if v.made == nil || v.w == 0 {
		return nil
	}
	scale := max(v.scale, 1e-6)
	w, h := float64(v.w)/scale, float64(v.h)/scale
	cam := v.cam
	cam.Zoom, cam.PanX, cam.PanY = cam.Zoom/scale, cam.PanX/scale, cam.PanY/scale
	d := &draw.Drawing{}
	faces, lines := scene.Seen(v.made.scene, cam, int(w), int(h))
	for _, f := range faces {
		d.Area(draw.ChosenSoft, draw.Pt(f[0][0], f[0][1]), draw.Pt(f[1][0], f[1][1]), draw.Pt(f[2][0], f[2][1]))
	}
	for _, l := range lines {
		role, pen := seenRoles[l.Kind], draw.Pen{Width: l.Width * seenPen}
		switch {
		case l.Edge:
			role = draw.Ink
		case l.Kind == scene.SeamLine:
			pen.Width *= seenSeam
		}
		if l.Dotted {
			pen.Dash = []float64{1.2, 2.2}
		}
		pts := make([]draw.Point, len(l.Points))
		for i, p := range l.Points {
			pts[i] = draw.Pt(p[0], p[1])
		}
		d.Line(role, pen, pts...)
	}
	if v.made.strip.on || v.made.tinting != scene.Bare {
		d.Items = append(d.Items, v.labels.Items...)
	}
	return d
}
