package app

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
)

func TestAPlanOfATracedHullIsNotLost(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	demo, err := NewDemo()
	require.NoError(t, err)
	defer demo.Close()
	s, err := FromHull(t.Context(), "traced", demo.Plan().Hull)
	require.NoError(t, err)
	assert.Equal(t, "traced", s.Title())
	assert.True(t, s.Changed(), "it stands in no file")
	assert.Empty(t, s.Path())
	require.Eventually(t, func() bool { _, err := os.Stat(s.keeper.path); return err == nil }, 5*time.Minute, 50*time.Millisecond)
	path := filepath.Join(t.TempDir(), "traced"+Extension)
	require.NoError(t, s.SaveAs(path, false))
	assert.False(t, s.Changed())
	s.Close()

	_, err = FromHull(t.Context(), "nothing", hull.Hull{})
	assert.Error(t, err)
}
