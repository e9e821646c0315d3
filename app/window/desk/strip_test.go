package desk

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
)

// TestSlowStripIsLeftOutOfADrag: what takes too long, time after time, is not asked for
// again while a handle is held, and is found as soon as it is let go; a strip that was
// found is not looked for twice.
func TestSlowStripIsLeftOutOfADrag(t *testing.T) {
	l := apptest.Planked(t, 2).Layers[0]
	now, asked := time.Time{}, 0
	slow := func() time.Time {
		asked++
		now = now.Add(2 * stripTime)
		return now
	}
	var s stripAtHand
	for range stripTimes {
		require.NotNil(t, s.find(l, 1, true, slow))
		s.of = nil // another planking
	}
	asked = 0
	assert.Nil(t, s.find(l, 1, true, slow))
	assert.Zero(t, asked)
	found := s.find(l, 1, false, slow)
	require.NotNil(t, found)
	assert.Same(t, found, s.find(l, 1, true, slow))
	assert.NotNil(t, s.find(l, 1, false, slow))
	assert.Equal(t, 2, asked, "once found, it is at hand")
}
