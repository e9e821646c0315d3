package welcome

import (
	"context"
	"errors"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/loft"
)

// picture is the demo's profile with its forced line, as the task begins with it.
type picture struct {
	desk   *desk.Desk
	raster *canvas.Raster
	object fyne.CanvasObject
	k      *loft.Planking // nil till it is found
	v      views.Profile
	paper  kit.Sheet
	latest kit.Latest
	dark   bool // it was drawn so
}

// footHigh is how much of the profile's foot, where it says what its lines are, lies
// under the picture's edge.
const footHigh = 18

// pictureHigh is how high the picture is at least.
const pictureHigh = 150

func newPicture(d *desk.Desk) *picture {
	p := &picture{desk: d}
	p.raster = canvas.NewRaster(p.paint)
	p.raster.SetMinSize(fyne.NewSize(0, pictureHigh))
	p.object = d.Repainted(p.raster)
	return p
}

// find has the planking found behind what goes on, once.
func (p *picture) find() {
	if p.k != nil {
		return
	}
	p.latest.Start(p.desk.Background, func(ctx context.Context) func() {
		k, err := forcedDemo(ctx)
		return func() {
			if err == nil { // the page says the same in words
				p.k = k
				p.desk.Repaint(p.raster)
			}
		}
	})
}

// forcedDemo is the planking of the demo's first layer with its line forced.
func forcedDemo(ctx context.Context) (*loft.Planking, error) {
	s, err := app.NewDemo()
	if err != nil {
		return nil, err
	}
	defer s.Close()
	lie, err := lieOf(s.Planking())
	if err != nil {
		return nil, err
	}
	plan := s.Plan().Clone()
	plan.Layers = plan.Layers[:forcedLayer+1]
	if err := errors.Join(force(lie, plan.Hull.FrameNamed(forcedFrame))(plan), ctx.Err()); err != nil {
		return nil, err
	}
	return loft.Plank(plan)
}

// look draws it anew where the theme is another.
func (p *picture) look() {
	if p.dark != p.desk.Dark {
		p.dark = p.desk.Dark
		p.desk.Repaint(p.raster)
	}
}

func (p *picture) paint(w, h int) image.Image {
	scale := float64(p.desk.Win.Canvas().Scale())
	p.v.Drawing.Reset()
	if p.k != nil {
		l := p.k.Layers[forcedLayer]
		name := func(f int) string { return p.k.Plan.Hull.Frames[f].Name }
		c := views.Nothing.WithLine(forcedLine).WithFrame(p.k.Plan.Hull.FrameNamed(forcedFrame))
		curves := views.CurvesOf(l)
		wide, high := float64(w)/scale, float64(h)/scale+footHigh
		p.v.X, p.v.Z = views.FitProfile(curves, wide, high)
		p.v.Strip, p.v.March = l.StripBeside(forcedLine+1), []loft.March{} // without seams
		p.v.Told = answer.StripVerdict(p.v.Strip, name, p.desk.Units)
		p.v.Draw(p.k, curves, c, wide, high)
	}
	return p.paper.Render(p.desk.Look, &p.v.Drawing, w, h, scale)
}
