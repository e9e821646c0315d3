package hull

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// cutter is a plan with everything that a plan can hold, and with unknown keys
// at every level.
const cutter = `{
  "version": 1,
  "title": "Cutter <1:32>",
  "hull": {
    "bow": "last",
    "limits": {"upper": "wale", "lower": "rabbet", "why": "wale first"},
    "frames": [
      {"name": "1", "knuckles": [0, 2], "points": [[0, 8, 60], [0, 7, 40], [0, 5, 20], [0, 2, 5]], "wood": "ply"},
      {"name": "2", "points": [[100, 25, 50], [100, 24, 30], [100, 20, 12], [100, 2, 4]]},
      {"name": "3", "points": [[200, 12, 56], [200, 10, 36], [200, 6, 16], [200, 2, 4]]}
    ],
    "yard": [1, {"a": null}]
  },
  "layers": [
    {
      "stock": {"width": 5, "thickness": 1.5, "length": 900, "species": "lime", "shop": "x"},
      "edges": "square",
      "creep": 0.05,
      "bands": [
        {"strakes": 4, "weights": [1, 1.25], "note": true},
        {}
      ],
      "lines": [
        {
          "manner": "free",
          "hold": "2",
          "aim": "3",
          "handles": [
            {"frame": "3", "down": 20, "held": false},
            {"frame": "1", "down": 24, "mark": "pencil"},
            {"frame": "2", "down": 22.5}
          ],
          "colour": "blue"
        }
      ],
      "glue": "white"
    }
  ],
  "rigging": {"mast": []}
}
`

func readCutter(t *testing.T) *Plan {
	t.Helper()
	p, err := ReadPlan(strings.NewReader(cutter), "cutter.strakeplan")
	require.NoError(t, err)
	return p
}

// TestABattenNeedsNoWord: a line that follows the thin batten is written as before there
// was a choice, whether or not its file says so.
func TestABattenNeedsNoWord(t *testing.T) {
	said := strings.Replace(cutter, `"manner": "free",`, `"manner": "free", "follows": "batten",`, 1)
	require.NotEqual(t, cutter, said)
	var plain, told strings.Builder
	for text, into := range map[string]*strings.Builder{cutter: &plain, said: &told} {
		p, err := ReadPlan(strings.NewReader(text), "cutter")
		require.NoError(t, err)
		require.NoError(t, p.Write(into))
	}
	assert.Equal(t, plain.String(), told.String())
	assert.NotContains(t, plain.String(), "follows")
}

func written(t require.TestingT, p *Plan) string {
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	return b.String()
}

func TestReadPlan(t *testing.T) {
	p := readCutter(t)
	assert.Equal(t, "Cutter <1:32>", p.Title)
	assert.Equal(t, BowLast, p.Hull.Bow)
	assert.Equal(t, "wale", p.Hull.Limits.Upper)
	assert.Equal(t, []int{2}, p.Hull.Frames[0].Knuckles, "the limit is no corner")
	l := p.Layers[0]
	assert.Equal(t, Square, l.Edges)
	assert.Equal(t, 1.5, l.Stock.Thickness)
	assert.Equal(t, 1.25, l.Bands[0].Weight(1))
	b := l.Lines[0]
	assert.Equal(t, []int{1, 2}, []int{b.Hold, b.Aim})
	assert.Equal(t, []float64{24, 22.5, 20}, []float64{b.Handles[0].Down, b.Handles[1].Down, b.Handles[2].Down})
	assert.Equal(t, []bool{true, true, false}, []bool{b.Handles[0].Held, b.Handles[1].Held, b.Handles[2].Held})
}

// A plan may hold as little as this; everything else takes its usual value.
func TestReadPlanDefaults(t *testing.T) {
	text := strings.NewReplacer(
		`"bow": "last",`, "", `"limits": {"upper": "wale", "lower": "rabbet", "why": "wale first"},`, "",
		`"edges": "square",`, "", `"creep": 0.05,`, "",
		`"manner": "free",`, `"manner": "least",`, `"hold": "2",`, "", `"aim": "3",`, "",
		`{"frame": "2", "down": 22.5}`, "", `"mark": "pencil"},`, `"held": true}`,
	).Replace(cutter)
	p, err := ReadPlan(strings.NewReader("\ufeff"+text), "")
	require.NoError(t, err)
	assert.Equal(t, BowFirst, p.Hull.Bow)
	assert.Equal(t, Limits{Upper: "sheer", Lower: "rabbet"}, p.Hull.Limits)
	assert.Equal(t, Bevelled, p.Layers[0].Edges)
	assert.Zero(t, p.Layers[0].Creep)
	b := p.Layers[0].Lines[0]
	assert.Equal(t, []int{0, -1}, []int{b.Hold, b.Aim})
	assert.Equal(t, Handle{Down: 22}, b.Handles[1], "midway between its neighbours, and released")
}

