package hull

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/fault"
)

func TestRangesRefuseInOneSentence(t *testing.T) {
	for _, v := range []float64{1e-6, 0.001, 0, -4, 1001, 1e308, math.Inf(1), math.NaN()} {
		assert.Error(t, StripWidth.Refuse("the strip's width", v, " mm"), "%g", v)
	}
	assert.NoError(t, StripWidth.Refuse("", 4, ""))
	assert.EqualError(t, StripWidth.Refuse("the strip's width", 1e-6, " mm"), "the strip's width is 1e-06 mm: give it from 0.1 to 1000 mm")
	assert.EqualError(t, FairWithin.Refuse("the tolerance", math.Inf(1), " mm"), "the tolerance is not finite: give it above 0 and at most 100 mm")
}

// TestFiguresOfTheSchema: the published schema states the same limits as the
// table.
func TestFiguresOfTheSchema(t *testing.T) {
	p := NewPlan("", readLugger(t))
	p.Box = []Strips{{Width: 5, Thickness: 2, Length: 900, Species: "x", Count: 3}}
	p.Layers[0].Bands[0].Weights = []float64{1.25}
	p.Layers[0].Bands[0].Strips = []float64{4.75}
	p.Cutting = Cutting{Kerf: 0.75, Overhang: 12.5, Between: 2, Shift: 1, Laying: Meeting}
	text := written(t, p)
	schema := planSchema(t)
	for _, c := range []struct {
		figure string
		within Range
	}{
		{`"width": (5)`, StripWidth}, {`"thickness": (2)`, StripThickness}, {`"length": (900)`, stripLength}, {`"count": (3)`, stripCount},
		{`"weights": \[(1\.25)`, strakeWeight}, {`"strips": \[(4\.75)`, StripWidth}, {`"kerf": (0\.75)`, kerfWidth}, {`"overhang": (12\.5)`, Overhang},
	} {
		at := regexp.MustCompile(c.figure).FindStringSubmatchIndex(text)
		require.NotNil(t, at, c.figure)
		for figure, ok := range map[float64]bool{
			c.within.Low: !c.within.Open, c.within.High: true, c.within.Low - 1e-4: false, c.within.High * 1.001: false,
		} {
			whole := text[:at[2]] + fault.Figure(figure) + text[at[3]:]
			_, found := CheckPlan(strings.NewReader(whole), "")
			if c.within != stripCount || figure == math.Trunc(figure) {
				assert.Equal(t, ok, len(found) == 0, "%s: %g: %v", c.figure, figure, found)
				assert.Equal(t, ok, schema.Validate(decoded(t, whole)) == nil, "%s: %g", c.figure, figure)
			}
		}
	}
}

// TestEditsAreHeldToTheSameFigures: whatever a plan file would be refused for, an
// edit is refused for too.
func TestEditsAreHeldToTheSameFigures(t *testing.T) {
	good := NewPlan("", readLugger(t))
	good.Box = []Strips{{Width: 5, Thickness: 2, Length: 900, Count: 3}}
	good.Woods = []Wood{{Name: "w", Radial: 3, Tangential: 6}}
	good.Moisture = NewMoisture()
	require.NoError(t, good.CheckFigures())
	for name, spoil := range map[string]func(*Plan){
		"width":     func(p *Plan) { p.Layers[0].Stock.Width = 1e-6 },
		"thickness": func(p *Plan) { p.Layers[0].Stock.Thickness = 1e9 },
		"length":    func(p *Plan) { p.Layers[0].Stock.Length = 1e308 },
		"strakes":   func(p *Plan) { p.Layers[0].Bands[0].Strakes = 501 },
		"weight":    func(p *Plan) { p.Layers[0].Bands[0].Weights = []float64{1e-9} },
		"strips":    func(p *Plan) { p.Layers[0].Bands[0].Strips = []float64{0.001} },
		"box":       func(p *Plan) { p.Box[0].Width = 0.001 },
		"count":     func(p *Plan) { p.Box[0].Count = 10001 },
		"price":     func(p *Plan) { p.Shop = []Strips{{Width: 5, Thickness: 2, Length: 900, Count: AsMany, Price: 1e300}} },
		"radial":    func(p *Plan) { p.Woods[0].Radial = 31 },
		"moisture":  func(p *Plan) { p.Moisture.Bought = 201 },
		"kerf":      func(p *Plan) { p.Cutting.Kerf = math.NaN() },
		"pins":      func(p *Plan) { p.Cutting.Pins = 101 },
		"tolerance": func(p *Plan) { p.Record.Tolerance = 1001 },
	} {
		p := good.Clone()
		spoil(p)
		assert.Error(t, p.CheckFigures(), name)
		assert.NotContains(t, p.CheckFigures().Error(), "\n")
	}
}

// More strakes over the frames than are ever planked are told of when the file is read,
// and no edit makes them.
func TestCrossingsAreToldOfBeforeThePlankingBegins(t *testing.T) {
	p := NewPlan("", readLugger(t))
	frames := len(p.Hull.Frames)
	whole := MostCrossings / frames // strakes that just go
	p.Layers[0].Bands = nil
	for left := whole; left > 0; left -= mostStrakes {
		p.Layers[0].Bands = append(p.Layers[0].Bands, Band{Strakes: min(left, mostStrakes)})
	}
	require.NoError(t, p.CheckFigures())
	n, over := p.Layers[0].crosses(frames)
	assert.Equal(t, whole, n)
	assert.False(t, over)
	p.Layers[0].Bands = append(p.Layers[0].Bands, Band{}) // of one strake at the least
	assert.ErrorContains(t, p.CheckFigures(), fmt.Sprintf("layer 1: its %d strakes over %d frames exceed the limit of 50000 crossings", whole+1, frames))
	_, found := CheckPlan(strings.NewReader(string(p.encode())), "big.strakeplan")
	var told []string
	for _, f := range found {
		told = append(told, f.Error())
	}
	assert.Contains(t, strings.Join(told, "\n"), fmt.Sprintf("the %d strakes of layer 1 over %d frames exceed the limit of 50000 crossings", whole+1, frames))
}
