package plaintext

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// An item left out still counts as an item.
func TestFieldsThatAreEmpty(t *testing.T) {
	for text, want := range map[string][]string{"": {""}, "4,": {"4", ""}, "4;;5": {"4", "", "5"}} {
		items, _ := Fields(text)
		assert.Equal(t, want, items, text)
	}
}

// A comma separates the items of a list, unless semicolons do.
func TestFields(t *testing.T) {
	for text, want := range map[string][]float64{
		"4,5":           {4, 5},
		"4.5":           {4.5},
		"4, 5,6.5":      {4, 5, 6.5},
		"4,5; 6":        {4.5, 6},
		"4,5;6":         {4.5, 6},
		" 4, 4.5;5  6 ": {4, 4.5, 5, 6},
		"4 5\t6":        {4, 5, 6},
		"0,6;1,5 ; 2":   {0.6, 1.5, 2},
	} {
		items, comma := Fields(text)
		var got []float64
		for _, item := range items {
			v, wrong := Number(item, comma)
			assert.Empty(t, wrong, text)
			got = append(got, v)
		}
		assert.Equal(t, want, got, text)
	}
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		text  string
		comma bool
		v     float64
		wrong string
	}{
		{"4.5", false, 4.5, ""}, {"4,5", true, 4.5, ""}, {"\u22124,5", true, -4.5, ""}, {"1e3", false, 1000, ""},
		{"4,5", false, 0, `is "4,5", which is not a number`}, {"1,234.5", true, 0, `is "1,234.5", which is not a number`},
		{"1e999", false, math.Inf(1), `is "1e999", which is not finite`},
		{"", true, 0, "is missing"}, {"0x10", false, 0, `is "0x10", which is not a number`}, {"4.5", true, 4.5, ""},
	} {
		v, wrong := Number(c.text, c.comma)
		assert.Equal(t, c.v, v, c.text)
		assert.Equal(t, c.wrong, wrong, c.text)
	}
}
