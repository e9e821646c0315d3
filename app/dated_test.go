package app

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAPlanIsDatedByItsFile(t *testing.T) {
	t.Setenv(sourceDate, "")
	path := filepath.Join(t.TempDir(), "boat.strakeplan")
	assert.Zero(t, DateOf(path))
	s, err := NewDemo()
	require.NoError(t, err)
	defer s.Close()
	require.NoError(t, s.SaveAs(path, false))
	when := time.Date(2026, 3, 1, 19, 30, 0, 0, time.UTC)
	require.NoError(t, os.Chtimes(path, when, when))
	assert.True(t, when.Equal(DateOf(path)))
	assert.True(t, when.Equal(s.Date()))

	t.Setenv(sourceDate, "1767323045")
	told := time.Date(2026, 1, 2, 3, 4, 5, 0, time.UTC)
	assert.Equal(t, told, DateOf(path))
	assert.Equal(t, told, s.Date())
	unsaved, err := NewDemo()
	require.NoError(t, err)
	defer unsaved.Close()
	assert.Equal(t, told, unsaved.Date())
	t.Setenv(sourceDate, "tomorrow")
	assert.True(t, when.Equal(DateOf(path)), "what is no date is passed over")
}
