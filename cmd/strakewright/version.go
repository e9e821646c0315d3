package main

import (
	"cmp"
	"fmt"
	"runtime/debug"
	"strings"
)

// What cmd/dev gives by the linker; empty in any other build.
var (
	released string // the version, such as v0.1.0
	commit   string // of the source, its day and whether it was changed since: "0123456789ab 2006-01-02 changed"
)

// made is what the program can tell of its own making.
type made struct {
	version string // such as v0.1.0
	commit  string // of the source, abbreviated; empty if unknown
	day     string // of the commit, 2006-01-02
	changed bool   // the source was changed after that commit
}

// making reads it from what the linker was given, and else from what Go stamped into the
// program.
func making() made {
	b, ok := debug.ReadBuildInfo()
	if !ok {
		b = new(debug.BuildInfo)
	}
	return madeOf(released, commit, b)
}

// madeOf tells it of a build; what the linker was given comes first.
func madeOf(released, commit string, b *debug.BuildInfo) made {
	m := made{version: released}
	if m.version == "" && b.Main.Version != "(devel)" {
		m.version = b.Main.Version
	}
	m.version = cmp.Or(m.version, "(unreleased)")
	if told := strings.Fields(commit); len(told) >= 2 {
		m.commit, m.day, m.changed = told[0], told[1], len(told) > 2
		return m
	}
	for _, s := range b.Settings {
		switch s.Key {
		case "vcs.revision":
			m.commit = s.Value[:min(12, len(s.Value))]
		case "vcs.time":
			m.day, _, _ = strings.Cut(s.Value, "T")
		case "vcs.modified":
			m.changed = s.Value == "true"
		}
	}
	return m
}

func (m made) String() string {
	if m.commit == "" {
		return m.version
	}
	changed := ""
	if m.changed {
		changed = ", changed since"
	}
	return fmt.Sprintf("%s (commit %s of %s%s)", m.version, m.commit, m.day, changed)
}