func TestNewPlan(t *testing.T) {
	h := lugger()
	p := NewPlan("Lugger", h)
	assert.Equal(t, []Layer{{
		Stock: Stock{Width: 5, Thickness: 2, Length: 1000},
		Edges: Bevelled,
		Bands: []Band{{}},
	}}, p.Layers)
	assert.Nil(t, p.Check())
	p.Hull.Frames[0].Points[0][1] = 99
	assert.Equal(t, 8.0, h.Frames[0].Points[0].Y(), "the plan has a hull of its own")
	again, err := ReadPlan(strings.NewReader(written(t, p)), "")
	require.NoError(t, err)
	assert.Equal(t, p, again)
}

// What the program does not know is written back, wherever it was.
func TestWriteKeepsUnknownKeys(t *testing.T) {
	p := readCutter(t)
	text := written(t, p)
	for _, kept := range []string{
		`"why": "wale first"`, `"wood": "ply"`, `"yard": [1,{"a":null}]`, `"shop": "x"`, `"note": true`,
		`"mark": "pencil"`, `"colour": "blue"`, `"glue": "white"`, `"rigging": {"mast":[]}`,
	} {
		assert.Contains(t, text, kept)
	}
	again, err := ReadPlan(strings.NewReader(text), "")
	require.NoError(t, err)
	assert.Equal(t, p, again)
	assert.Equal(t, text, written(t, again))
	assert.Equal(t, text, written(t, p.Clone()))
}

func TestWriteIsReadable(t *testing.T) {
	text := written(t, readCutter(t))
	assert.Contains(t, text, "\n          [0, 7, 40],\n", "a point a line")
	assert.Contains(t, text, `{"frame": "1", "down": 24, "held": true, "mark": "pencil"},`, "a handle a line")
	assert.Contains(t, text, `"title": "Cutter <1:32>",`)
}

func TestCloneSharesNothing(t *testing.T) {
	p := readCutter(t)
	before := written(t, p)
	q := p.Clone()
	assert.Equal(t, p, q)
	q.Title = "other"
	q.Hull.Frames[0].Name = "other"
	q.Hull.Frames[0].Points[0][0] = 9
	q.Hull.Frames[0].Knuckles[0] = 1
	l := &q.Layers[0]
	l.Creep, l.Bands[0].Strakes, l.Bands[0].Weights[0], l.Lines[0].Hold, l.Lines[0].Handles[0].Down = 1, 9, 9, 0, 9
	assert.Equal(t, before, written(t, p))
}

