package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/kong"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets/tongue"
	_ "github.com/strakewright/strakewright/cmd/strakewright/locale" // before Fyne
	"github.com/strakewright/strakewright/hull/visible"
)

// grammar is the command line.
type grammar struct {
	Version kong.VersionFlag `help:"Print the version and exit."`

	Open     openCmd     `cmd:"" default:"withargs" hidden:"" help:"Open the window on a plan, a hull source or the demo plan."`
	TakeOff  takeOffCmd  `cmd:"" help:"Make a plan from a hull source."`
	Check    checkCmd    `cmd:"" help:"Show what was read from a plan or hull source, and every fault in it."`
	Girths   girthsCmd   `cmd:"" help:"List the girth of each frame."`
	Lie      lieCmd      `cmd:"" help:"Find the line on which a strip lies unstressed."`
	Hold     holdCmd     `cmd:"" help:"Show where a springy strip lifts off the frames, and where and how hard to hold it."`
	Line     lineCmd     `cmd:"" help:"Line off the bands in whole strips, with little edge-set."`
	Strakes  strakesCmd  `cmd:"" help:"Print the strake table."`
	Stock    stockCmd    `cmd:"" help:"Compare strips, mix and cut them, and find how much they swell."`
	Flat     flatCmd     `cmd:"" help:"Lay a strake flat: the shape to cut it to."`
	Sheets   sheetsCmd   `cmd:"" help:"Write every full-size sheet and table into a folder."`
	Picture  pictureCmd  `cmd:"" help:"Draw the window on a plan as a picture, without a display."`
	Layers   layersCmd   `cmd:"" help:"Show the extent of each layer and where the next would fold, and settle it."`
	Rules    rulesCmd    `cmd:"" help:"List the plan's rules of thumb, and set your own."`
	Record   recordCmd   `cmd:"" help:"Note what you lay and measure at the bench, and see what follows for the rest."`
	Licences licencesCmd `cmd:"" help:"Print the licences of everything in the program."`

	Manual     manualCmd     `cmd:"" help:"Print this help as a manual page, as man reads it."`
	Completion completionCmd `cmd:"" help:"Print what a shell reads to complete commands and flags by the Tab key."`
}

var description = tongue.Mark(`Plans the planking of a scale wooden ship hull.

Without a command it opens a window on FILE, a plan or a hull source, or on the welcome page.`)

// streams is where a command writes.
type streams struct {
	out, messages io.Writer
	within        func() context.Context // asked for by each work that can be stopped; nil for no bounds but the user's
}

// format is how a command gives its answer.
type format struct {
	JSON bool `name:"json" help:"Give the answer as one JSON object."`
}

// give writes an answer to standard output.
func (f format) give(s *streams, a answer.Answer) error {
	b := bufio.NewWriter(s.out)
	var err error
	if f.JSON {
		err = answer.WriteJSON(b, a)
	} else {
		err = a.Text(b)
	}
	if err == nil {
		err = b.Flush()
	}
	if err != nil {
		return tongue.Errorf("standard output: %w", err)
	}
	return nil
}

// tell says what the user should know beside the answer, a sentence each.
func (s *streams) tell(sentences []string) {
	for _, text := range sentences {
		fmt.Fprintf(s.messages, "strakewright: %s\n", visible.Text(text))
	}
}

// misuse is a fault of the command line; it exits 2.
type misuse struct{ error }

// Unwrap lets a stop be seen through whatever the work was done for.
func (m misuse) Unwrap() error { return m.error }

// misused is one, told by a format.
//
//tongue:says 0
func misused(format string, args ...any) error { return misuse{tongue.Errorf(format, args...)} }

// errTold is the error of a command that has told its faults itself.
var errTold = errors.New("told")

// leave is the exit code that kong asks for after --help and --version.
type leave int

// run does one command line and gives the exit code.
func run(args []string, out, messages io.Writer) (code int) {
	defer func() {
		if r := recover(); r != nil {
			c, ok := r.(leave)
			if !ok {
				panic(r)
			}
			code = int(c)
		}
	}()
	s := &streams{out: out, messages: messages}
	return exitCode(s.do(args), messages)
}

func (s *streams) do(args []string) error {
	parser, err := s.parser()
	if err != nil {
		return err
	}
	complete(parser)
	if err := unreadable(args); err != nil {
		return err
	}
	if err := unknownWord(parser.Model, args); err != nil {
		return err
	}
	ctx, err := parser.Parse(args)
	if err != nil {
		return misuse{inTheirWords{err}}
	}
	if ctx.Selected().Name != "open" {
		unhurried()
	}
	return ctx.Run(s, parser.Model)
}

// parser reads the command line, and its model is what help, manual and shells are told.
func (s *streams) parser() (*kong.Kong, error) {
	parser, err := kong.New(new(grammar),
		kong.Name("strakewright"),
		kong.Description(description),
		kong.Vars{"version": "strakewright " + making().String()},
		kong.Writers(s.out, s.messages),
		kong.PostBuild(said),
		kong.Help(helpSaid),
		kong.Exit(func(code int) { panic(leave(code)) }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, NoExpandSubcommands: true}),
	)
	if err != nil {
		return nil, tongue.Errorf("command line: %w", err) // a fault of the grammar above
	}
	return parser, nil
}

// unreadable faults a word that is not UTF-8, which would reach no command whole.
func unreadable(args []string) error {
	for _, a := range args {
		if !utf8.ValidString(a) {
			return misused("%s: this is not UTF-8 text; name files and folders with letters and figures", a)
		}
	}
	return nil
}

// unknownWord faults a first word that is neither a command nor a file.
func unknownWord(m *kong.Application, args []string) error {
	if len(args) == 0 || strings.HasPrefix(args[0], "-") {
		return nil
	}
	var commands []string
	for _, c := range m.Children {
		if c.Name == args[0] {
			return nil
		}
		if !c.Hidden {
			commands = append(commands, c.Name)
		}
	}
	if _, err := os.Stat(args[0]); err == nil {
		return nil
	}
	return misused("%q is neither a command nor a file: the commands are %s and %s", args[0],
		strings.Join(commands[:len(commands)-1], ", "), commands[len(commands)-1])
}

// errStopped is what a command is told to have come to that was stopped: all of
// them write at the end, if at all.
var errStopped = tongue.New("stopped: nothing was written")

// exitCode says what went wrong, if anything, and gives the code for it.
func exitCode(err error, messages io.Writer) int {
	var m misuse
	switch {
	case err == nil:
		return 0
	case errors.Is(err, errTold):
		return 1
	case errors.Is(err, context.Canceled):
		err = errStopped
	case errors.As(err, &m):
		fmt.Fprintf(messages, "strakewright: %s\n%s\n", sentence(err), tongue.T("strakewright --help names the commands, and COMMAND --help their flags."))
		return 2
	}
	fmt.Fprintf(messages, "strakewright: %s\n", sentence(err))
	return 1
}

// sentence ends a message with a full stop, once. Names in it are shown as they
// can be: every message to the user goes through here.
func sentence(err error) string { return visible.Text(strings.TrimRight(err.Error(), ".\n")) + "." }
