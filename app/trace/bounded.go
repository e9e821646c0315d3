package trace

import (
	"context"
	"errors"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
)

// What a program that reads a PDF for us may take: a page of pageSide pixels takes
// a tenth of the memory.
const (
	toolMemory  = 2 << 30 // bytes of address space
	toolSeconds = 30      // of the processor
)

// bounded is a command that runs with no more memory and processor time than that,
// by the limits of the shell (POSIX ulimit; -v, -t and -S are common to its shells).
// Where there is no shell, or it knows no such limit, there is none but the
// context's.
func bounded(ctx context.Context, tool string, args ...string) *exec.Cmd {
	sh, err := exec.LookPath("sh")
	if err != nil || runtime.GOOS == "windows" {
		return exec.CommandContext(ctx, tool, args...)
	}
	const script = `ulimit -v "$1" 2>/dev/null; ulimit -S -t "$2" 2>/dev/null; shift 2; exec "$@"`
	line := []string{"-c", script, "sh", strconv.Itoa(toolMemory >> 10), strconv.Itoa(toolSeconds), tool}
	return exec.CommandContext(ctx, sh, append(line, args...)...)
}

// outOfTime tells whether a program was ended for its time of the processor: by
// the signal XCPU, which the systems name differently.
func outOfTime(err error) bool {
	var ended *exec.ExitError
	return errors.As(err, &ended) && !ended.Exited() && strings.Contains(strings.ToLower(ended.String()), "cpu")
}

// outOfMemory tells by what a program said at its end whether it ran out of it.
func outOfMemory(told string) bool {
	told = strings.ToLower(told)
	return strings.Contains(told, "memory") || strings.Contains(told, "bad_alloc")
}