// Each slip that spoils a plan file, and the one sentence for it.
func TestPlanFaults(t *testing.T) {
	swap := func(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(cutter) }
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", `: the file is empty; check that it is the right file.`},
		{"points", "frame,x_mm,y_mm,z_mm\n", `: this is not a plan file; take the hull off into a plan first.`},
		{"UTF-16", "\xfe\xff\x00{", `: the file is UTF-16, or not text; save it again as UTF-8.`},
		{"bad character", swap("Cutter", "C\xfctter"), `, line 3: there is a character that is not UTF-8; save the file again as UTF-8.`},
		{"cut short", cutter[:len(cutter)/2], `, line 16: the file breaks off before its end; take a whole copy of it.`},
		{"comma missing", swap(`"version": 1,`, `"version": 1`), `, line 3: the character '"' is out of place; look for a missing comma, quote or bracket here or just before.`},
		{"not a number", swap("0.05", "NaN"), `, line 18: the character 'N' is out of place; look for a missing comma, quote or bracket here or just before.`},
		{"trailing", cutter + "}", `, line 41: text follows the end of the plan, from '}' on; remove it.`},
		{"deep", swap("null", strings.Repeat("[", 200)+strings.Repeat("]", 200)), `, line 12: objects and lists nest more than 100 deep; check that it is a plan file.`},
		{"very deep", swap("null", strings.Repeat("[", 20000)+strings.Repeat("]", 20000)), `, line 12: objects and lists nest more than 100 deep; check that it is a plan file.`},
		{"no version", swap(`"version"`, `"edition"`), `: there is no "version"; check that it is a plan file; if it is, add "version": 1.`},
		{"version 0", swap(`"version": 1`, `"version": 0`), `, line 2: there is no version 0; check that it is a plan file.`},
		{"version a half", swap(`"version": 1`, `"version": 1.5`), `, line 2: there is no version 1.5; check that it is a plan file.`},
		{"version in words", swap(`"version": 1`, `"version": "1"`), `, line 2: there is no version "1"; check that it is a plan file.`},
		{"newer", swap(`"version": 1`, `"version": 2, "version2": 3`), `, line 2: the plan has version 2, but this program reads up to 1; open it with a newer program.`},
		{"doubled key", swap(`"creep": 0.05`, `"edges": "square"`), `, line 18: the key "edges" appears twice in layer 1; remove one of them.`},
		{"title", swap(`"Cutter <1:32>"`, `12`), `, line 3: "title" of the plan is 12, not a text; put it in quotes.`},
		{"long title", swap("Cutter", strings.Repeat("C", 1001)), `, line 3: "title" of the plan has more than 1000 characters; shorten it.`},
		{"no hull", swap(`"hull"`, `"hulk"`, `"layers"`, `"skins"`), `, line 1: the plan has no "hull"; add it.`},
		{"hull a list", `{"version": 1, "hull": [], "layers": []}`, `, line 1: the hull is a list, not an object; make it an object {..}.`},
		{"bow", swap(`"last"`, `"left"`), `, line 5: "bow" of the hull is "left"; write first or last.`},
		{"bow the other way", swap(`"name": "1"`, `"name": "Stem"`, `"frame": "1"`, `"frame": "Stem"`), `, line 4: the plan puts the bow last, but the end curves lie the other way; correct one of them.`},
		{"no frames", swap(`"frames"`, `"ribs"`, `"hold": "2"`, `"hold": "2"`), `, line 4: the hull has no "frames"; add it.`},
		{"no points", swap(`"points": [[100`, `"dots": [[100`), `, line 9: frame 2 has no "points"; add it.`},
		{"points a number", swap(`[[100, 25, 50], [100, 24, 30], [100, 20, 12], [100, 2, 4]]`, `7`), `, line 9: "points" of frame 2 is 7, not a list; make it a list [..].`},
		{"two figures", swap(`[100, 24, 30]`, `[100, 24]`), `, line 9: point 2 of frame 2 has 2 figures; give x, y and z.`},
		{"four figures", swap(`[100, 24, 30]`, `[100, 24, 30, 1]`), `, line 9: point 2 of frame 2 has more than the limit of 3 items; remove some.`},
		{"figure a text", swap(`[100, 24, 30]`, `[100, "24", 30]`), `, line 9: y of point 2 of frame 2 is "24", not a number; give a number.`},
		{"figure past any", swap(`[100, 24, 30]`, `[100, 24, 1e999]`), `, line 9: z of point 2 of frame 2 is 1e999, which is not finite; give it from -1000000000 to 1000000000.`},
		{"below zero", swap(`[100, 24, 30]`, `[100, -24, 30]`), `, line 9, frame 2: the half-breadth y of point 2 is -24 mm, below zero; give the half-breadths of one side, 0 or more.`},
		{"out of order", swap(`[200, 12, 56], [200, 10, 36], [200, 6, 16], [200, 2, 4]`, `[70, 12, 56], [70, 10, 36], [70, 6, 16], [70, 2, 4]`), `, line 10, frame 3: it is at x 70, and frame 2 before it at x 100; list the frames by rising x.`},
		{"pole", swap(`[0, 8, 60], [0, 7, 40], [0, 5, 20], [0, 2, 5]`, `[0, 0, 30], [0, 0, 30], [0, 0, 30], [0, 0, 30]`), `, line 8, frame 1: all its points are in one place; leave it out, or measure the end a little way inboard, where the frame still has a girth.`},
		{"knuckle past the end", swap("[0, 2]", "[0, 4]"), `, line 8: knuckle 2 of frame 1 is 4; give it from 0 to 3.`},
		{"knuckles falling", swap("[0, 2]", "[2, 1]"), `, line 8: the knuckles of frame 1 do not rise; list them by rising number.`},
		{"no layers", swap(`"layers"`, `"skins"`), `, line 1: the plan has no "layers"; add it.`},
		{"no layer", `{"version": 1, "layers": [], "hull": 7}`, `, line 1: the hull is 7, not an object; make it an object {..}.`},
		{"no stock", swap(`"stock"`, `"sticks"`), `, line 15: layer 1 has no "stock"; add it.`},
		{"no width", swap(`"width"`, `"breadth"`), `, line 16: the stock of layer 1 has no "width"; add it.`},
		{"zero width", swap(`"width": 5`, `"width": 0`), `, line 16: "width" of the stock of layer 1 is 0; give it from 0.1 to 1000.`},
		{"negative thickness", swap(`1.5`, `-1.5`), `, line 16: "thickness" of the stock of layer 1 is -1.5; give it from 0.05 to 100.`},
		{"absurd length", swap(`900`, `9e9`), `, line 16: "length" of the stock of layer 1 is 9e9; give it from 1 to 100000.`},
		{"edges", swap(`"square"`, `"round"`), `, line 17: "edges" of layer 1 is "round"; write bevelled or square.`},
		{"edges a number", swap(`"square"`, `4`), `, line 17: "edges" of layer 1 is 4; write bevelled or square.`},
		{"creep", swap(`0.05`, `2.5`), `, line 18: "creep" of layer 1 is 2.5 mm a strip; give less than half the stock's width.`},
		{"no band", `{"version": 1, "hull": {"frames": 1}, "layers": []}`, `, line 1: "frames" is 1, not a list; make it a list [..].`},
		{"strakes", swap(`"strakes": 4`, `"strakes": 501`), `, line 20: "strakes" of band 1 of layer 1 is 501; give it from 0 to 500.`},
		{"half a strake", swap(`"strakes": 4`, `"strakes": 4.5`), `, line 20: "strakes" of band 1 of layer 1 is 4.5; give a whole number.`},
		{"weight", swap(`1.25]`, `0]`), `, line 20: weight 2 of band 1 of layer 1 is 0; give it from 0.001 to 100.`},
		{"lines", swap(`        {}`, `        {}, {}`), `, line 23: layer 1 has 3 bands and 1 line between them; give one line fewer than there are bands.`},
		{"lines missing", swap(`"lines"`, `"ropes"`), `, line 15: layer 1 has 2 bands and 0 lines between them; give one line fewer than there are bands.`},
		{"manner", swap(`"free"`, `"loose"`), `, line 25: "manner" of line 1 of layer 1 is "loose"; write drawn, free or least.`},
		{"follows", swap(`"manner": "free",`, `"manner": "free", "follows": "water",`), `, line 25: "follows" of line 1 of layer 1 is "water"; write batten or strip.`},
		{"no manner", swap(`"manner": "free",`, ``), `, line 24: line 1 of layer 1 has no "manner"; write drawn, free or least.`},
		{"no hold", swap(`"hold": "2",`, ``), `, line 24: line 1 of layer 1 is free and has no "hold"; name the frame of its hold handle.`},
		{"hold on no frame", swap(`"hold": "2"`, `"hold": "9"`), `, line 26: "hold" of line 1 of layer 1 is "9", and there is no such frame; name a frame of the hull.`},
		{"hold by number", swap(`"hold": "2"`, `"hold": 2`), `, line 26: "hold" of line 1 of layer 1 is 2, not a text; put it in quotes.`},
		{"aim on hold", swap(`"aim": "3"`, `"aim": "2"`), `, line 27: the hold and aim handles of line 1 of layer 1 lie on one frame; name another frame, or leave the aim out.`},
		{"no handles", swap(`"handles"`, `"grips"`), `, line 24: line 1 of layer 1 has no "handles"; add it.`},
		{"none held", swap(`"free"`, `"drawn"`, `"down": 24`, `"down": 24, "held": false`, `22.5`, `22.5, "held": false`), `, line 28: line 1 of layer 1 is drawn and has no held handle; hold at least one.`},
		{"handle on no frame", swap(`"frame": "1"`, `"frame": "0"`), `, line 30: "frame" of handle 2 of line 1 of layer 1 is "0", and there is no such frame; name a frame of the hull.`},
		{"handle without frame", swap(`"frame": "1",`, ``), `, line 30: handle 2 of line 1 of layer 1 has no "frame"; add it.`},
		{"handle without down", swap(`"down": 24,`, ``), `, line 30: handle 2 of line 1 of layer 1 has no "down"; add it.`},
		{"handle doubled", swap(`"frame": "1"`, `"frame": "3"`), `, line 30: line 1 of layer 1 has two handles on frame 3; remove one of them.`},
		{"handle above", swap(`"down": 24`, `"down": -24`), `, line 30: "down" of handle 2 of line 1 of layer 1 is -24 mm, but frame 1 has a girth of 55.4218 mm; give the girth from the upper limit down to the line.`},
		{"handle below", swap(`"down": 24`, `"down": 240`), `, line 30: "down" of handle 2 of line 1 of layer 1 is 240 mm, but frame 1 has a girth of 55.4218 mm; give the girth from the upper limit down to the line.`},
		{"held", swap(`false`, `"no"`), `, line 29: "held" of handle 1 of line 1 of layer 1 is "no"; write true or false.`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadPlan(strings.NewReader(c.text), "cutter.strakeplan")
			require.Error(t, err)
			assert.Equal(t, "cutter.strakeplan"+c.want, err.Error())
		})
	}
}

