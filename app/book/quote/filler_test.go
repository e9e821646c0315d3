package quote

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// said answers for a program of which everything is known.
func said(args ...string) (string, error) {
	switch strings.Join(args, " ") {
	case "widths a.plan":
		return "head\n  one  1.5\n  two  2.5\ntail\n", nil
	case "widths a.plan --json":
		return `{"rows": [{"id": "1.01", "w": 1.5, "kind": "x"}, {"id": "1.02", "w": -2.5, "kind": "x"}]}`, nil
	}
	return "", errors.New("no such command")
}

func TestPageIsFilled(t *testing.T) {
	f := &Filler{Folder: t.TempDir(), Run: said}
	page, err := f.Fill(strings.Join([]string{
		"# A page", "",
		"Row 2 is {{widths a.plan -> rows/id=1.02/w %.2f}}, of {{widths a.plan -> rows/count}}, {{widths a.plan -> rows/count:kind=x&id=1.01}} of them x,",
		"between {{widths a.plan -> rows/least:w}} and {{widths a.plan -> rows/most:w}}; it says {{widths a.plan -> /two +(\\S+)/}}.",
		"%% show widths a.plan | /one/ /two/",
		"%% picture small | A \"{{widths a.plan -> rows/0/id}}\". | a.plan --size \"9 x 9\"",
		"%% drawn sheet big | Big. | a.plan name", "", "",
	}, "\n"))
	require.NoError(t, err)
	assert.Equal(t, strings.Join([]string{
		"# A page", "",
		"Row 2 is −2.50, of 2, 1 of them x,",
		"between −2.5 and 1.5; it says 2.5.",
		"```", "$ strakewright widths a.plan", "  …", "  one  1.5", "  two  2.5", "  …", "```",
		"![A \"1.01\".](pictures/small.png)", "", "*A \"1.01\".*",
		"![Big.](pictures/big.png)", "", "*Big.*", "",
	}, "\n"), page)
	assert.Equal(t, []Picture{{"small", "picture", []string{"a.plan", "--size", "9 x 9"}}, {"big", "sheet", []string{"a.plan", "name"}}}, f.Pictures)
}

func TestWhatCannotBeFilledIsNamed(t *testing.T) {
	for source, says := range map[string]string{
		"\n%% mumble":                     `line 2: there is no instruction "mumble"`,
		"%% run nothing":                  "line 1: nothing: no such command",
		"{{widths a.plan -> rows/9/w}}":   "rows/9/w: there is no 9",
		"{{widths a.plan -> rows}}":       "neither a text nor a number",
		"{{widths a.plan -> /three/}}":    "says nothing that matches /three/",
		"{{widths a.plan}}":               "is not {{COMMAND -> WHAT}}",
		"%% show widths a.plan | /x/ /y/": "no line matches x",
		"%% picture alone":                "NAME | CAPTION | COMMAND",
		"%% set a.plan b.plan":            "OUT = IN PATH VALUE",
	} {
		f := &Filler{Folder: t.TempDir(), Run: said}
		_, err := f.Fill(source)
		assert.ErrorContains(t, err, says, source)
	}
}

func TestPlanIsChanged(t *testing.T) {
	f := &Filler{Folder: t.TempDir(), Run: said}
	require.NoError(t, os.WriteFile(filepath.Join(f.Folder, "a.plan"), []byte(`{"title": "A", "layers": [{"creep": 0.10}]}`), 0o644))
	_, err := f.Fill("%% set b.plan = a.plan layers/0/creep 0.25\n%% set c.plan = b.plan layers/1 {\"x\": [1]}\n%% save c.plan")
	require.NoError(t, err)
	got, err := os.ReadFile(filepath.Join(f.Folder, "c.plan"))
	require.NoError(t, err)
	assert.JSONEq(t, `{"title": "A", "layers": [{"creep": 0.25}, {"x": [1]}]}`, string(got))
	assert.Equal(t, []string{"c.plan"}, f.Saved)
	_, err = f.Fill("%% set b.plan = a.plan layers/3 0")
	assert.ErrorContains(t, err, "layers/3: there is no 3")
}

func TestLongProseIsBroken(t *testing.T) {
	word := strings.Repeat("a", 9)
	line := "   " + strings.TrimSpace(strings.Repeat(word+" ", 20))
	parts := broken(line)
	require.Greater(t, len(parts), 1)
	for _, p := range parts {
		assert.LessOrEqual(t, len(p), widest)
		assert.True(t, strings.HasPrefix(p, "   "+word))
	}
	assert.Equal(t, strings.Fields(line), strings.Fields(strings.Join(parts, " ")))
	assert.Len(t, broken(strings.Repeat("12  ", 60)), 1, "a table stays")
}
