// Command dev sets a machine up for Strakewright and runs what its developers run. It
// imports only the standard library, so that it starts at once on a machine where
// nothing but Go is installed.
//
//	go run ./cmd/dev start [FILE]         build the program and open its window
//	go run ./cmd/dev test [go test flags] every check of the project
//	go run ./cmd/dev bench [flags]        the benchmarks against their limits
//	go run ./cmd/dev trial [flags]        what a hostile world does to the program
//	go run ./cmd/dev install [flags]      the program in the desktop's menu
//	go run ./cmd/dev words                the program's texts and their translations
//	go run ./cmd/dev package [flags]      the program as a tarball and a Debian package
//
// On Debian it installs the packages that a command needs, after naming them. It exits
// with 0 when all is well, 1 when something failed, 2 when the command line is at
// fault, and 128 plus the signal's number when it was stopped.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
)

const usage = `usage:
  go run ./cmd/dev start [FILE]           build the program and open its window
                                          (on FILE; without one, the demo plan);
                                          without a display, write what it shows
  go run ./cmd/dev test [go test flags]   run every check of the project
  go run ./cmd/dev bench [flags]          measure the benchmarks against their limits
      --against FILE                      compare with a report that bench wrote
      -o FILE                             write the report there, not into out
      --only PATTERN                      those alone whose functions match it
      --quick                             each once and briefly
  go run ./cmd/dev trial                  do what a hostile world does to the program,
                                          and count what goes wrong; some minutes
      --only NAME --seed N --count N      those trials alone, of another seed, so often
      --at N                              one attempt alone, as a failure names it
      --jobs N --short --race             so many at once; a few of each; with the
                                          race detector
      --markdown --names                  the table as in the README; the trials' names
      --program FILE                      try this program, and build none
  go run ./cmd/dev install                put the program, its icon and the kind of
                                          its plans into the desktop's menu
      --below FOLDER                      there, and not below ~/.local
      --remove                            take all of that away again
  go run ./cmd/dev words                  gather the program's texts, and tell what the
                                          translations lack
  go run ./cmd/dev package                make a tarball and, on Debian, a package of
                                          the program in out, with their sums
      -o FOLDER                           there, and not into out
      --for windows                       a ZIP for Windows, by MinGW-w64's compiler
      --twice                             make them again from a clone, in other
                                          surroundings, and compare every byte
  go run ./cmd/dev licences               gather the notices that ship with the program
  go run ./cmd/dev book                   make the picture book's pages and pictures anew
`

// misuse is a fault of the command line: the program exits with 2 and shows the
// usage.
type misuse string

func (m misuse) Error() string { return string(m) }

// stopped is the cause given to the context when a signal arrives.
type stopped struct{ sig syscall.Signal }

func (s stopped) Error() string { return "stopped by " + s.sig.String() }

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

// run carries out one command line and returns the exit code.
func run(args []string, out, messages io.Writer) int {
	do, err := parse(args)
	if err == nil {
		ctx, release := untilSignal()
		defer release()
		err = inModule(ctx, out, messages, do)
	}
	return exitCode(err, messages)
}

// parse returns the work that a command line asks for.
func parse(args []string) (func(*shop) error, error) {
	if len(args) == 0 {
		return nil, misuse("no command given")
	}
	word, rest := args[0], args[1:]
	switch word {
	case "start":
		return parseStart(rest)
	case "test":
		return parseTest(rest)
	case "bench":
		return parseBench(rest)
	case "trial":
		return parseTrial(rest)
	case "install":
		return parseInstall(rest)
	case "words":
		return gatherWords, nil
	case "package":
		return parsePackage(rest)
	case "licences":
		return licences, nil
	case "book":
		return remakeBook, nil
	}
	return nil, misuse(fmt.Sprintf("unknown command %q", word))
}

func parseStart(rest []string) (func(*shop) error, error) {
	if len(rest) > 1 {
		return nil, misuse(fmt.Sprintf("start takes one file at most, got %d words", len(rest)))
	}
	if len(rest) == 0 {
		return func(s *shop) error { return start(s, "") }, nil
	}
	if rest[0] == "" || strings.HasPrefix(rest[0], "-") {
		return nil, misuse(fmt.Sprintf("start takes a file, not %q", rest[0]))
	}
	return func(s *shop) error { return start(s, rest[0]) }, nil
}

func parseTest(rest []string) (func(*shop) error, error) {
	if len(rest) > 0 && !strings.HasPrefix(rest[0], "-") {
		return nil, misuse(fmt.Sprintf("test takes flags of go test, not %q", rest[0]))
	}
	return func(s *shop) error { return test(s, rest) }, nil
}

// untilSignal is a context that ends with cause stopped when the user presses
// Ctrl-C or the system asks the program to end.
func untilSignal() (context.Context, func()) {
	ctx, cancel := context.WithCancelCause(context.Background())
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	go func() {
		if sig, ok := (<-signals).(syscall.Signal); ok {
			cancel(stopped{sig})
		}
	}()
	return ctx, func() {
		signal.Stop(signals)
		cancel(nil)
	}
}

func inModule(ctx context.Context, out, messages io.Writer, do func(*shop) error) error {
	here, err := os.Getwd()
	if err != nil {
		return fmt.Errorf("finding the working folder: %w", err)
	}
	root, err := moduleRoot(here)
	if err != nil {
		return err
	}
	return do(&shop{ctx: ctx, root: root, out: out, messages: messages})
}

// exitCode says what went wrong, if anything, and returns the code for it.
func exitCode(err error, messages io.Writer) int {
	var m misuse
	var s stopped
	switch {
	case err == nil:
		return 0
	case errors.As(err, &m):
		fmt.Fprintf(messages, "dev: %v\n%s", err, usage)
		return 2
	case errors.As(err, &s):
		fmt.Fprintf(messages, "dev: %v\n", s)
		return 128 + int(s.sig)
	}
	fmt.Fprintf(messages, "dev: %v\n", err)
	return 1
}
