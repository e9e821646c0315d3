package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
)

// spiteful is a text of what steers a terminal or turns the reading round.
const spiteful = "x\x1b[31m\x1b]0;t\x07\r\x00\x08\u009b2J\u202egnp\u202c\u2066\u2069\u200f\u2028\x7f"

// spitefulPlan is the skiff's plan with every text made spiteful, as a file of a
// spiteful name.
func spitefulPlan(t *testing.T, more ...hull.Entry) string {
	p, err := hull.ReadPlan(bytes.NewReader(assets.Skiff()), "")
	require.NoError(t, err)
	p.Title = "title " + spiteful
	p.Hull.Limits.Upper, p.Hull.Limits.Lower = "upper "+spiteful, "lower "+spiteful
	for i := range p.Layers {
		p.Layers[i].Stock.Species = "species " + spiteful
	}
	s := p.Layers[0].Stock
	p.Woods = []hull.Wood{{Name: s.Species, Radial: 3, Tangential: 6, Source: "source " + spiteful}}
	strips := hull.Strips{Width: s.Width, Thickness: s.Thickness, Length: s.Length, Species: s.Species, Count: 3}
	p.Box = []hull.Strips{strips}
	strips.Count, strips.Price = hull.AsMany, 2
	p.Shop = []hull.Strips{strips}
	p.Record.Steps = []hull.Step{{Key: "step " + spiteful, Name: "step name " + spiteful}}
	p.Record.Starboard = []hull.Entry{
		{Date: "2026-03-01", EntryKind: hull.Glued, Layer: 1, Strake: "1.01", Wet: true, Note: "note " + spiteful},
		{Date: "2026-03-01", EntryKind: hull.LeftOver, Layer: 1, Band: 1, Frame: "F8", MM: 15, Note: "note " + spiteful},
		{Date: "2026-03-02", EntryKind: hull.Fitted, Layer: 1, Strake: "1.02", Note: "note " + spiteful},
	}
	p.Record.Starboard = append(p.Record.Starboard, more...)
	name := "plan\x1b[31m\u202e\a.strakeplan"
	path := filepath.Join(t.TempDir(), name)
	if err := hull.SaveFile(path, p); err != nil {
		path = filepath.Join(t.TempDir(), "plan.strakeplan") // a system that has no such names
		require.NoError(t, hull.SaveFile(path, p))
	}
	return path
}

// TestNoTextOfAPlanSteersATerminal: whatever a plan holds, no command prints it
// but as it can be seen; what is JSON stays JSON, and holds it whole.
func TestNoTextOfAPlanSteersATerminal(t *testing.T) {
	plan := spitefulPlan(t)
	sound := []string{
		"check", "check --misfits", "girths", "lie --frame F8 --down 10", "line", "strakes", "flat --strake 1.01", "hold --strake 1.01 --steps",
		"stock --widths 4,5 --mix --swelling --cutting --formulas",
		"record show", "record next", "record steps", "record history", "record sides", "record order",
		"record options --band 1 --side starboard",
	}
	faulty := []string{
		"check --drawn 1:2", "lie --frame \x1b[31m\u202e --down 10", "flat --strake \x1b\u202e", "hold --strake 1.01 --held \x1b\u202e", "stock --widths \x1b\u202e", "stock --species \x1b\u202e --swelling",
		"record note --side port --doing \x1b\u202e", "take-off -o \u202e\x1b", "\x1b\u202e", "sheets -o x --paper \x1b\u202e", "record \x1b\u202e",
		"record show other", "check other",
	}
	other := spitefulPlan(t, hull.Entry{Date: "2026-03-03", EntryKind: hull.Fitted, Layer: 1, Strake: "strake " + spiteful})
	for i, line := range append(sound, faulty...) {
		words := strings.Fields(line)
		args := append([]string{words[0], plan}, words[1:]...)
		if last := len(args) - 1; args[last] == "other" {
			args[1], args = other, args[:last]
		}
		for _, form := range [][]string{nil, {"--json"}} {
			var out, messages bytes.Buffer
			code := run(append(slices.Clip(args), form...), &out, &messages)
			if i < len(sound) {
				assert.Zero(t, code, "%q: %s", line, messages.String())
			}
			seenAlone(t, fmt.Sprintf("%q %v: output", line, form), out.String())
			seenAlone(t, fmt.Sprintf("%q %v: messages", line, form), messages.String())
			if form != nil && out.Len() > 0 {
				var back any
				assert.NoError(t, json.Unmarshal(out.Bytes(), &back), "%q", line)
			}
		}
	}
	var out, messages bytes.Buffer
	require.Zero(t, run([]string{"check", plan, "--json"}, &out, &messages), messages.String())
	var told struct{ File, Title string }
	require.NoError(t, json.Unmarshal(out.Bytes(), &told))
	assert.Equal(t, plan, told.File)
	assert.Equal(t, "title "+spiteful, told.Title)
}

