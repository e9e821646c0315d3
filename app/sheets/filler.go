package sheets

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// levels is how far apart the level lines of a section are, mm.
const levels = 10.0

// fillerBlocks gives sections of the hull from one frame to another (their
// indices, at their mean x), every spacing mm and at both frames, moved in by
// inset mm from the frames' outline: each as a half and as the mirrored whole,
// full size. The error says what is wrong with the frames, spacing or inset, or
// where the inset leaves nothing.
func fillerBlocks(k *loft.Planking, from, to int, spacing, inset float64, s Settings) ([]draw.Sheet, error) {
	xs, err := sectionPlaces(k, from, to, spacing)
	if err != nil {
		return nil, err
	}
	surface, err := wholeHull(k)
	if err != nil {
		return nil, err
	}
	name := surface.FrameName
	words := tongue.T("Sections every %g mm from frame %s to %s, moved in by %.2f mm from the frames' outline (dashed): a block cut so leaves room for planking of that thickness, flush with the frames. Where the planking runs over the block, set the inset to 0. Chain line: the centre line, along which the paper is folded for one half; level lines: height over the base line.", spacing, name(from), name(to), inset)
	pieces := []*piece{note(tongue.T("Before carving"), tongue.T(carveCaution), s.Column), note("", words, s.Column)}
	var gone []string
	for _, x := range xs {
		in, err := surface.Section(x, inset)
		if err != nil {
			gone = append(gone, err.Error())
			continue
		}
		out, err := surface.Section(x, 0)
		if err != nil {
			out = nil
		}
		title := sectionName(k, from, to, x)
		pieces = append(pieces, sectionPiece(title, in, out))
	}
	if len(gone) == len(xs) {
		return nil, tongue.Errorf("frames %s to %s: %w", name(from), name(to), nothingLeft(gone[0]))
	}
	for _, g := range gone {
		pieces = append(pieces, note("", tongue.T("Left out: %s.", g), s.Column))
	}
	return flow(kind{
		section: tongue.T("Filler blocks"), cut: true,
		name:  fmt.Sprintf("filler-block-%s-%s", name(from), name(to)),
		title: tongue.T("Filler block, frames %s to %s", name(from), name(to)),
	}, pieces, s.Room), nil
}

// nothingLeft is the error of a block that has no section: within the inset there is
// no more of the hull than the planking itself makes.
type nothingLeft string

func (e nothingLeft) Error() string { return string(e) }

// wholeHull is the surface under the planking from the first to the last point of
// every frame: a block has the hull's whole section, planked or not.
func wholeHull(k *loft.Planking) (*loft.Surface, error) {
	if l := k.Plan.Hull.Limits; k.Plan.Hull.Shapeless() || len(l.Down) == 0 && len(l.Up) == 0 {
		return k.Layers[0].Surface, nil
	}
	return loft.Loft(k.Plan.Hull.Frames)
}

// mostSections bounds the sections of one block.
const mostSections = 500

// sectionPlaces gives the x of the sections.
func sectionPlaces(k *loft.Planking, from, to int, spacing float64) ([]float64, error) {
	frames := k.Plan.Hull.Frames
	if from < 0 || to >= len(frames) || from >= to {
		return nil, tongue.Errorf("a filler block from frame %d to %d of %d: choose two frames, the one of lesser x first", from+1, to+1, len(frames))
	}
	if !(spacing > 0) {
		return nil, tongue.Errorf("sections every %g mm: give a spacing above zero", spacing)
	}
	x0, x1 := endOfBlock(frames[from], -1), endOfBlock(frames[to], 1)
	if (x1-x0)/spacing > mostSections {
		return nil, tongue.Errorf("sections every %g mm are more than %d between frames %s and %s: give a wider spacing", spacing, mostSections, frames[from].Name, frames[to].Name)
	}
	var out []float64
	for i := 0; x0+float64(i)*spacing < x1-1e-6; i++ {
		out = append(out, x0+float64(i)*spacing)
	}
	return append(out, x1), nil
}

// endOfBlock is the x at which the sections of a block begin, or end, at a frame: its
// mean x, and of a canted or leaning one, which reaches over some length, the x on
// that side.
func endOfBlock(f hull.Frame, side float64) float64 {
	x := f.X()
	if !offSquare(f) {
		return x
	}
	for _, p := range f.Points {
		x = side * max(side*x, side*p.X())
	}
	return x
}

// offSquare tells whether a frame is canted or leaning; an end curve is neither.
func offSquare(f hull.Frame) bool {
	plane, ok := f.Plane()
	return ok && !plane.Square() && !f.IsEnd()
}

// sectionName tells where a section lies.
func sectionName(k *loft.Planking, from, to int, x float64) string {
	frames := k.Plan.Hull.Frames
	for _, i := range []int{from, to} {
		switch {
		case math.Abs(x-frames[i].X()) >= 1e-6 || offSquare(frames[i]):
		case frames[i].IsEnd():
			return tongue.T("%s, at x = %.2f mm", frames[i].Name, x)
		default:
			return tongue.T("Frame %s", frames[i].Name)
		}
	}
	if offSquare(frames[from]) {
		return tongue.T("At x = %.2f mm", x)
	}
	return tongue.T("%s + %.2f mm", frames[from].Name, x-frames[from].X())
}

// sectionPiece draws a section, with the frames' outline round it.
func sectionPiece(title string, in, out []mgl64.Vec3) *piece {
	p := &piece{}
	top, foot, wide := math.Inf(-1), math.Inf(1), 0.0
	for _, pts := range [][]mgl64.Vec3{in, out} {
		for _, q := range pts {
			top, foot, wide = max(top, q.Z()), min(foot, q.Z()), max(wide, q.Y())
		}
	}
	const numbers = 10.0 // room for the names of the level lines
	centre := draw.Pt(numbers+3+wide, p.lines(0, 0, numbers+6+2*wide, title)+3.5)
	at := func(q mgl64.Vec3, side float64) draw.Point {
		return draw.Pt(centre.X+side*q.Y(), centre.Y+top-q.Z())
	}
	p.levelLines(centre, top, foot, wide)
	p.Line(draw.Ink, chain, draw.Pt(centre.X, centre.Y-3), draw.Pt(centre.X, centre.Y+top-foot+3))
	p.Line(draw.Cut, stout, closed(in, at)...)
	for _, side := range []float64{1, -1} {
		var pts []draw.Point
		for _, q := range out {
			pts = append(pts, at(q, side))
		}
		p.Line(draw.Limit, broken, pts...)
	}
	p.w, p.h = max(p.w, centre.X+wide+3), centre.Y+top-foot+4
	return p
}

// closed runs down one side of a section and back up the other.
func closed(in []mgl64.Vec3, at func(mgl64.Vec3, float64) draw.Point) []draw.Point {
	var pts []draw.Point
	for _, q := range in {
		pts = append(pts, at(q, 1))
	}
	for i := len(in) - 1; i >= 0; i-- {
		pts = append(pts, at(in[i], -1))
	}
	return append(pts, pts[0])
}

// levelLines draws the heights over the base line across a section.
func (p *piece) levelLines(centre draw.Point, top, foot, wide float64) {
	left := centre.X - 2 - wide
	for z := math.Ceil(foot/levels) * levels; z <= top; z += levels {
		y := centre.Y + top - z
		p.Line(draw.Grid, thin, draw.Pt(left, y), draw.Pt(centre.X+wide+2, y))
		p.Text(draw.Pt(left-0.8, y+draw.CapHeight(fine)/2), "z "+figure("%g", z), draw.Ink, fine, draw.Right)
	}
}
