package main

import (
	"runtime"
	"runtime/debug"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

func TestOnlyTheFirstSearchForMemoryIsPutOff(t *testing.T) {
	percent := func() int {
		p := debug.SetGCPercent(-1)
		debug.SetGCPercent(p)
		return p
	}
	was := debug.SetGCPercent(usualPercent)
	defer debug.SetGCPercent(was)
	unhurried()
	unhurried() // as in a test that does several commands
	runtime.GC()
	assert.Eventually(t, func() bool { return percent() == usualPercent }, 2*time.Minute, time.Millisecond)

	debug.SetGCPercent(70)
	unhurried()
	assert.Equal(t, 70, percent(), "what the user has set")
}
