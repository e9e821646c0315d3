package window

import (
	"runtime/debug"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// withoutEmoji has Fyne do without its font of coloured emoji. Fyne reads it anew
// beside each style of text, 4 MiB and some ms each time, and nothing here is
// written in it; an emoji in a plan's title is set in a font of the system's, if
// one has it, as any other character that Fyne's own fonts lack. Its build tag
// no_emoji does the same, but one would have to give it at every build.
func withoutEmoji() {
	if emoji, ok := theme.DefaultEmojiFont().(*fyne.StaticResource); ok && emoji != nil {
		emoji.StaticContent = theme.DefaultSymbolFont().Content()
	}
}

// How much a start may take before what it no longer needs is looked for, in
// bytes, and by how many percent the heap may grow between two such looks once
// the window stands there. Both are measured: see DEVELOPERS.md, Start-up.
const (
	startHeap   = 64 << 20
	heapPercent = 50
)

// sparing puts off the search for memory that is no longer needed until the
// window stands there, and gives the function that takes it up again and hands
// back to the system what the start alone needed. A GOGC or GOMEMLIMIT that the
// user has set is kept to.
func sparing() (started func()) {
	limit := debug.SetMemoryLimit(-1)
	percent := debug.SetGCPercent(-1)
	debug.SetMemoryLimit(min(limit, startHeap))
	return func() {
		if percent == 100 { // as Go has it by itself
			percent = heapPercent
		}
		debug.SetGCPercent(percent)
		debug.SetMemoryLimit(limit)
		go func() {
			debug.FreeOSMemory()
			handBackCompiler()
		}()
	}
}
