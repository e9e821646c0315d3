package hull

import (
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSaveFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cutter.strakeplan")
	p := readCutter(t)
	require.NoError(t, SaveFile(path, p))
	got, err := OpenFile(path)
	require.NoError(t, err)
	assert.Equal(t, p, got)

	p.Layers[0].Stock.Width = math.NaN()
	assert.EqualError(t, SaveFile(path, p), path+`: "width" of the stock of layer 1 is null, not a number; give a number.`)
	got, err = OpenFile(path)
	require.NoError(t, err)
	assert.Equal(t, readCutter(t), got, "the old file is whole")
}
