// Package rod finds how a straight, springy strip of rectangular section rests
// against supports.
//
//	rest, err := rod.Solve(ctx, rod.Problem{
//		Section:  rod.Section{Width: 5, Thickness: 1, Modulus: 10000, Shear: 700},
//		Supports: supports, // each an outline in a plane, and how the strip is held there
//	})
//
// The strip touches nothing but its supports. At each it crosses a plane, and stays on
// or outside an outline there: it is held, or it may lift off. It slips through all of
// them along its own length without friction, and its ends are free. [Rest] gives where
// it lies, how far it lifts off, with what force it presses or has to be pressed, and
// how accurate the computation is.
//
// The strip is a discrete elastic rod (Bergou, Wardetzky, Robinson, Audoly and
// Grinspun, Discrete Elastic Rods, ACM Transactions on Graphics 27, 2008) that bends
// flatwise and edgewise, and twists. Since it slips through the supports, its length
// between two of them is whatever makes the energy least; points of it stay on the
// supports' planes, and are evenly spaced between. The energy is minimised by Newton's
// method under the one-sided bounds of the supports, which a primal-dual active set
// determines at each step (Hintermüller, Ito and Kunisch, SIAM Journal on Optimization
// 13, 2002), from an interior point method's guess where many supports stand close, so
// that forces are exact multipliers and not penalties; only a clamp keeps the face flat
// by a stiff spring. Where several states of rest exist it finds one to which the strip
// falls from lying on all of its supports, its energy never rising.
//
// Lengths are mm, forces N, moduli N/mm², energies N·mm. The package knows nothing of
// ships.
package rod
