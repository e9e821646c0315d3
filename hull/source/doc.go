// Package source opens whatever file the builder has: a plan, or a source from which a hull is taken
// off. It recognises them by their contents, not by their names.
//
//	p, kind, err := source.Open("skiff.csv")                            // a plan, made from a source where it is one
//	p, notes, err := source.TakeOff("skiff.svg", drawing.Options{})      // from a source only
//	found := source.Check("skiff.dxf", drawing.Options{Factor: 0.5})     // every fault, and as much as could be read
//
// The sources are a table of points, a shipyard's table of offsets, measured girths, drawings, which
// package drawing reads, and surfaces of triangles, which package mesh slices. Each reader checks what
// only its format can know; the rules that every hull must keep are in package hull.
package source
