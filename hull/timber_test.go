package hull

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// timbered is the cutter with all that is told of its wood.
var timbered = strings.Replace(cutter, `  "rigging"`, `  "woods": [
    {"name": "hedge plum", "radial": 4, "tangential": 8.5, "source": "own oven", "from": "the hedge"},
    {"name": "quince", "radial": 5, "tangential": 9}
  ],
  "moisture": {"bought": 10, "room": 7.5, "meter": "pins"},
  "box": [
    {"width": 5, "thickness": 1.5, "length": 612, "species": "lime", "count": 3, "shelf": 2}
  ],
  "shop": [
    {"width": 5, "thickness": 1.5, "length": 1000, "species": "lime", "price": 1.25, "aisle": "A"},
    {"width": 5, "thickness": 1.5, "length": 600, "count": 12, "price": 0.8}
  ],
  "sheet_box": [
    {"width": 75, "length": 900, "thickness": 1.5, "species": "lime", "count": 2, "drawer": 4}
  ],
  "sheet_shop": [
    {"width": 100, "length": 1000, "thickness": 1.5, "price": 6.5, "rack": "B"},
    {"width": 300, "length": 200, "thickness": 1.5, "species": "lime", "count": 7}
  ],
  "cutting": {"kerf": 0.8, "overhang": 0, "between": 2, "shift": 3, "laying": "upward", "start": "line 1, 2/1.05", "pins": 1, "pegs": 4, "saw": "fine"},
  "rigging"`, 1)

func TestReadTimber(t *testing.T) {
	p, err := ReadPlan(strings.NewReader(timbered), "")
	require.NoError(t, err)
	assert.Equal(t, "hedge plum", p.Woods[0].Name)
	assert.Equal(t, []float64{5, 9}, []float64{p.Woods[1].Radial, p.Woods[1].Tangential})
	assert.Equal(t, []float64{10, 7.5}, []float64{p.Moisture.Bought, p.Moisture.Room})
	assert.Equal(t, 3, p.Box[0].Count)
	assert.Equal(t, []int{AsMany, 12}, []int{p.Shop[0].Count, p.Shop[1].Count})
	assert.Equal(t, 1.25, p.Shop[0].Price)
	assert.Equal(t, []float64{75, 900, 1.5, 2}, []float64{p.SheetBox[0].Width, p.SheetBox[0].Length, p.SheetBox[0].Thickness, float64(p.SheetBox[0].Count)})
	assert.Equal(t, []int{AsMany, 7}, []int{p.SheetShop[0].Count, p.SheetShop[1].Count})
	assert.Equal(t, 6.5, p.SheetShop[0].Price)
	assert.Equal(t, "lime", p.SheetShop[1].Species)
	c := p.Cutting
	c.extra = nil
	assert.Equal(t, Cutting{Kerf: 0.8, Between: 2, Shift: 3, Laying: Upward, Start: "line 1, 2/1.05", Pins: 1, Treenails: 4}, c)

	text := written(t, p)
	for _, kept := range []string{`"from": "the hedge"`, `"meter": "pins"`, `"shelf": 2`, `"aisle": "A"`, `"drawer": 4`, `"rack": "B"`, `"saw": "fine"`} {
		assert.Contains(t, text, kept)
	}
	again, err := ReadPlan(strings.NewReader(text), "")
	require.NoError(t, err)
	assert.Equal(t, p, again)
	q := p.Clone()
	q.Woods[0].Name, q.Box[0].Count, q.Shop[0].Price, q.Cutting.Kerf = "other", 9, 9, 9
	q.SheetBox[0].Count, q.SheetShop[0].Price = 9, 9
	assert.Equal(t, text, written(t, p), "a copy shares nothing")
}