func TestReadPlanBounds(t *testing.T) {
	_, err := ReadPlan(bytes.NewReader(make([]byte, largestPlanFile+1)), "huge.strakeplan")
	assert.EqualError(t, err, "huge.strakeplan: the file is larger than 64 MB, the most that the program reads; leave out what you do not need.")
}

func TestCheckPlanGivesEveryFault(t *testing.T) {
	text := strings.NewReplacer("0.05", "9", `"hold": "2"`, `"hold": "9"`, "[100, 24, 30]", "[100, -24, 30]").Replace(cutter)
	p, found := CheckPlan(strings.NewReader(text), "")
	require.NotNil(t, p)
	require.Len(t, found, 3)
	assert.Equal(t, []int{9, 18, 26}, []int{found[0].Line, found[1].Line, found[2].Line})
}

// Whichever token replaces another, the reader neither breaks nor accepts what
// it could not write, and each fault is one line.
func TestPlanTokensSwapped(t *testing.T) {
	token := regexp.MustCompile(`"[^"]*"|-?[0-9.]+|true|false|null|[][{}]`)
	places := token.FindAllStringIndex(timbered, -1)
	others := append(token.FindAllString(timbered, -1), "[]", "{}", "1e999", "-1", "0", `"\n"`, `"\ud800"`, "[{}]", "null")
	rapid.Check(t, func(t *rapid.T) {
		text := timbered
		for range rapid.IntRange(1, 2).Draw(t, "swaps") {
			at := rapid.SampledFrom(places).Draw(t, "at")
			if at[1] <= len(text) {
				text = text[:at[0]] + rapid.SampledFrom(others).Draw(t, "other") + text[at[1]:]
			}
		}
		p, found := CheckPlan(strings.NewReader(text), "x")
		for _, f := range found {
			require.NotContains(t, f.Error(), "\n")
			require.NotEmpty(t, f.Mend)
		}
		if len(found) == 0 {
			again, err := ReadPlan(strings.NewReader(written(t, p)), "")
			require.NoError(t, err)
			require.Equal(t, p, again)
		}
	})
}

