package window

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestOnlyCodeIsHandedBack: what has been written to, as the relocated data of a
// library, would be lost.
func TestOnlyCodeIsHandedBack(t *testing.T) {
	from, to, ok := compilerCode("7f0a10000000-7f0a12345000 r-xp 01000000 fe:00 1234   /usr/lib/x86_64-linux-gnu/libLLVM-15.so.1")
	assert.True(t, ok)
	assert.Equal(t, uintptr(0x7f0a10000000), from)
	assert.Equal(t, uintptr(0x7f0a12345000), to)
	for _, line := range []string{
		"7f0a10000000-7f0a12345000 r--p 01000000 fe:00 1234   /usr/lib/x86_64-linux-gnu/libLLVM-15.so.1",
		"7f0a10000000-7f0a12345000 rw-p 01000000 fe:00 1234   /usr/lib/x86_64-linux-gnu/libLLVM-15.so.1",
		"7f0a10000000-7f0a12345000 r-xp 01000000 fe:00 1234   /usr/lib/x86_64-linux-gnu/libc.so.6",
		"7f0a10000000-7f0a12345000 r-xp 00000000 00:00 0",
		"7f0a10000000 r-xp 01000000 fe:00 1234   /usr/lib/libLLVM.so",
		"7f0a12345000-7f0a10000000 r-xp 01000000 fe:00 1234   /usr/lib/libLLVM.so",
		"",
	} {
		_, _, ok := compilerCode(line)
		assert.False(t, ok, "%s", line)
	}
}