// A plan that says nothing of its wood has it as usual, and goes on saying
// nothing.
func TestTimberLeftOut(t *testing.T) {
	p := readCutter(t)
	assert.Equal(t, NewMoisture(), p.Moisture)
	assert.Equal(t, NewCutting(), p.Cutting)
	text := written(t, p)
	p.Moisture, p.Cutting = Moisture{}, Cutting{}
	assert.Equal(t, text, written(t, p))
	assert.NotContains(t, text, "moisture")
	assert.NotContains(t, text, "cutting")
	some, err := ReadPlan(strings.NewReader(strings.Replace(cutter, `"rigging"`, `"cutting": {"kerf": 1}, "rigging"`, 1)), "")
	require.NoError(t, err)
	want := NewCutting()
	want.Kerf = 1
	assert.Equal(t, want, some.Cutting)
}

func TestTimberFaults(t *testing.T) {
	schema := planSchema(t)
	for _, c := range []struct{ was, is, want string }{
		{`"name": "quince"`, `"name": ""`, `: wood 2 has no name; give it a "name".`},
		{`quince`, `hedge plum`, `: the wood hedge plum appears twice; remove one of them.`},
		{`"radial": 4`, `"radial": 0`, `: "radial" of wood 1 is 0; give it above 0 and at most 30.`},
		{`, "tangential": 9}`, `}`, `: wood 2 has no "tangential"; add it.`},
		{`"bought": 10`, `"bought": -1`, `: "bought" of the moisture is -1; give it above 0 and at most 200.`},
		{`, "room": 7.5`, ``, `: the moisture has no "room"; add it.`},
		{`"count": 3`, `"count": 2.5`, `: "count" of entry 1 of the box is 2.5; give a whole number.`},
		{`"count": 3`, `"many": 3`, `: entry 1 of the box has no "count"; say how many there are.`},
		{`"count": 12`, `"count": -1`, `: "count" of entry 2 of the shop is -1; give it from 0 to 10000.`},
		{`"length": 600`, `"length": 0`, `: "length" of entry 2 of the shop is 0; give it from 1 to 100000.`},
		{`0.8}`, `-0.8}`, `: "price" of entry 2 of the shop is -0.8; give it from 0 to 1000000.`},
		{`"count": 2, "drawer"`, `"drawer"`, `: entry 1 of the sheets at hand has no "count"; say how many there are.`},
		{`"width": 75`, `"width": 0`, `: "width" of entry 1 of the sheets at hand is 0; give it from 1 to 100000.`},
		{`, "thickness": 1.5, "price"`, `, "price"`, `: entry 1 of the sheets on sale has no "thickness"; add it.`},
		{`6.5`, `-6.5`, `: "price" of entry 1 of the sheets on sale is -6.5; give it from 0 to 1000000.`},
		{`"count": 7`, `"count": 1e9`, `: "count" of entry 2 of the sheets on sale is 1e9; give it from 0 to 10000.`},
		{`"kerf": 0.8`, `"kerf": "saw"`, `: "kerf" of the cutting is "saw", not a number; give a number.`},
		{`"between": 2`, `"between": 1.5`, `: "between" of the cutting is 1.5; give a whole number.`},
		{`"upward"`, `"sideways"`, `: "laying" of the cutting is "sideways"; write meeting, downward, upward or outward.`},
		{`"line 1, 2/1.05"`, `"the keel"`, `: "start" of the cutting: laying cannot begin at the keel, which is neither a strake such as 1.05 nor a line such as line 2; name a strake as 1.05 or a line as line 2, one a layer, or leave it out.`},
		{`2/1.05`, `1.05`, `: "start" of the cutting: 1.05 is a second place to begin in one layer; name a strake as 1.05 or a line as line 2, one a layer, or leave it out.`},
		{`"pegs": 4`, `"pegs": 400`, `: "pegs" of the cutting is 400; give it from 0 to 100.`},
	} {
		text := strings.Replace(timbered, c.was, c.is, 1)
		require.NotEqual(t, timbered, text, c.was)
		_, err := ReadPlan(strings.NewReader(text), "")
		if assert.Error(t, err, c.is) {
			_, told, _ := strings.Cut(err.Error(), ": ")
			assert.Equal(t, c.want, ": "+told)
		}
		if !strings.Contains(c.want, "appears twice") && !strings.Contains(c.want, "a second place") { // which no schema can tell
			assert.Error(t, schema.Validate(decoded(t, text)), c.is)
		}
	}
}