// A file of each version that was ever written opens, and is written back
// unchanged while its version is current.
func TestEveryVersionOpens(t *testing.T) {
	for v := 1; v <= planVersion; v++ {
		path := fmt.Sprintf("../testdata/hull/version-%d.strakeplan", v)
		p, err := OpenFile(path)
		require.NoError(t, err)
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		if v == planVersion {
			assert.Equal(t, string(text), written(t, p))
		}
	}
}

// What could not be read again is not written.
func TestPlanCheck(t *testing.T) {
	for want, spoil := range map[string]func(p *Plan){
		`"width" of the stock of layer 1 is null, not a number; give a number.`: func(p *Plan) { p.Layers[0].Stock.Width = math.NaN() },
		`"down" of handle 2 of line 1 of layer 1 is null, not a number; give a number.`: func(p *Plan) {
			p.Layers[0].Lines[0].Handles[1].Down = math.Inf(1)
		},
		`layer 1 has 3 bands and 1 line between them; give one line fewer than there are bands.`: func(p *Plan) {
			p.Layers[0].Bands = append(p.Layers[0].Bands, Band{})
		},
		`handle 3 of line 1 of layer 1 has no "down"; add it.`: func(p *Plan) {
			p.Layers[0].Lines[0].Handles = p.Layers[0].Lines[0].Handles[:2]
		},
		`"frame" of handle 4 of line 1 of layer 1 is "", and there is no such frame; name a frame of the hull.`: func(p *Plan) {
			p.Layers[0].Lines[0].Handles = append(p.Layers[0].Lines[0].Handles, Handle{})
		},
		`"aim" of line 1 of layer 1 is "", and there is no such frame; name a frame of the hull.`: func(p *Plan) { p.Layers[0].Lines[0].Aim = 7 },
		`"edges" of layer 1 is ""; write bevelled or square.`:                                     func(p *Plan) { p.Layers[0].Edges = "" },
		`the plan has no layer; add one.`:                                                         func(p *Plan) { p.Layers = nil },
		`frame 2: it has 1 point, but a frame needs 4 or more; add points.`:                       func(p *Plan) { p.Hull.Frames[1].Points = p.Hull.Frames[1].Points[:1] },
	} {
		p := readCutter(t)
		assert.Nil(t, p.Check())
		spoil(p)
		found := p.Check()
		if assert.Len(t, found, 1, want) {
			assert.EqualError(t, found[0], want)
		}
		var b bytes.Buffer
		assert.EqualError(t, p.Write(&b), want)
		assert.Zero(t, b.Len())
	}
}

