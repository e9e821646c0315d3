package hull

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"sync"

	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// Strips describes strips of wood of one kind and length, in the builder's own
// stock or on sale. Lengths in mm.
type Strips struct {
	Width, Thickness, Length float64
	Species                  string
	Count                    int     // how many there are; AsMany: unlimited, on sale only
	Price                    float64 // of one strip on sale, in any currency; 0 where it is not known

	extra *extra
}

// AsMany is the count of strips on sale without limit.
const AsMany = -1

// Wood is a species: how it shrinks from green to oven dry and, where that is
// known, how far it bends.
type Wood struct {
	Name       string
	Radial     float64 // percent of the green size: the width of a quarter-sawn strip
	Tangential float64 // percent of the green size: the width of a flat-sawn strip
	Source     string  // where these figures come from

	Rupture   float64 // modulus of rupture at 12 percent moisture, MPa; 0 where it is not known, as for all that follow
	Stiffness float64 // modulus of elasticity at 12 percent moisture, GPa
	Soaked    float64 // face strain to which a soaked strip can be bent, a ratio
	Heated    float64 // face strain to which a steamed or heated strip can be bent without a strap, a ratio
	Unbroken  float64 // test pieces that survived steam bending whole, percent
	Bending   string  // where these figures come from

	extra *extra
}

// Breaks is the strain in a dry strip's faces at which it breaks by the formula
// for a straight beam, its modulus of rupture over its modulus of elasticity, a
// ratio; 0 where they are not known.
func (w Wood) Breaks() float64 {
	if w.Stiffness == 0 {
		return 0
	}
	const mpaInGPa = 1000
	return w.Rupture / (w.Stiffness * mpaInGPa)
}

// UsualWoods is the table of species that comes with the program. The slice
// belongs to the caller.
func UsualWoods() []Wood { return slices.Clone(usualWoods()) }

var usualWoods = sync.OnceValue(func() []Wood {
	woods, err := ReadWoods(bytes.NewReader(assets.Wood()), "wood.json")
	if err != nil {
		panic(err) // it is embedded, and a test reads it
	}
	return woods
})

// Moisture is the moisture content of the strips, percent of the dry weight.
type Moisture struct {
	Bought float64 // as they come from the supplier
	Room   float64 // in equilibrium with the room where the model stands

	extra *extra
}

// usualMoisture is the moisture that wood settles to indoors in a temperate
// climate: 8 percent, Wood Handbook FPL-GTR-190, table 13-2, from memory.
const usualMoisture = 8

// NewMoisture is the usual moisture: that of strips kept indoors.
func NewMoisture() Moisture { return Moisture{Bought: usualMoisture, Room: usualMoisture} }

// Laying is the order in which strakes are laid.
type Laying string

// The orders of laying; in each, a strake is laid on both sides before the
// next.
const (
	Meeting  Laying = "meeting"  // alternately from the upper limit down and from the garboard up: neither of these, whose edges are fixed, has to be fitted between two others
	Downward Laying = "downward" // from the upper limit down, the garboard last
	Upward   Laying = "upward"   // from the garboard up
	Outward  Laying = "outward"  // from the free band line both ways, or from where Cutting.Start says
)

// Cutting is how strakes are cut into pieces and fastened.
type Cutting struct {
	Kerf            float64 // mm lost between two pieces of one strip
	Overhang        float64 // mm by which a strake is cut longer at its free end, to hold it by
	Between         int     // full strakes between two butts on one frame
	Shift           int     // frames from a butt to the nearest in the next strake, at least
	Laying          Laying
	Start           string // where laying outwards begins, as Starts reads it; empty for the free line
	Pins, Treenails int    // at each frame that a strake crosses, and at each end of a butt: pins while the glue sets, treenails for good

	extra *extra
}

// NewCutting is the usual way: common practice, no source.
func NewCutting() Cutting {
	return Cutting{Kerf: 0.5, Overhang: 15, Between: 3, Shift: 1, Laying: Meeting, Pins: 2}
}

// Limits of what is said about the wood.
const (
	mostStrips = 1000 // kinds of strips at hand or on sale
	mostWoods  = 1000 // species
)

// ReadWoods reads a table of species, such as assets/wood.json: a JSON object
// with a list "woods". The error is the first Fault of the file, which names
// the file as name.
func ReadWoods(r io.Reader, name string) ([]Wood, error) {
	f := fault.List{File: name}
	text, ok := plaintext.Read(r, largestPlanFile, &f)
	if !ok {
		return nil, f.Sorted()[0]
	}
	p := &planReader{jsonReader{List: f, text: text}}
	if !p.wellFormed() {
		return nil, p.Sorted()[0]
	}
	start := len(text) - len(bytes.TrimLeft(text, " \t\r\n"))
	o := p.object(node{bytes.TrimSpace(text), start}, tongue.T("the table"))
	var out []Wood
	if n, ok := o.need("woods"); ok {
		out = p.woods(n)
	}
	if found := p.Sorted(); len(found) > 0 {
		return nil, found[0]
	}
	return out, nil
}

