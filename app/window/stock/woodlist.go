package stock

import (
	"slices"

	"github.com/strakewright/strakewright/hull"
)

// woodList is a list of the plan's wood as the tables show it. Sheets are told as
// strips of their width and length, since all of the same is asked of both.
type woodList struct {
	all  func(p *hull.Plan) []hull.Strips
	put  func(p *hull.Plan, index int, s hull.Strips) // at the end where there is no such index
	drop func(p *hull.Plan, index int)
}

// stripList is a list of strips.
func stripList(of func(p *hull.Plan) *[]hull.Strips) woodList {
	return woodList{
		all:  func(p *hull.Plan) []hull.Strips { return *of(p) },
		put:  func(p *hull.Plan, i int, s hull.Strips) { *of(p) = with(*of(p), i, s) },
		drop: func(p *hull.Plan, i int) { *of(p) = without(*of(p), i) },
	}
}

// sheetList is a list of sheets.
func sheetList(of func(p *hull.Plan) *[]hull.Sheet) woodList {
	return woodList{
		all: func(p *hull.Plan) []hull.Strips {
			var out []hull.Strips
			for _, s := range *of(p) {
				out = append(out, hull.Strips{Width: s.Width, Thickness: s.Thickness, Length: s.Length, Species: s.Species, Count: s.Count, Price: s.Price})
			}
			return out
		},
		put: func(p *hull.Plan, i int, s hull.Strips) {
			var sheet hull.Sheet
			if i >= 0 && i < len(*of(p)) {
				sheet = (*of(p))[i] // with what the file says of it beside
			}
			sheet.Width, sheet.Thickness, sheet.Length, sheet.Species = s.Width, s.Thickness, s.Length, s.Species
			sheet.Count, sheet.Price = s.Count, s.Price
			*of(p) = with(*of(p), i, sheet)
		},
		drop: func(p *hull.Plan, i int) { *of(p) = without(*of(p), i) },
	}
}

// with is a copy of a list with another entry at an index, or at its end.
func with[T any](list []T, i int, entry T) []T {
	out := slices.Clone(list)
	if i >= 0 && i < len(out) {
		out[i] = entry
		return out
	}
	return append(out, entry)
}

// without is a copy of a list without the entry at an index.
func without[T any](list []T, i int) []T {
	if i >= len(list) {
		return list
	}
	return slices.Delete(slices.Clone(list), i, i+1)
}
