package loft

import (
	"math"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/rod"
)

// Ribbon is a strip described by its resistance to bending. It is narrow: all its
// energy is that of its middle line, with the surface's curvatures averaged over about
// its width (see ribbonBeam.felt); the energy of hollowing it across is neglected.
type Ribbon struct {
	Width, Thickness float64 // mm
	Stiffness        float64 // modulus of elasticity along the grain, GPa; 0 where it is not known
}

// shearShare is the shear modulus of wood as a share of its modulus of elasticity along
// the grain. The grades of EN 338 (Structural timber, strength classes) take 1/16 for
// all; from memory, the Wood Handbook, FPL-GTR-190, table 5-1, has 0.05 to 0.15 for
// single woods. No table of ours gives it by species, so the shape of the lie does not
// depend on the species.
const shearShare = 1. / 16

// RibbonOf is the strip of a stock, of the least stiff of the plan's woods that have
// the species' name.
func RibbonOf(p *hull.Plan, stock hull.Stock) Ribbon {
	r := Ribbon{Width: stock.Width, Thickness: stock.Thickness}
	for _, w := range WoodsNamed(stock.Species, p.Woods, hull.UsualWoods()) {
		if w.Stiffness > 0 && (r.Stiffness == 0 || w.Stiffness < r.Stiffness) {
			r.Stiffness = w.Stiffness
		}
	}
	return r
}

// rigidity is a strip's stiffness in bending about its face, in edge-set and in twist,
// each relative to that in edge-set: (t/w)², 1 and G·J/(E·t·w³/12). The shape depends
// on these ratios alone.
type rigidity struct{ face, edge, twist float64 }

// rigidity gives the ratios; a strip of no thickness resists edge-set alone.
func (r Ribbon) rigidity() rigidity {
	w, t := r.Width, r.Thickness
	flat := (t / w) * (t / w)
	if t == 0 {
		return rigidity{edge: 1}
	}
	return rigidity{face: flat, edge: 1, twist: shearShare * 12 * rod.Torsion(w, t) / (t * w * w * w)}
}

// edgeRigidity is E·t·w³/12 for each GPa of E, N·mm².
func (r Ribbon) edgeRigidity() float64 {
	const newtonsInGPa = 1000 // a mm²
	return newtonsInGPa * r.Thickness * math.Pow(r.Width, 3) / 12
}
