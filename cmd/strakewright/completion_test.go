package main

import (
	"bytes"
	"io"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
	"github.com/stretchr/testify/require"
)

// toldOf are a command of the grammar and all those below it, except the hidden ones.
func toldOf(c *kong.Node) []*kong.Node {
	if c.Hidden {
		return nil
	}
	out := []*kong.Node{c}
	for _, below := range c.Children {
		out = append(out, toldOf(below)...)
	}
	return out
}

// completed is what a shell is told of a line after which the Tab key was pressed.
func completed(t *testing.T, line string) []string {
	t.Helper()
	t.Setenv("COMP_LINE", line)
	var out bytes.Buffer
	require.Zero(t, run(nil, &out, io.Discard))
	return strings.Fields(out.String())
}

// TestTabCompletesEveryCommandAndFlag: each that --help tells of, and none that it hides.
func TestTabCompletesEveryCommandAndFlag(t *testing.T) {
	commands := toldOf(modelOf(t).Node)
	require.Greater(t, len(commands), 12)
	for _, c := range commands {
		flags := map[string]bool{}
		for _, group := range c.AllFlags(true) {
			for _, f := range group {
				flags["--"+f.Name] = true
			}
		}
		require.ElementsMatch(t, slices.Collect(maps.Keys(flags)), completed(t, c.FullPath()+" --"), c.FullPath())
		for _, below := range c.Children {
			got := completed(t, c.FullPath()+" "+below.Name)
			require.Equal(t, !below.Hidden, slices.Contains(got, below.Name), "%s %s: %q", c.FullPath(), below.Name, got)
		}
		for i, a := range c.Positional {
			if a.Enum != "" {
				require.ElementsMatch(t, slices.Collect(maps.Keys(a.EnumMap())), completed(t, c.FullPath()+strings.Repeat(" x", i)+" "), c.FullPath())
			}
		}
	}
}
