package hull

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestStarts(t *testing.T) {
	for text, want := range map[string]map[int]Start{
		"":                              {},
		"  ":                            {},
		"1.05":                          {1: {Strake: "1.05"}},
		"1/1.05":                        {1: {Strake: "1.05"}},
		" line  12 , 2/3.104,10/line 1": {1: {Line: 12}, 2: {Strake: "2/3.104"}, 10: {Line: 1}},
	} {
		got, err := (&Cutting{Start: text}).Starts()
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"keel", "1.5", "0/1.05", "line 0", "line 1 2", "1.05,", "1.05, line 1", "2/1.01, 2/1.02", "line 1000", "1.05\x00"} {
		_, err := (&Cutting{Start: text}).Starts()
		assert.Error(t, err, text)
	}
	p := NewPlan("", Hull{})
	p.Cutting.Start = "keel"
	assert.ErrorContains(t, p.CheckFigures(), "where the laying starts: laying cannot begin at keel")
}
