// Package tool runs other programs that read a file for us, within limits of
// memory, processor time and output.
package tool

import (
	"bytes"
	"context"
	"errors"
	"os/exec"
	"runtime"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
)

// What a program that reads a file for us may use: a PDF page of 5000 pixels takes
// a tenth of the memory.
const (
	Memory  = 2 << 30 // bytes of address space
	Seconds = 30      // of processor time
)

// Bounded is a command that runs with no more than that memory and processor time,
// by the limits of the shell (POSIX ulimit; -v, -t and -S are common to its shells).
// Where there is no shell, or it lacks such a limit, only the context limits it.
func Bounded(ctx context.Context, tool string, args ...string) *exec.Cmd {
	sh, err := exec.LookPath("sh")
	if err != nil || runtime.GOOS == "windows" {
		return exec.CommandContext(ctx, tool, args...)
	}
	const script = `ulimit -v "$1" 2>/dev/null; ulimit -S -t "$2" 2>/dev/null; shift 2; exec "$@"`
	line := []string{"-c", script, "sh", strconv.Itoa(Memory >> 10), strconv.Itoa(Seconds), tool}
	return exec.CommandContext(ctx, sh, append(line, args...)...)
}

// OutOfTime reports whether a program was ended for using too much processor
// time: by the signal XCPU, which systems name differently.
func OutOfTime(err error) bool {
	var ended *exec.ExitError
	return errors.As(err, &ended) && !ended.Exited() && strings.Contains(strings.ToLower(ended.String()), "cpu")
}

// OutOfMemory reports, from a program's last output, whether it ran out of
// memory.
func OutOfMemory(told string) bool {
	told = strings.ToLower(told)
	return strings.Contains(told, "memory") || strings.Contains(told, "bad_alloc")
}

// ErrTooMuch is the error that ends a program whose output exceeds the limit.
var ErrTooMuch = tongue.New("too much")

// Output keeps what is written to it, up to Most bytes.
type Output struct {
	bytes.Buffer
	Most int
}

// Write refuses what would exceed Most.
func (o *Output) Write(p []byte) (int, error) {
	if o.Len()+len(p) > o.Most {
		return 0, ErrTooMuch
	}
	return o.Buffer.Write(p)
}
