package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/cmd/dev/trial"
)

// trying is what a command line asks of trial.
type trying struct {
	settings trial.Settings
	markdown bool   // the table as it stands in the README
	program  string // the program to try; empty to build it
	names    bool   // only name the trials
}

func parseTrial(rest []string) (func(*shop) error, error) {
	var t trying
	flags := flag.NewFlagSet("trial", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	only := flags.String("only", "", "")
	flags.Uint64Var(&t.settings.Seed, "seed", 1, "")
	flags.IntVar(&t.settings.Count, "count", 0, "")
	flags.IntVar(&t.settings.At, "at", 0, "")
	flags.IntVar(&t.settings.Jobs, "jobs", 1, "")
	flags.BoolVar(&t.settings.Short, "short", false, "")
	flags.BoolVar(&t.settings.Race, "race", false, "")
	flags.BoolVar(&t.markdown, "markdown", false, "")
	flags.BoolVar(&t.names, "names", false, "")
	flags.StringVar(&t.program, "program", "", "")
	if err := flags.Parse(rest); err != nil {
		return nil, misuse("trial: " + err.Error())
	}
	if flags.NArg() > 0 {
		return nil, misuse(fmt.Sprintf("trial takes flags alone, got %q", flags.Arg(0)))
	}
	if t.settings.Count < 0 || t.settings.At < 0 || t.settings.Jobs < 1 {
		return nil, misuse("trial: --count and --at are not below 0, and --jobs is not below 1")
	}
	if *only != "" {
		var err error
		if t.settings.Only, err = regexp.Compile("^(" + *only + ")$"); err != nil {
			return nil, misuse(fmt.Sprintf("trial: --only %q is no pattern: %v", *only, err))
		}
		if !slices.ContainsFunc(trial.Names(), t.settings.Only.MatchString) {
			return nil, misuse(fmt.Sprintf("trial: no trial is called %q; there are %s", *only, strings.Join(trial.Names(), ", ")))
		}
	}
	return t.run, nil
}

// run makes the trials, prints their table and fails where one of them did.
func (t trying) run(s *shop) error {
	if t.names {
		s.say("%s", strings.Join(trial.Names(), "\n"))
		return nil
	}
	if err := s.ready(runtime.GOOS, slices.Concat(forBuild, forWindow, forTrials)...); err != nil {
		return err
	}
	t.settings.Root, t.settings.Tell = s.root, func(format string, args ...any) { fmt.Fprintf(s.messages, format+"\n", args...) }
	if t.program == "" {
		if err := t.build(s); err != nil {
			return err
		}
		defer func() { _ = os.RemoveAll(filepath.Dir(t.settings.Program)) }()
	} else {
		var err error
		if t.settings.Program, err = existing(t.program); err != nil {
			return err
		}
	}
	results, err := trial.Run(s.ctx, t.settings)
	if table := trial.Table(results); t.markdown {
		s.say("%s", trial.Markdown(results))
	} else if len(results) > 0 {
		s.say("%s", table)
	}
	if err != nil {
		return err
	}
	if n := trial.Failed(results); n > 0 {
		return fmt.Errorf("%d attempts failed", n)
	}
	return nil
}

// build builds the program, with the race detector where that is asked for.
func (t *trying) build(s *shop) error {
	dir, err := os.MkdirTemp("", "strakewright-program")
	if err != nil {
		return fmt.Errorf("a folder for the program: %w", err)
	}
	t.settings.Program = filepath.Join(dir, "strakewright")
	args := []string{"build", "-buildvcs=false", "-o", t.settings.Program}
	if t.settings.Race {
		args = append(args, "-race")
	}
	if err := s.streams("building", s.withC(), "go", append(args, "./cmd/strakewright")...); err != nil {
		return errors.Join(fmt.Errorf("building ./cmd/strakewright: %w", err), os.RemoveAll(dir))
	}
	const everybody = 0o755 // another user tries it as well
	return os.Chmod(dir, everybody)
}