// TestNoTextOfASourceSteersATerminal: nor does what names the frames of a hull source,
// one that is read or one that is refused, nor what is written on the command line.
func TestNoTextOfASourceSteersATerminal(t *testing.T) {
	const name = "x\x1b[31m\a\x00\u202e\u2066\u200f\x7f\u009b2J"
	dir := t.TempDir()
	put := func(file, text string) string {
		path := filepath.Join(dir, file)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	girths, points, drawing := "frame,x_mm,girth_mm\n", "frame,x_mm,y_mm,z_mm\n", ""
	for i := range 5 {
		girths += fmt.Sprintf("%d%s,%d,%d\n", i, name, 50*i, 60+i)
		drawing += fmt.Sprintf(`<path id="%d%s-x-%d" d="M0 0L10 10L20 40"/>`, i, "&#x202e;&#x9b;", 50*i)
		for k := range 6 {
			points += fmt.Sprintf("%d%s,%d,%d,%d\n", i, name, 50*i, 40-k*k, 50-8*k)
		}
	}
	files := []string{
		put("girths.csv", girths), put("points.csv", points), put("faulty.csv", points+name+",q"+name+",1,2\n"),
		put("twice.csv", girths+girths), put("head.csv", "frame"+name+",x_mm\n"), put("drawing.svg", `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">`+drawing+"</svg>"),
		put("plan.strakeplan", `{"version":1,"title":"`+"\u202e"+`","`+"\u202e"+`":`+"\u202e"+`}`),
	}
	var lines [][]string
	for _, f := range files {
		lines = append(lines, []string{"check", f}, []string{"girths", f}, []string{"check", f, "--json"}, []string{"take-off", f, "-o", filepath.Join(dir, "\u202ex.strakeplan"), "--replace"})
	}
	lines = append(lines, []string{name}, []string{"--" + name}, []string{"check", "--" + name}, []string{"check", name, name, name}, []string{"sheets", "x", "--paper=" + name}, []string{"stock", "x", "--layer", name}, []string{"stock", "x", "--laid", name}, []string{"record", "x", name})
	for _, args := range lines {
		var out, messages bytes.Buffer
		run(args, &out, &messages)
		assert.NotZero(t, out.Len()+messages.Len(), "%q", args)
		seenAlone(t, fmt.Sprintf("%q: output", args), out.String())
		seenAlone(t, fmt.Sprintf("%q: messages", args), messages.String())
	}
}

// seenAlone fails where a text holds what cannot be seen.
func seenAlone(t *testing.T, what, text string) {
	t.Helper()
	assert.True(t, utf8.ValidString(text), what)
	for _, r := range text {
		if r != '\n' && r != '\t' && !unicode.IsGraphic(r) {
			assert.Fail(t, fmt.Sprintf("%s holds %q", what, r))
			return
		}
	}
}

// TestNoTextOfAPlanSteersASheet: nor does any file that is written of it, and the
// plan itself keeps its texts.
func TestNoTextOfAPlanSteersASheet(t *testing.T) {
	plan := spitefulPlan(t)
	dir := filepath.Join(t.TempDir(), "sheets")
	var out, messages bytes.Buffer
	require.Zero(t, run([]string{"sheets", plan, "-o", dir}, &out, &messages), messages.String())
	require.Zero(t, run([]string{"record", plan, "history", "--csv", filepath.Join(dir, "history.csv")}, &out, &messages), messages.String())
	require.Zero(t, run([]string{"line", plan, "-o", filepath.Join(dir, "again.strakeplan")}, &out, &messages), messages.String())
	seenAlone(t, "output", out.String())
	seen := map[string]int{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		kind := filepath.Ext(path)
		seen[kind]++
		switch kind {
		case ".svg", ".csv":
			seenAlone(t, path, strings.ReplaceAll(string(data), "\r\n", "\n"))
		case ".dxf":
			for _, r := range string(data) {
				if r < ' ' && r != '\n' && r != '\r' || r == 0x7f {
					assert.Fail(t, fmt.Sprintf("%s holds %q", path, r))
					break
				}
			}
			assert.NotContains(t, strings.ToUpper(string(data)), `\U+202E`)
		case ".xlsx":
			sheetsSeen(t, path, data)
		case ".pdf":
			pdfSeen(t, path)
		}
		return nil
	}))
	for _, kind := range []string{".svg", ".csv", ".dxf", ".xlsx", ".pdf"} {
		assert.Positive(t, seen[kind], kind)
	}
	p, err := hull.OpenFile(filepath.Join(dir, "again.strakeplan"))
	require.NoError(t, err)
	assert.Equal(t, "title "+spiteful, p.Title)
}

// sheetsSeen looks into the parts of a workbook.
func sheetsSeen(t *testing.T, path string, data []byte) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(r)
		require.NoError(t, err)
		seenAlone(t, path+" "+f.Name, strings.ReplaceAll(string(text), "\r\n", "\n"))
		assert.NotContains(t, string(text), "_x001B_")
	}
}

// pdfSeen looks at the lettering of a PDF and at what it says of itself.
func pdfSeen(t *testing.T, path string) {
	for _, args := range [][]string{{"pdftotext", "-layout", path, "-"}, {"pdfinfo", path}} {
		if _, err := exec.LookPath(args[0]); err != nil {
			if os.Getenv("STRAKEWRIGHT_EXTERNAL") != "" {
				require.NoError(t, err)
			}
			return
		}
		text, err := exec.Command(args[0], args[1:]...).Output()
		require.NoError(t, err)
		// Pages are parted by form feeds.
		seenAlone(t, path+" as read by "+args[0], strings.ReplaceAll(string(text), "\f", ""))
	}
}