func TestWriteTellsAFailedWrite(t *testing.T) {
	full := errors.New("the disk is full")
	assert.ErrorIs(t, readCutter(t).Write(failing{full}), full)
}

// somePlan draws plans that keep every rule.
func somePlan(t *rapid.T) *Plan {
	p := NewPlan(rapid.StringN(0, 20, -1).Draw(t, "title"), *someHull(t))
	someTimber(t, p)
	someTrade(t, p)
	l := &p.Layers[0]
	l.Stock.Species = rapid.String().Draw(t, "species")
	l.Creep = rapid.Float64Range(-1, 1).Draw(t, "creep")
	l.Edges = rapid.SampledFrom([]Edges{Bevelled, Square}).Draw(t, "edges")
	someExtent(t, p, l)
	l.Bands[0].Weights = rapid.SliceOfN(rapid.Float64Range(0.1, 10), 1, 5).Draw(t, "weights")
	for range rapid.IntRange(0, 3).Draw(t, "lines") {
		l.Bands = append(l.Bands, Band{Strakes: rapid.IntRange(0, 30).Draw(t, "strakes")})
		b := BandLine{
			LineType: rapid.SampledFrom([]LineType{Drawn, Free, Least}).Draw(t, "manner"),
			Follows:  rapid.SampledFrom([]Follows{ThinBatten, StripItself}).Draw(t, "follows"),
			Hold:     rapid.IntRange(1, len(p.Hull.Frames)-1).Draw(t, "hold"),
			Aim:      rapid.SampledFrom([]int{-1, 0}).Draw(t, "aim"),
		}
		for i := range p.Hull.Frames {
			b.Handles = append(b.Handles, Handle{
				Down: rapid.Float64Range(0, 40).Draw(t, "down"),
				Held: i == 0 || rapid.Bool().Draw(t, "held"),
			})
		}
		l.Lines = append(l.Lines, b)
	}
	return p
}

// someTrade draws a few rules of the builder's own.
func someTrade(t *rapid.T, p *Plan) {
	for _, r := range rapid.SliceOfN(rapid.SampledFrom(TradeRules()), 0, 3).Draw(t, "rules") {
		trade := p.Trade
		require.NoError(t, r.Set(&trade, rapid.Float64Range(r.Within.Low, r.Within.High).Draw(t, r.Key)))
		if trade.Check() == nil {
			p.Trade = trade
		}
	}
}

func TestPlanRoundTrip(t *testing.T) {
	schema := planSchema(t)
	rapid.Check(t, func(t *rapid.T) {
		p := somePlan(t)
		text := written(t, p)
		again, err := ReadPlan(strings.NewReader(text), "")
		require.NoError(t, err)
		require.Equal(t, p, again)
		require.Equal(t, p, p.Clone())
		require.NoError(t, schema.Validate(decoded(t, text)))
	})
}

