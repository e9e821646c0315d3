// Package tool runs programs of others that read a file for us, within bounds: so
// much memory, processor time and output, and no more.
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

// What a program that reads a file for us may take: a page of a PDF of 5000 pixels
// takes a tenth of the memory.
const (
	Memory  = 2 << 30 // bytes of address space
	Seconds = 30      // of the processor
)

// Bounded is a command that runs with no more memory and processor time than that,
// by the limits of the shell (POSIX ulimit; -v, -t and -S are common to its shells).
// Where there is no shell, or it knows no such limit, there is none but the
// context's.
func Bounded(ctx context.Context, tool string, args ...string) *exec.Cmd {
	sh, err := exec.LookPath("sh")
	if err != nil || runtime.GOOS == "windows" {
		return exec.CommandContext(ctx, tool, args...)
	}
	const script = `ulimit -v "$1" 2>/dev/null; ulimit -S -t "$2" 2>/dev/null; shift 2; exec "$@"`
	line := []string{"-c", script, "sh", strconv.Itoa(Memory >> 10), strconv.Itoa(Seconds), tool}
	return exec.CommandContext(ctx, sh, append(line, args...)...)
}

// OutOfTime tells whether a program was ended for its time of the processor: by
// the signal XCPU, which the systems name differently.
func OutOfTime(err error) bool {
	var ended *exec.ExitError
	return errors.As(err, &ended) && !ended.Exited() && strings.Contains(strings.ToLower(ended.String()), "cpu")
}

// OutOfMemory tells by what a program said at its end whether it ran out of it.
func OutOfMemory(told string) bool {
	told = strings.ToLower(told)
	return strings.Contains(told, "memory") || strings.Contains(told, "bad_alloc")
}

// ErrTooMuch is what a program is ended with that gives more than it may.
var ErrTooMuch = tongue.New("too much")

// Output keeps what is written to it, up to Most bytes.
type Output struct {
	bytes.Buffer
	Most int
}

// Write refuses what would be too much.
func (o *Output) Write(p []byte) (int, error) {
	if o.Len()+len(p) > o.Most {
		return 0, ErrTooMuch
	}
	return o.Buffer.Write(p)
}
