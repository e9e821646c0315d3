package stock

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/assets/tongue"
)

func TestALoneDecimalCommaIsOneInALanguageThatHasIt(t *testing.T) {
	defer func() { _ = tongue.Use() }()
	for _, c := range []struct {
		language, list string
		want           []float64
	}{
		{"en", "1,5", []float64{1, 5}}, {"de", "1,5", []float64{1.5}}, {"de", "4,5 5", []float64{4.5, 5}},
		{"de", "4, 5, 6.5", []float64{4, 5, 6.5}}, {"de", "4,5,6", []float64{4, 5, 6}}, {"de", "4; 6,5", []float64{4, 6.5}},
	} {
		require.NoError(t, tongue.Use(c.language))
		got, err := readList(c.list)
		require.NoError(t, err, c.list)
		assert.Equal(t, c.want, got, "%s in %s", c.list, c.language)
	}
	require.NoError(t, tongue.Use("de"))
	got, err := readList(lengthIn(1.5, views.Millimetres))
	require.NoError(t, err)
	assert.Equal(t, []float64{1.5}, got, "what is offered is read as it was meant")
}