// woods reads a list of species.
func (r *planReader) woods(n node) []Wood {
	items, _ := r.items(n, `"woods"`, mostWoods)
	var out []Wood
	seen := map[string]bool{}
	for i, n := range items {
		o := r.object(n, tongue.T("wood %d", i+1))
		w := Wood{Name: o.string("name")}
		switch {
		case w.Name == "":
			r.fault(n, `give it a "name"`, "%s has no name", o.where)
		case seen[w.Name]:
			r.fault(n, "remove one of them", "the wood %s appears twice", fault.Name(w.Name))
		}
		seen[w.Name] = true
		w.Radial = o.number("radial", shrinkage)
		w.Tangential = o.number("tangential", shrinkage)
		w.Source = o.string("source")
		r.bending(o, n, &w)
		w.extra = o.rest()
		out = append(out, w)
	}
	return out
}

// bendingFigures are the figures that say how a wood bends, by their keys.
func (w *Wood) bendingFigures() []bendingFigure {
	return []bendingFigure{
		{"rupture", " MPa", &w.Rupture, rupture}, {"stiffness", " GPa", &w.Stiffness, Stiffness},
		{"soaked", "", &w.Soaked, faceStrain}, {"heated", "", &w.Heated, faceStrain}, {"unbroken", " %", &w.Unbroken, unbroken},
	}
}

// bendingFigure is one of them.
type bendingFigure struct {
	key, unit string
	figure    *float64
	within    Range
}

// bending reads how a wood bends; any of it may be left out.
func (r *planReader) bending(o *fields, n node, w *Wood) {
	for _, f := range w.bendingFigures() {
		if n, ok := o.take(f.key); ok {
			*f.figure, _ = r.number(n, tongue.T("%q of %s", f.key, o.where), f.within)
		}
	}
	if (w.Rupture == 0) != (w.Stiffness == 0) {
		r.fault(n, `give both, "rupture" in MPa and "stiffness" in GPa, or neither`, "%s has only one of its two moduli", o.where)
	}
	if w.Soaked > 0 && w.Heated > 0 && w.Heated < w.Soaked {
		r.fault(n, "make the second at least as great", `"soaked" of %s is more than "heated"`, o.where)
	}
	w.Bending = o.string("bending_source")
}

// bendingMembers are the known figures among these.
func (w Wood) bendingMembers() object {
	var out object
	for _, f := range w.bendingFigures() {
		if *f.figure != 0 {
			out = append(out, member{f.key, *f.figure})
		}
	}
	if w.Bending != "" {
		out = append(out, member{"bending_source", w.Bending})
	}
	return out
}

// timber reads what the plan says about the wood at hand and how it is cut.
func (r *planReader) timber(o *fields, p *Plan) {
	p.Moisture, p.Cutting = NewMoisture(), NewCutting()
	if n, ok := o.take("woods"); ok {
		p.Woods = r.woods(n)
	}
	if n, ok := o.take("moisture"); ok {
		m := r.object(n, tongue.T("the moisture"))
		p.Moisture = Moisture{Bought: m.number("bought", MoistureContent), Room: m.number("room", MoistureContent), extra: m.rest()}
	}
	if n, ok := o.take("box"); ok {
		p.Box = r.strips(n, "box", false)
	}
	if n, ok := o.take("shop"); ok {
		p.Shop = r.strips(n, "shop", true)
	}
	if n, ok := o.take("sheet_box"); ok {
		p.SheetBox = r.sheets(n, "sheet_box", false)
	}
	if n, ok := o.take("sheet_shop"); ok {
		p.SheetShop = r.sheets(n, "sheet_shop", true)
	}
	if n, ok := o.take("cutting"); ok {
		p.Cutting = r.cutting(n)
	}
}

// strips reads the strips at hand or on sale.
func (r *planReader) strips(n node, where string, sold bool) []Strips {
	items, _ := r.items(n, fmt.Sprintf("%q", where), mostStrips)
	var out []Strips
	for i, n := range items {
		o := r.object(n, tongue.T("entry %d of the %s", i+1, where))
		s := Strips{
			Width:     o.number("width", StripWidth),
			Thickness: o.number("thickness", StripThickness),
			Length:    o.number("length", stripLength),
			Species:   o.string("species"),
		}
		s.Count, s.Price = r.count(n, o, sold), r.price(o, sold)
		s.extra = o.rest()
		out = append(out, s)
	}
	return out
}

