package views

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets/tongue"
)

func TestLengthsHaveTheDecimalSignOfTheLanguage(t *testing.T) {
	require.NoError(t, tongue.Use("de"))
	defer func() { _ = tongue.Use() }()
	assert.Equal(t, "4,50", Millimetres.Number(4.5))
	assert.Equal(t, "0,177", Inches.Number(4.5))
	assert.Equal(t, "-4,50", Millimetres.signed(-4.5))
	assert.Equal(t, "4,50 mm", Millimetres.Length(4.5))
}