func TestTimberSchema(t *testing.T) {
	assert.NoError(t, planSchema(t).Validate(decoded(t, timbered)))
}

func TestTimberCheck(t *testing.T) {
	p := readCutter(t)
	p.Box = []Strips{{Width: 5, Thickness: 1, Length: 500, Count: AsMany}}
	p.Moisture.Room = math.NaN()
	assert.Len(t, p.Check(), 2)
}

// What no plan file may say of a sheet, no edit may either.
func TestSheetsAreChecked(t *testing.T) {
	good := UsualSheet(2, "lime")
	require.NoError(t, good.Check())
	for want, change := range map[string]func(s *Sheet){
		"the sheet's width is 0 mm: give it from 1 to 100000 mm":        func(s *Sheet) { s.Width = 0 },
		"the sheet's length is not finite: give it from 1 to 100000 mm": func(s *Sheet) { s.Length = math.NaN() },
		"the sheet's thickness is 200 mm: give it from 0.05 to 100 mm":  func(s *Sheet) { s.Thickness = 200 },
		"the price of a sheet is -1: give it from 0 to 1000000":         func(s *Sheet) { s.Price = -1 },
		"there are -2 sheets of one kind: give them from 0 to 10000":    func(s *Sheet) { s.Count = -2 },
	} {
		bad := good
		change(&bad)
		assert.EqualError(t, bad.Check(), want)
		p := readCutter(t)
		p.SheetShop = []Sheet{good, bad}
		assert.EqualError(t, p.CheckFigures(), want)
		p.SheetShop, p.SheetBox = nil, []Sheet{bad}
		assert.EqualError(t, p.CheckFigures(), want)
	}
	p := readCutter(t)
	p.SheetBox = []Sheet{good}
	assert.Len(t, p.Check(), 1, "there is an end of sheets at hand")
}

func TestSheetOf(t *testing.T) {
	s := Sheet{Thickness: 1.5, Species: "paper  Birch"}
	assert.True(t, s.Of(1.505, "Paper birch"))
	assert.True(t, s.Of(1.5, ""))
	assert.False(t, s.Of(1.5, "yellow birch"))
	assert.False(t, s.Of(1, ""))
	assert.True(t, UsualSheet(0.6, "").Of(0.6, "walnut"))
}

func TestStripsOf(t *testing.T) {
	s := Strips{Width: 5, Thickness: 1.5, Species: "paper  Birch"}
	assert.True(t, s.Of(5.005, 1.5, "Paper birch"))
	assert.True(t, s.Of(5, 1.5, ""))
	assert.False(t, s.Of(5, 1.5, "yellow birch"))
	assert.False(t, s.Of(5.1, 1.5, ""))
	assert.False(t, s.Of(5, 1, ""))
}

func TestReadWoods(t *testing.T) {
	f, err := os.Open("../assets/wood.json")
	require.NoError(t, err)
	defer f.Close()
	woods, err := ReadWoods(f, "wood.json")
	require.NoError(t, err)
	require.Len(t, woods, 20)
	memory := 0
	for _, w := range woods {
		assert.Less(t, w.Radial, w.Tangential, "%s: wood shrinks more along the rings", w.Name)
		if w.Source == "typical figures, no source" {
			memory++
			continue
		}
		assert.Contains(t, w.Source, "FPL-GTR-190, table 4-", w.Name)
	}
	assert.Equal(t, 3, memory)
	for _, w := range woods {
		assert.Equal(t, "typical figures, no source", w.Bending, w.Name)
		assert.InDelta(t, 0.0078, w.Breaks(), 0.0021, "%s: woods break at six to nine thousandths, by the beam formula", w.Name)
		assert.True(t, w.Heated == 0 || w.Heated > 2*w.Breaks(), w.Name)
	}
	assert.Equal(t, woods, UsualWoods())
	for text, want := range map[string]string{
		"":     "w: the file is empty; check that it is the right file.",
		"\n[]": "w, line 2: the table is a list, not an object; make it an object {..}.",
		"{":    "w, line 1: the file breaks off before its end; take a whole copy of it.",
		`{"woods": [{"name": "x", "radial": 1}]}`:                                                 `w, line 1: wood 1 has no "tangential"; add it.`,
		`{"woods": [{"name": "x", "radial": 1, "tangential": 2, "rupture": 80}]}`:                 `w, line 1: wood 1 has only one of its two moduli; give both, "rupture" in MPa and "stiffness" in GPa, or neither.`,
		`{"woods": [{"name": "x", "radial": 1, "tangential": 2, "soaked": 0.1, "heated": 0.05}]}`: `w, line 1: "soaked" of wood 1 is more than "heated"; give the second as much at least.`,
	} {
		_, err := ReadWoods(strings.NewReader(text), "w")
		assert.EqualError(t, err, want)
	}
}

