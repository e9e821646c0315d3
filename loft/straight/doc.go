// Package straight cuts a strip to a shape by the fewest straight cuts.
//
//	cuts, err := straight.Cut([]straight.Place{{At: 0, Width: 3.2, Corner: true}, ...}, straight.Rule{Strip: 5, Within: 0.15, Step: 0.1})
//
// A strip's width is given at places along it, at some of which a cut may end. [Cut]
// gives the widths at the ends of its cuts, in steps that can be read on a rule. All
// lengths are mm; the package knows nothing of ships or plans.
package straight
