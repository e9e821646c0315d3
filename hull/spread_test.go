package hull

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// someStrip is an invented builder's work with pear strips of 4 by 1 mm.
var someStrip = Spread{
	Species: "pear", Width: 4, Thickness: 1, Creep: 0.03, CreepSD: 0.02,
	Shape: 0.15, Frame: 0.2, Knife: 0.06, Along: 0.02, Strake: 0.05, Reading: 0.1, Sure: 0.4, Builds: 1, Readings: 60,
}

func TestSpreadsRulesAndGirthsAreReadAndWritten(t *testing.T) {
	const record = `{"starboard":[
		{"date":"2026-03-01","doing":"girth","frame":"2","mm":41.5,"to":0.1},
		{"date":"2026-03-02","doing":"glued","strake":"1.01","to":0.5}],
		"to":0.5,
		"spreads":[{"species":"pear","width":4,"thickness":1,"creep":0.03,"creep_sd":0.02,"shape":0.15,"frame":0.2,"knife":0.06,"along":0.02,"strake":0.05,"reading":0.1,"sure":0.4,"builds":1,"readings":60,"hand":"left"}]}`
	p, err := recorded(t, record)
	require.NoError(t, err)
	girth := p.Record.Starboard[0]
	assert.Equal(t, Entry{Date: "2026-03-01", EntryKind: BareGirth, Layer: 1, Frame: "2", MM: 41.5, To: 0.1}, girth, "of no band and no strake")
	assert.Zero(t, p.Record.Starboard[1].To, "no measurement is read to anything")
	assert.Equal(t, 0.5, p.Record.To)
	got := p.Record.Spreads[0]
	got.extra = nil
	assert.Equal(t, someStrip, got)

	text := written(t, p)
	for _, kept := range []string{`"to": 0.1`, `"hand": "left"`, `"strake": "1.01", "to": 0.5`} {
		assert.Contains(t, text, kept)
	}
	assert.NoError(t, planSchema(t).Validate(decoded(t, text)))
	again, err := ReadPlan(strings.NewReader(text), "bench")
	require.NoError(t, err)
	assert.Equal(t, p, again)
}

func TestRecordsWithoutThemAreWrittenAsBefore(t *testing.T) {
	r := Record{Port: []Entry{{Date: "2026-03-01", EntryKind: LeftOver, Layer: 1, Band: 1, Frame: "2", MM: 3.5}}}
	var b bytes.Buffer
	write(&b, r.object(), "")
	assert.JSONEq(t, `{
  "port": [
    {"date": "2026-03-01", "doing": "left", "layer": 1, "band": 1, "frame": "2", "mm": 3.5}
  ]
}`, b.String())
}

func TestFaultsOfSpreadsAndRules(t *testing.T) {
	of := func(from, to string) string {
		var b bytes.Buffer
		write(&b, list{someStrip.object()}, "")
		return `{"spreads":` + strings.Replace(b.String(), from, to, 1) + `}`
	}
	for record, want := range map[string]string{
		`{"to":0}`: `"to" of the record is 0; give it from 0.001 to 100`,
		`{"port":[{"date":"2026-03-01","doing":"girth","frame":"2","mm":3,"to":-1}]}`: `"to" of entry 1 of the port side is -1; give it from 0.001 to 100`,
		`{"port":[{"date":"2026-03-01","doing":"girth","mm":3}]}`:                     `entry 1 of the port side has no "frame"`,
		`{"spreads":{}}`:                                  `"spreads" of the record is an object, not a list`,
		of(`"frame": 0.2`, `"frame": 0`):                  `"frame" of spread 1 of the record is 0; give it above 0 and at most 100`,
		of(`, "sure": 0.4`, ``):                           `spread 1 of the record has no "sure"`,
		of(`"builds": 1`, `"builds": 1.5`):                `"builds" of spread 1 of the record is 1.5; give a whole number`,
		of(`"readings": 60}`, `"readings": 60}, {}`):      `spread 2 of the record has no "width"`,
		`{"spreads":[` + twice(t) + `,` + twice(t) + `]}`: `the record has two spreads of pear, 4 by 1 mm; remove one of them`,
	} {
		_, err := recorded(t, record)
		assert.ErrorContains(t, err, want)
	}
}

// twice is the spread as written, to be written again.
func twice(t *testing.T) string {
	t.Helper()
	var b bytes.Buffer
	write(&b, someStrip.object(), "")
	return b.String()
}

// Whatever Check accepts is read back as it was written.
func TestSpreadsHoldToOneTable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := someStrip
		f := rapid.SampledFrom(s.figures()).Draw(t, "figure")
		*f.v = rapid.Float64Range(-2, 1.2*f.within.High).Draw(t, f.key)
		p := NewPlan("", *someHull(t))
		p.Record.Spreads = []Spread{s}
		assert.Equal(t, s.Check() == nil, p.Check() == nil, "%s %g", f.key, *f.v)
		assert.Equal(t, s.Check() == nil, p.CheckFigures() == nil, "%s %g", f.key, *f.v)
	})
}
