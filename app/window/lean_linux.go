package window

import (
	"bufio"
	"os"
	"strconv"
	"strings"
	"syscall"

	"golang.org/x/sys/unix"
)

// handBackCompiler gives back to the system the code of LLVM, with which Mesa
// compiles its shaders where there is no graphics processor: some 40 MiB that the
// start alone needed. They are pages of a file that nothing has written to; what
// is called again is mapped again from the system's cache. Where Mesa has no
// compiler, or the system does not tell what is mapped, nothing happens.
func handBackCompiler() {
	maps, err := os.Open("/proc/self/maps")
	if err != nil {
		return
	}
	defer maps.Close()
	for lines := bufio.NewScanner(maps); lines.Scan(); {
		if from, to, ok := compilerCode(lines.Text()); ok {
			// Whether it is taken back is the system's business.
			_, _, _ = syscall.Syscall(syscall.SYS_MADVISE, from, to-from, unix.MADV_DONTNEED)
		}
	}
}

// compilerCode reads a line of /proc/self/maps (proc(5)) and tells the addresses
// of a mapping of LLVM's code: one that can be executed and not written to, since
// what was written to would be lost.
func compilerCode(line string) (from, to uintptr, ok bool) {
	fields := strings.Fields(line)
	if len(fields) < 6 || fields[1] != "r-xp" || !strings.Contains(fields[5], "/libLLVM") {
		return 0, 0, false
	}
	a, b, found := strings.Cut(fields[0], "-")
	low, errLow := strconv.ParseUint(a, 16, strconv.IntSize)
	high, errHigh := strconv.ParseUint(b, 16, strconv.IntSize)
	return uintptr(low), uintptr(high), found && errLow == nil && errHigh == nil && low < high
}