// planSchema is the published schema.
func planSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := os.ReadFile("../assets/strakeplan.schema.json")
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	require.NoError(t, c.AddResource("plan.json", decoded(t, string(text))))
	s, err := c.Compile("plan.json")
	require.NoError(t, err)
	return s
}

func decoded(t require.TestingT, text string) any {
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	require.NoError(t, err)
	return v
}

func TestSchema(t *testing.T) {
	s := planSchema(t)
	assert.NoError(t, s.Validate(decoded(t, cutter)))
	assert.NoError(t, s.Validate(decoded(t, written(t, readCutter(t)))))
	for _, spoil := range [][2]string{
		{`"version": 1`, `"version": 2`}, {`"hull"`, `"hulk"`}, {`"layers"`, `"skins"`}, {`"last"`, `"left"`},
		{`[100, 24, 30]`, `[100, 24]`}, {`[100, 24, 30]`, `[100, 24, 30, 1]`}, {`[100, 24, 30]`, `[100, -24, 30]`},
		{`"width": 5`, `"width": 0`}, {`"square"`, `"round"`}, {`"strakes": 4`, `"strakes": 501`},
		{`1.25]`, `0]`}, {`"free"`, `"loose"`}, {`"hold": "2",`, ``}, {`"down": 24,`, ``}, {`"held": false`, `"held": 0`},
	} {
		text := strings.Replace(cutter, spoil[0], spoil[1], 1)
		assert.Error(t, s.Validate(decoded(t, text)), "%s", spoil)
		_, err := ReadPlan(strings.NewReader(text), "")
		assert.Error(t, err, "%s", spoil)
	}
}

// Every key that is written is in the schema.
func TestSchemaNamesEveryKey(t *testing.T) {
	text, err := os.ReadFile("../assets/strakeplan.schema.json")
	require.NoError(t, err)
	p := NewPlan("", readCutter(t).Hull)
	for i := range p.Hull.Frames {
		p.Hull.Frames[i].extra = nil
	}
	p.Hull.extra, p.Hull.Limits.extra = nil, nil
	p.Hull.Limits.From, p.Hull.Limits.To = "1", "2"
	p.Hull.Limits.Down, p.Hull.Limits.Up = []Inset{{Frame: "2", MM: 1}}, []Inset{{Frame: "2", MM: 1}}
	p.Layers[0].Bands = []Band{{Weights: []float64{1}}, {}}
	p.Layers[0].Lines = []BandLine{{LineType: Free, Hold: 1, Aim: 0, Handles: make([]Handle, 3)}}
	p.Woods, p.Moisture.Room, p.Cutting.Kerf = []Wood{{Name: "x", Radial: 1, Tangential: 2}}, 9, 2
	for _, r := range TradeRules() {
		require.NoError(t, r.Set(&p.Trade, r.Within.High))
	}
	p.Box = []Strips{{Width: 1, Thickness: 1, Length: 1, Count: 1}}
	p.Shop = []Strips{{Width: 1, Thickness: 1, Length: 1, Count: 1, Price: 1}}
	p.Record = Record{To: 0.5, Spreads: []Spread{someStrip}, Port: []Entry{{Date: "2026-03-01", EntryKind: BareGirth, Layer: 1, Frame: "2", MM: 40, To: 0.1}}}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			for key, inner := range v {
				assert.Contains(t, string(text), fmt.Sprintf("%q: {", key))
				walk(inner)
			}
		case []any:
			for _, inner := range v {
				walk(inner)
			}
		}
	}
	var v any
	require.NoError(t, json.Unmarshal([]byte(written(t, p)), &v))
	walk(v)
}

func FuzzReadPlan(f *testing.F) {
	f.Add([]byte(cutter))
	f.Add([]byte(strings.ReplaceAll(cutter, " ", "")))
	f.Add([]byte(`{"version":1,"hull":{"frames":[{}]},"layers":[{"lines":[{}]}]}`))
	f.Add([]byte("frame,x_mm,y_mm,z_mm\nA,20,8,60\n"))
	f.Add([]byte(timbered))
	f.Add([]byte(limited))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ReadPlan(bytes.NewReader(data), "")
		if err != nil {
			return
		}
		text := written(t, p)
		again, err := ReadPlan(strings.NewReader(text), "")
		require.NoError(t, err)
		require.Equal(t, p, again)
		require.Equal(t, text, written(t, again))
	})
}
