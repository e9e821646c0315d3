package hull

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// recorded is the frozen plan with a record of its own.
func recorded(t *testing.T, record string) (*Plan, error) {
	t.Helper()
	p, err := OpenFile("../testdata/hull/version-1.strakeplan")
	require.NoError(t, err)
	p.Record = Record{}
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	text := strings.Replace(b.String(), `"version": 1,`, `"version": 1, "record": `+record+`,`, 1)
	return ReadPlan(strings.NewReader(text), "bench")
}

func TestRecordIsReadAndWritten(t *testing.T) {
	p, err := recorded(t, `{"starboard":[
		{"date":"2026-03-04","doing":"left","layer":1,"band":2,"frame":"2","mm":12.5,"note":"by lamplight"},
		{"date":"2026-03-01T19:30","doing":"glued","strake":"1.02","wet":true,"by":"M"}],
		"tolerance":0.8,"steps":[{"step":"soak"},{"step":"","name":"Tea"}],"hand":"left"}`)
	require.NoError(t, err)
	s := p.Record.Of(Starboard)
	require.Len(t, s, 2)
	assert.Equal(t, "1.02", s[0].Strake, "by date")
	assert.True(t, s[0].Wet)
	assert.Equal(t, 1, s[0].Layer, "the first where none is named")
	assert.Equal(t, 12.5, s[1].MM)
	assert.Empty(t, p.Record.Of(Port))
	assert.Equal(t, "Tea", p.Record.Steps[1].Name)

	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	for _, kept := range []string{`"by": "M"`, `"hand": "left"`, `"note": "by lamplight"`} {
		assert.Contains(t, strings.ReplaceAll(b.String(), `":"`, `": "`), kept)
	}
	again, err := ReadPlan(&b, "bench")
	require.NoError(t, err)
	assert.Equal(t, p, again)
}

func TestRecordFaults(t *testing.T) {
	for record, want := range map[string]string{
		`{"port":[{"date":"soon","doing":"glued","strake":"1.01"}]}`:                        `the date of entry 1 of the port side is "soon"`,
		`{"port":[{"date":"2026-03-01","doing":"burnt","strake":"1.01"}]}`:                  `"doing" of entry 1 of the port side`,
		`{"port":[{"date":"2026-03-01","doing":"glued"}]}`:                                  `strake`,
		`{"port":[{"date":"2026-03-01","doing":"left","band":1,"frame":"no such","mm":3}]}`: `there is no such frame`,
		`{"port":[{"date":"2026-03-01","doing":"width","strake":"1.01","frame":"2"}]}`:      `mm`,
		`{"port":[{"date":"2026-03-01","doing":"left","frame":"2","mm":3}]}`:                `band`,
		`{"starboard":{}}`: `starboard`,
	} {
		_, err := recorded(t, record)
		assert.ErrorContains(t, err, want)
	}
}

func TestAddKeepsTheOrderOfDates(t *testing.T) {
	var r Record
	r.Add(Port, Entry{Date: "2026-03-02", EntryKind: Glued, Strake: "b"})
	before := r.clone()
	r.Add(Port, Entry{Date: "2026-03-01", EntryKind: Glued, Strake: "a"})
	r.Add(Port, Entry{Date: "2026-03-02", EntryKind: Glued, Strake: "c"})
	var got []string
	for _, e := range r.Of(Port) {
		got = append(got, e.Strake)
	}
	assert.Equal(t, []string{"a", "b", "c"}, got)
	assert.Len(t, before.Port, 1, "a copy is not changed")
}

func TestChoicesAndWidthsAreReadAndWritten(t *testing.T) {
	p, err := recorded(t, `{"port":[
		{"date":"2026-03-01","doing":"glued","strake":"1.01","widths":{"gone":3,"2":4.5}},
		{"date":"2026-03-02","doing":"chosen","band":1,"way":"tighter","mm":0.05}]}`)
	require.NoError(t, err)
	e := p.Record.Of(Port)
	assert.Equal(t, []WidthAt{{"2", 4.5}, {"gone", 3}}, e[0].Widths)
	assert.Equal(t, Tighter, e[1].Remedy)
	assert.Equal(t, 0.05, e[1].MM)
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	again, err := ReadPlan(&b, "bench")
	require.NoError(t, err)
	assert.Equal(t, p, again)
	_, err = recorded(t, `{"port":[{"date":"2026-03-02","doing":"chosen","band":1,"way":"magic"}]}`)
	assert.ErrorContains(t, err, `"way" of entry 1 of the port side`)
}

func TestRecordOfADay(t *testing.T) {
	var r Record
	r.Add(Port, Entry{Date: "2026-03-02T19:30", EntryKind: Glued, Strake: "b"})
	r.Add(Port, Entry{Date: "2026-03-02", EntryKind: Glued, Strake: "c"})
	r.Add(Port, Entry{Date: "2026-03-02T18:00", EntryKind: Glued, Strake: "a"})
	r.Add(Starboard, Entry{Date: "2026-03-04", EntryKind: Glued, Strake: "a"})
	assert.Equal(t, "c", r.Port[1].Strake, "one without a time stands after what its day had")
	assert.Equal(t, []string{"2026-03-02", "2026-03-04"}, r.Days())
	q := r.AsOf("2026-03-03")
	assert.Len(t, q.Port, 3)
	assert.Empty(t, q.Starboard)
	assert.Len(t, r.Starboard, 1)
	q = r.AsOf("2026-03-01")
	assert.Empty(t, q.Port)
}