// someTimber draws what a plan may tell of its wood.
func someTimber(t *rapid.T, p *Plan) {
	length := rapid.Float64Range(0.1, 1000)
	strips := func(sold bool) []Strips {
		var out []Strips
		for range rapid.IntRange(0, 3).Draw(t, "strips") {
			s := Strips{
				Width: length.Draw(t, "width"), Thickness: rapid.Float64Range(0.1, 100).Draw(t, "thickness"), Length: rapid.Float64Range(1, 1000).Draw(t, "length"),
				Species: rapid.String().Draw(t, "species"), Count: rapid.IntRange(0, 99).Draw(t, "count"),
			}
			if sold {
				s.Price = rapid.Float64Range(0, 9).Draw(t, "price")
				if rapid.Bool().Draw(t, "plenty") {
					s.Count = AsMany
				}
			}
			out = append(out, s)
		}
		return out
	}
	p.Box, p.Shop = strips(false), strips(true)
	sheets := func(sold bool) []Sheet {
		var out []Sheet
		for _, s := range strips(sold) {
			out = append(out, Sheet{Width: 1 + s.Width, Length: s.Length, Thickness: s.Thickness, Species: s.Species, Count: s.Count, Price: s.Price})
		}
		return out
	}
	p.SheetBox, p.SheetShop = sheets(false), sheets(true)
	if rapid.Bool().Draw(t, "own wood") {
		p.Woods = []Wood{{Name: "w" + rapid.StringN(0, 20, -1).Draw(t, "wood"), Radial: 1, Tangential: rapid.Float64Range(0.1, 30).Draw(t, "tangential")}}
		if rapid.Bool().Draw(t, "its bending") {
			w := &p.Woods[0]
			w.Rupture, w.Stiffness = rapid.Float64Range(1, 500).Draw(t, "rupture"), rapid.Float64Range(0.1, 50).Draw(t, "stiffness")
			w.Soaked = rapid.Float64Range(0.0001, 0.1).Draw(t, "soaked")
			w.Heated, w.Unbroken, w.Bending = 2*w.Soaked, 55, "own trials"
		}
	}
	p.Moisture.Bought = rapid.Float64Range(1, 200).Draw(t, "moisture")
	p.Cutting = Cutting{
		Kerf: rapid.Float64Range(0, 3).Draw(t, "kerf"), Overhang: rapid.Float64Range(0, 50).Draw(t, "overhang"),
		Between: rapid.IntRange(0, 5).Draw(t, "between"), Shift: rapid.IntRange(0, 5).Draw(t, "shift"),
		Laying: rapid.SampledFrom([]Laying{Meeting, Downward, Upward, Outward}).Draw(t, "laying"),
		Start:  rapid.SampledFrom([]string{"", "1.04", "line 2, 2/1.05"}).Draw(t, "start"),
		Pins:   rapid.IntRange(0, 9).Draw(t, "pins"), Treenails: rapid.IntRange(0, 9).Draw(t, "pegs"),
	}
}
