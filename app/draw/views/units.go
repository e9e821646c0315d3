package views

import (
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Units is how lengths are shown.
type Units uint8

// The units of display.
const (
	Millimetres Units = iota
	Inches
)

// mmPerInch is exact (international yard and pound agreement, 1959).
const mmPerInch = 25.4

// Name is the unit's short name.
func (u Units) Name() string {
	if u == Inches {
		return "in"
	}
	return "mm"
}

// Of converts a length from mm to the unit.
func (u Units) Of(mm float64) float64 {
	if u == Inches {
		return mm / mmPerInch
	}
	return mm
}

// ToMM converts a length from the unit to mm.
func (u Units) ToMM(v float64) float64 {
	if u == Inches {
		return v * mmPerInch
	}
	return v
}

// Round gives the round figure nearest to a length: a whole mm, or a 32nd of an inch.
func (u Units) Round(mm float64) float64 {
	step := 1.0
	if u == Inches {
		step = mmPerInch / 32
	}
	return math.Round(mm/step) * step
}

// Number writes a length without its unit, with the language's decimal sign: to 0.01 mm or
// 0.001 inch.
func (u Units) Number(mm float64) string {
	if u == Inches {
		return tongue.T("%.3f", mm/mmPerInch)
	}
	return tongue.T("%.2f", mm)
}

// signed writes a difference without its unit, with its sign; zero has none.
func (u Units) signed(mm float64) string {
	text := u.Number(math.Abs(mm))
	switch {
	case text == u.Number(0):
		return text
	case mm < 0:
		return "-" + text
	}
	return "+" + text
}

// Length writes a length with its unit.
func (u Units) Length(mm float64) string { return u.Number(mm) + " " + u.Name() }

// Long writes a large length with its unit, to 0.1 mm or 0.01 inch.
func (u Units) Long(mm float64) string {
	if u == Inches {
		return tongue.T("%.2f in", mm/mmPerInch)
	}
	return tongue.T("%.1f mm", mm)
}

// Area writes an area with its unit: to 0.1 cm² or 0.01 square inch.
func (u Units) Area(mm2 float64) string {
	if u == Inches {
		return tongue.T("%.2f in²", mm2/mmPerInch/mmPerInch)
	}
	return tongue.T("%.1f cm²", mm2/100)
}

// LieOff says how far from a line a batten falls that is held at its handles: mm is
// positive downwards.
func (u Units) LieOff(mm float64) string {
	switch {
	case math.Abs(mm) < 0.005:
		return tongue.T("on it")
	case mm < 0:
		return tongue.T("%s above it", u.Length(-mm))
	}
	return tongue.T("%s below it", u.Length(mm))
}
