package hull

import (
	"fmt"
	"math"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Sheet describes sheets of wood of one kind and size, at hand or on sale. Lengths
// in mm. The grain runs along the length, which may well be the shorter side.
type Sheet struct {
	Width, Length float64 // across and along the grain
	Thickness     float64
	Species       string
	Count         int     // how many there are; AsMany: unlimited, on sale only
	Price         float64 // of one sheet on sale, in any currency; 0 where it is not known

	extra *extra
}

// UsualSheet is the sheet size assumed where none is on sale: 100 × 1000 mm with the
// grain along the length. Common practice, no source.
func UsualSheet(thickness float64, species string) Sheet {
	return Sheet{Width: 100, Length: 1000, Thickness: thickness, Species: species, Count: AsMany}
}

// Of reports whether the sheets have the given thickness, within a hundredth of
// a millimetre, and are of the given species; an unnamed species matches any.
func (s Sheet) Of(thickness float64, species string) bool {
	return Strips{Thickness: s.Thickness, Species: s.Species}.Of(0, thickness, species)
}

// mostSheets is how many kinds of sheet may be at hand or on sale.
const mostSheets = 1000

// sheets reads the sheet wood at hand or on sale.
func (r *planReader) sheets(n node, where string, sold bool) []Sheet {
	name := map[bool]string{false: tongue.T("the sheets at hand"), true: tongue.T("the sheets on sale")}[sold]
	items, _ := r.items(n, fmt.Sprintf("%q", where), mostSheets)
	var out []Sheet
	for i, n := range items {
		o := r.object(n, tongue.T("entry %d of %s", i+1, name))
		s := Sheet{
			Width:     o.number("width", sheetSize),
			Length:    o.number("length", sheetSize),
			Thickness: o.number("thickness", StripThickness),
			Species:   o.string("species"),
		}
		s.Count, s.Price = r.count(n, o, sold), r.price(o, sold)
		s.extra = o.rest()
		out = append(out, s)
	}
	return out
}

// count reads how many there are of a kind: what is at hand must give it, and what
// is on sale without it is unlimited.
func (r *planReader) count(n node, o *fields, sold bool) int {
	count, counted := o.take("count")
	if counted {
		how, _ := r.whole(count, tongue.T("\"count\" of %s", o.where), stripCount)
		return how
	}
	if !sold && n.kind() == '{' {
		r.fault(n, "say how many there are", "%s has no \"count\"", o.where)
	}
	return AsMany
}

// sheetList is the sheets at hand or on sale.
func sheetList(sheets []Sheet, sold bool) list {
	out := list{}
	for _, s := range sheets {
		o := object{{"width", s.Width}, {"length", s.Length}, {"thickness", s.Thickness}, {"species", s.Species}}
		out = append(out, append(append(o, countMembers(s.Count, s.Price, sold)...), s.extra.members()...))
	}
	return out
}

// countMembers are the members that say how many there are of a kind, and the price
// of one on sale.
func countMembers(count int, price float64, sold bool) object {
	var o object
	if !sold || count != AsMany {
		o = append(o, member{"count", count})
	}
	if sold && price != 0 {
		o = append(o, member{"price", price})
	}
	return o
}

// Check returns an error on sheets with an impossible figure.
func (s Sheet) Check() error {
	for _, figure := range []struct {
		what   string
		v      float64
		within Range
		unit   string
	}{
		{tongue.T("the sheet's width"), s.Width, sheetSize, " mm"}, {tongue.T("the sheet's length"), s.Length, sheetSize, " mm"},
		{tongue.T("the sheet's thickness"), s.Thickness, StripThickness, " mm"}, {tongue.T("the price of a sheet"), s.Price, stripPrice, ""},
	} {
		if err := figure.within.Refuse(figure.what, figure.v, figure.unit); err != nil {
			return err
		}
	}
	if s.Count != AsMany && !stripCount.Holds(float64(s.Count)) {
		return tongue.Errorf("there are %d sheets of one kind: give them %s", s.Count, stripCount)
	}
	return nil
}

// checkSheets returns the first error in the plan's sheets.
func (p *Plan) checkSheets() error {
	for _, s := range slices.Concat(p.SheetBox, p.SheetShop) {
		if err := s.Check(); err != nil {
			return err
		}
	}
	return nil
}

// SheetTiltAngle is the greatest angle between a strake and the grain of a
// sheet.
func (t Trade) SheetTiltAngle() Angle { return Angle(t.SheetTilt * math.Pi / 180) }
