package hull

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// limited is a plan with everything that limits can say.
const limited = `{"version": 1, "hull": {"limits": {"from": "A", "to": "B", "down": [{"frame": "B", "mm": 6.5}], "up": [{"frame": "C", "mm": 2}]},
"frames": [
{"name": "A", "points": [[0, 8, 60], [0, 7, 40], [0, 5, 20], [0, 2, 5]]},
{"name": "B", "points": [[90, 25, 50], [90, 24, 30], [90, 20, 12], [90, 2, 4]]},
{"name": "C", "points": [[200, 12, 56], [190, 10, 36], [180, 6, 16], [174, 2, 4]]}]},
"layers": [{"stock": {"width": 5, "thickness": 2, "length": 1000}, "bands": [{}]}]}`

// withLimits is the lugger's plan with the given limits.
func withLimits(t *testing.T, limits string) string {
	t.Helper()
	p := NewPlan("", readLugger(t))
	text := strings.Replace(written(t, p), `"limits": {"upper": "sheer", "lower": "rabbet"}`, `"limits": `+limits, 1)
	require.Contains(t, text, limits)
	return text
}

func readLugger(t *testing.T) Hull {
	t.Helper()
	h := lugger()
	require.Empty(t, h.Check())
	return h
}

func TestLimitsAreReadAndWritten(t *testing.T) {
	text := withLimits(t, `{"upper": "wale", "from": "A", "to": "B", "down": [{"frame": "B", "mm": 6.5, "by": "eye"}, {"frame": "A", "mm": 0}], "up": [{"frame": "C", "mm": 2}]}`)
	require.NoError(t, planSchema(t).Validate(decoded(t, text)))
	p, err := ReadPlan(strings.NewReader(text), "")
	require.NoError(t, err)
	l := p.Hull.Limits
	assert.Equal(t, []string{"wale", "rabbet", "A", "B"}, []string{l.Upper, l.Lower, l.From, l.To})
	require.Len(t, l.Down, 2)
	assert.Equal(t, "B", l.Down[0].Frame)
	assert.Equal(t, 6.5, l.Down[0].MM)
	assert.Equal(t, 2.0, l.Up[0].MM)
	assert.False(t, l.Whole())
	from, to := p.Hull.Planked()
	assert.Equal(t, [2]int{0, 1}, [2]int{from, to})

	out := written(t, p)
	assert.Contains(t, out, `"by": "eye"`, "what is not known is kept")
	require.NoError(t, planSchema(t).Validate(decoded(t, out)))
	again, err := ReadPlan(strings.NewReader(out), "")
	require.NoError(t, err)
	assert.Equal(t, p, again)

	q := p.Clone()
	q.Hull.Limits.Down[0].MM = 1
	assert.Equal(t, 6.5, p.Hull.Limits.Down[0].MM)

	_, err = ReadPlan(strings.NewReader(limited), "")
	require.NoError(t, err)

	whole := NewPlan("", readLugger(t))
	assert.True(t, whole.Hull.Limits.Whole())
	from, to = whole.Hull.Planked()
	assert.Equal(t, [2]int{0, 2}, [2]int{from, to})
	assert.NotContains(t, written(t, whole), `"from"`)
}

func TestLimitsAreChecked(t *testing.T) {
	for limits, want := range map[string]string{
		`{"from": "Q"}`:                       `the limits have "from" frame Q, and there is no such frame; name a frame of the hull.`,
		`{"from": "B", "to": "B"}`:            `the limits leave no bay to plank from frame B to B; let "from" be a frame of lesser x than "to".`,
		`{"to": "A"}`:                         `the limits leave no bay to plank from frame A to A; let "from" be a frame of lesser x than "to".`,
		`{"down": [{"frame": "Q", "mm": 3}]}`: `"down" of the limits names frame Q, and there is no such frame; name a frame of the hull.`,
		`{"up": [{"frame": "A", "mm": 3}, {"frame": "A", "mm": 4}]}`:             `"up" of the limits has two insets on frame A; remove one of them.`,
		`{"down": [{"frame": "A", "mm": -3}]}`:                                   `"mm" of inset 1 of "down" of the limits is -3; give it from 0 to 100000.`,
		`{"down": [{"frame": "A"}]}`:                                             `inset 1 of "down" of the limits has no "mm"; add it.`,
		`{"down": {"A": 3}}`:                                                     `"down" of the limits is an object, not a list; make it a list [..].`,
		`{"down": [{"frame": "A", "mm": 30}], "up": [{"frame": "A", "mm": 26}]}`: `the limits leave nothing of frame A, which has a girth of 55.4218 mm; set them in by less.`,
	} {
		_, found := CheckPlan(strings.NewReader(withLimits(t, limits)), "")
		require.Len(t, found, 1, limits)
		assert.Contains(t, found[0].Error(), want)
		assert.Positive(t, found[0].Line)
	}
}