// price reads the price of one item on sale; 0 where none is given.
func (r *planReader) price(o *fields, sold bool) float64 {
	if !sold {
		return 0
	}
	n, ok := o.take("price")
	if !ok {
		return 0
	}
	price, _ := r.number(n, tongue.T("\"price\" of %s", o.where), stripPrice)
	return price
}

// cutting reads how strakes are cut; anything left out is as usual.
func (r *planReader) cutting(n node) Cutting {
	o := r.object(n, tongue.T("the cutting"))
	c := NewCutting()
	for _, f := range []struct {
		key    string
		into   *float64
		within Range
	}{{"kerf", &c.Kerf, kerfWidth}, {"overhang", &c.Overhang, Overhang}} {
		if n, ok := o.take(f.key); ok {
			*f.into, _ = r.number(n, tongue.T("%q of %s", f.key, o.where), f.within)
		}
	}
	for _, f := range []struct {
		key    string
		into   *int
		within Range
	}{{"between", &c.Between, buttCount}, {"shift", &c.Shift, buttCount}, {"pins", &c.Pins, pinCount}, {"pegs", &c.Treenails, pinCount}} {
		if n, ok := o.take(f.key); ok {
			*f.into, _ = r.whole(n, tongue.T("%q of %s", f.key, o.where), f.within)
		}
	}
	if laying := o.oneOf("laying", false, string(Meeting), string(Downward), string(Upward), string(Outward)); laying != "" {
		c.Laying = Laying(laying)
	}
	if n, ok := o.left["start"]; ok {
		c.Start = o.string("start")
		if _, err := c.Starts(); err != nil {
			r.fault(n, "name a strake as 1.05 or a line as line 2, one a layer, or leave it out", "\"start\" of %s: %v", o.where, err)
		}
	}
	c.extra = o.rest()
	return c
}

// timber is the members of the plan that describe the wood; those that are as
// usual are left out.
func (p *Plan) timber() object {
	var o object
	if len(p.Woods) > 0 {
		woods := list{}
		for _, w := range p.Woods {
			o := object{{"name", w.Name}, {"radial", w.Radial}, {"tangential", w.Tangential}, {"source", w.Source}}
			woods = append(woods, append(append(o, w.bendingMembers()...), w.extra.members()...))
		}
		o = append(o, member{"woods", woods})
	}
	if m := p.Moisture; m != NewMoisture() && m != (Moisture{}) {
		o = append(o, member{"moisture", append(object{{"bought", m.Bought}, {"room", m.Room}}, m.extra.members()...)})
	}
	if len(p.Box) > 0 {
		o = append(o, member{"box", stripsList(p.Box, false)})
	}
	if len(p.Shop) > 0 {
		o = append(o, member{"shop", stripsList(p.Shop, true)})
	}
	if len(p.SheetBox) > 0 {
		o = append(o, member{"sheet_box", sheetList(p.SheetBox, false)})
	}
	if len(p.SheetShop) > 0 {
		o = append(o, member{"sheet_shop", sheetList(p.SheetShop, true)})
	}
	if c := p.Cutting; c != NewCutting() && c != (Cutting{}) {
		cutting := object{
			{"kerf", c.Kerf}, {"overhang", c.Overhang}, {"between", c.Between}, {"shift", c.Shift},
			{"laying", string(c.Laying)}, {"pins", c.Pins}, {"pegs", c.Treenails},
		}
		if c.Start != "" {
			cutting = append(cutting, member{"start", c.Start})
		}
		o = append(o, member{"cutting", append(cutting, c.extra.members()...)})
	}
	return o
}

// stripsList is the strips at hand or on sale.
func stripsList(strips []Strips, sold bool) list {
	out := list{}
	for _, s := range strips {
		o := object{{"width", s.Width}, {"thickness", s.Thickness}, {"length", s.Length}, {"species", s.Species}}
		out = append(out, append(append(o, countMembers(s.Count, s.Price, sold)...), s.extra.members()...))
	}
	return out
}

// Of reports whether the strips have the given width and thickness, within a
// hundredth of a millimetre, and are of the given species; an unnamed species
// matches any.
func (s Strips) Of(width, thickness float64, species string) bool {
	const same = 0.01
	return math.Abs(s.Width-width) < same && math.Abs(s.Thickness-thickness) < same && (species == "" || s.Species == "" || sameName(s.Species, species))
}

// sameName reports whether two names are the same apart from case and spaces.
func sameName(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
