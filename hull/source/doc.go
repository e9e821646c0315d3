// Package source opens whatever file the builder has: a plan, or a source that a
// hull is taken off, which it tells by what stands in the file and not by its name.
//
//	p, kind, err := source.Open("skiff.csv")                            // a plan, made of a source where it is one
//	p, notes, err := source.TakeOff("skiff.svg", drawing.Options{})      // of a source alone
//	found := source.Check("skiff.dxf", drawing.Options{Factor: 0.5})     // every fault, and as much as could be read
//
// The sources are a table of points, a shipyard's table of offsets, measured girths,
// drawings, which package drawing reads, and surfaces of triangles, which package mesh
// slices. Each reader checks what only its
// format can know; what every hull must keep to stands in package hull.
package source
