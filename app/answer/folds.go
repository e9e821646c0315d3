package answer

import (
	"fmt"
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// foldText tells where a layer's outer face would fold, why, what it counts as
// there, and what can be done instead.
func foldText(l *loft.Layer, n loft.Folds, u Units) string {
	name := l.Surface.FrameName
	text := tongue.T("The outer face of this layer would fold at %s, %s: %s, under planking %s thick. The plan thins it there to %s at frame %s, and blends it out to its full thickness around.",
		framesFrom(l, n.From, n.To), stretchDown(n.Upper, n.Lower, u), foldCause(l, n, u), told(u, n.Thickness, 2), told(u, n.Left, 2), name(n.At))
	var instead []string
	for _, r := range n.Remedies() {
		instead = append(instead, RemedyText(l, r, u))
	}
	return tongue.T("%s To settle it: %s.", text, strings.Join(instead, tongue.T("; or ")))
}

// RemedyText words what can be done about a fold, as one is told to do it.
func RemedyText(l *loft.Layer, r loft.Remedy, u Units) string {
	name := l.Surface.FrameName
	switch r := r.(type) {
	case loft.Thinner:
		return tongue.T("use strips no thicker than %s for this layer", told(u, r.Thickness, 2))
	case loft.EndLayer:
		return tongue.T("lay it only from frame %s to %s", name(r.From), name(r.To))
	case loft.SolidWood:
		return tongue.T("carve that place from a solid block, from frame %s to %s and %s", name(r.From), name(r.To), stretchDown(r.Upper, r.Lower, u))
	}
	return fmt.Sprintf("%+v", r)
}

// RemedyName names a remedy shortly, as on a button.
func RemedyName(l *loft.Layer, r loft.Remedy, u Units) string {
	name := l.Surface.FrameName
	switch r := r.(type) {
	case loft.Thinner:
		return tongue.T("Strips %s thick", told(u, r.Thickness, 2))
	case loft.EndLayer:
		return tongue.T("Lay only frames %s to %s", name(r.From), name(r.To))
	case loft.SolidWood:
		return tongue.T("Block, frame %s to %s", name(r.From), name(r.To))
	}
	return fmt.Sprintf("%+v", r)
}

func foldCause(l *loft.Layer, n loft.Folds, u Units) string {
	switch n.Why {
	case loft.HollowFold:
		return tongue.T("the hollow there has a radius of %s, at frame %s, %s down", told(u, n.Radius, 2), l.Surface.FrameName(n.At), told(u, n.Down, 1))
	case loft.KnuckleFold:
		return tongue.T("a knuckle there turns too sharply, or is too close to the next")
	case loft.SquareFold:
		return tongue.T("its planks there are so square to the keel that their outer face does not reach the frame")
	case loft.NarrowFold:
		return tongue.T("two sides of the frame are so close there that their outer faces meet")
	}
	return tongue.T("the surface turns too sharply there from frame to frame")
}

// blockText tells of a place of a layer that is of solid wood.
func blockText(l *loft.Layer, n loft.MadeBlock, u Units) string {
	name := l.Surface.FrameName
	text := tongue.T("From frame %s to %s, %s, this layer is a solid block: fit it, glue it on and carve it flush with the planking around it", name(n.From), name(n.To), stretchDown(n.Upper, n.Lower, u))
	if n.Thinned {
		text += tongue.T(", down to %s where the surface is hollow", told(u, n.Left, 2))
	}
	return tongue.T("%s. The plan numbers strakes through it: cut them off at its edges.", text)
}

func laidBetween(l *loft.Layer, n loft.LaidBetween) string {
	name := l.Surface.FrameName
	return tongue.T("This layer runs only from frame %s to %s: fair its ends off to nothing before the next frames. Its strakes, strips and widths end there.", name(n.From), name(n.To))
}

// framesFrom names the frames from one to another.
func framesFrom(l *loft.Layer, from, to int) string {
	var frames []int
	for i := from; i <= to; i++ {
		frames = append(frames, i)
	}
	return framesCalled(l, frames)
}

// stretchDown tells a stretch of girth; one without an end goes all the way down.
func stretchDown(upper, lower float64, u Units) string {
	switch {
	case math.IsInf(lower, 1) && upper == 0:
		return tongue.T("all the way down")
	case math.IsInf(lower, 1):
		return tongue.T("from %s down", told(u, upper, 1))
	}
	return tongue.T("%s to %s down", number(u, upper, 1), told(u, lower, 1))
}
