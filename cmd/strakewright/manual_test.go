package main

import (
	"runtime/debug"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/alecthomas/kong"
	"github.com/strakewright/strakewright/app/draw/proof"
)

// modelOf is what the command line is told by.
func modelOf(t *testing.T) *kong.Application {
	t.Helper()
	parser, err := (&streams{}).parser()
	require.NoError(t, err)
	return parser.Model
}

func TestManualTellsEveryCommandAndFlag(t *testing.T) {
	model := modelOf(t)
	page := manual(model, made{version: "v1.2.3", day: "2026-01-02"})
	require.True(t, strings.HasPrefix(page, ".TH STRAKEWRIGHT 1 \"2026-01-02\" \"strakewright v1.2.3\" \"\"\n"), page[:80])
	require.Contains(t, page, "\nstrakewright \\- plans the planking of a scale wooden ship hull\n", "what whatis(1) reads")
	all := toldOf(model.Node)[1:]
	require.Greater(t, len(all), 12)
	rest := page
	for _, c := range all {
		_, after, found := strings.Cut(rest, "\n.SS \""+roff(c.Name)+"\"\n")
		require.True(t, found, c.FullPath())
		rest = "\n" + after
		own, _, _ := strings.Cut(after, "\n.S")
		require.Contains(t, own, plainLine(c.Help))
		for _, f := range c.Flags {
			if !f.Hidden {
				require.Contains(t, own, "\n\\fB"+roff(f.String())+"\\fR\n"+plainLine(f.Help), "%s --%s", c.FullPath(), f.Name)
			}
		}
		for _, a := range c.Positional {
			require.Contains(t, own, plainLine(a.Help), "%s %s", c.FullPath(), a.Name)
		}
	}
	for _, c := range model.Children {
		if c.Hidden {
			require.NotContains(t, page, "\n.SS \""+roff(c.Name)+"\"\n")
		}
	}
}

func TestManualPrintsTextAsItStands(t *testing.T) {
	var p manPage
	p.text(".dot\n'quote \\back --flag")
	p.macro("SH", `of "quotes"`)
	require.Equal(t, ".PP\n\\&.dot\n\\&'quote \\eback \\-\\-flag\n.SH \"of \\(dqquotes\\(dq\"\n", p.String())
}

// TestManualAgainstMandoc: mandoc's own check finds nothing to mend.
func TestManualAgainstMandoc(t *testing.T) {
	path := proof.File(t, "strakewright.1", []byte(manual(modelOf(t), made{version: "v1.2.3", day: "2026-01-02"})))
	require.Empty(t, proof.Run(t, "mandoc", "-T", "lint", "-W", "warning,stop", path))
}

func TestVersionTellsTheCommit(t *testing.T) {
	stamped := &debug.BuildInfo{Main: debug.Module{Version: "v0.0.0-20260102030405-0123456789ab"}, Settings: []debug.BuildSetting{
		{Key: "vcs.revision", Value: "0123456789abcdef0123"}, {Key: "vcs.time", Value: "2026-01-02T03:04:05Z"}, {Key: "vcs.modified", Value: "false"}}}
	require.Equal(t, "v0.0.0-20260102030405-0123456789ab (commit 0123456789ab of 2026-01-02)", madeOf("", "", stamped).String())
	stamped.Settings[2].Value = "true"
	require.Equal(t, "v1.0.0 (commit 0123456789ab of 2026-01-02, changed since)", madeOf("v1.0.0", "", stamped).String())
	require.Equal(t, "v1.0.0 (commit abcdef of 2026-03-04)", madeOf("v1.0.0", "abcdef 2026-03-04", stamped).String(), "the linker's word first")
	require.Equal(t, "v1.0.0 (commit abcdef of 2026-03-04, changed since)", madeOf("v1.0.0", "abcdef 2026-03-04 changed", stamped).String())
	require.Equal(t, "(unreleased)", madeOf("", "", &debug.BuildInfo{Main: debug.Module{Version: "(devel)"}}).String())
}
