package answer_test

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
)

// recorded is the Wigley hull with a record.
func recorded(layers int) *hull.Plan {
	p := wigley(layers)
	p.Layers[0].Stock.Species = "beech"
	add := func(side hull.Side, e hull.Entry) { e.Layer = 1; p.Record.Add(side, e) }
	add(hull.Starboard, hull.Entry{Date: "2026-03-01T18:00", EntryKind: hull.Soaking, Strake: "1.01"})
	add(hull.Starboard, hull.Entry{Date: "2026-03-01T19:00", EntryKind: hull.Glued, Strake: "1.01", Wet: true})
	add(hull.Starboard, hull.Entry{Date: "2026-03-02", EntryKind: hull.Glued, Strake: "1.02", Note: "a knot; planed, off"})
	add(hull.Starboard, hull.Entry{Date: "2026-03-02", EntryKind: hull.AsLaid, Strake: "1.02", Frame: "E", MM: 5.1})
	add(hull.Port, hull.Entry{Date: "2026-03-02", EntryKind: hull.Glued, Strake: "1.01"})
	return p
}

var beech = []hull.Wood{{Name: "American beech", Radial: 5.5, Tangential: 11.9}}

func TestRecordTellsBothSidesOfEveryLayer(t *testing.T) {
	k := plank(t, recorded(2))
	a, err := answer.BenchOf(t.Context(), k, "", beech)
	require.NoError(t, err)
	assert.Len(t, a.Bands, 2*2*2)
	assert.Equal(t, []string{"1.01", "1.02"}, a.Bands[0].Laid)
	require.Len(t, a.Wet, 1)
	assert.Equal(t, []string{"American beech"}, a.Wet[0].Woods)
	require.NotNil(t, a.Wet[0].Most)
	assert.Greater(t, *a.Wet[0].Most, *a.Wet[0].Least)
	var b bytes.Buffer
	require.NoError(t, a.Text(&b))
	assert.Contains(t, b.String(), "starboard, layer 1, band 1: 2 strakes laid")
	assert.Contains(t, b.String(), "1.01 to starboard was glued wet, soaked 2026-03-01T18:00; as it dries it shrinks by")

	one, err := answer.BenchOf(t.Context(), k, hull.Port, nil)
	require.NoError(t, err)
	assert.Len(t, one.Bands, 2*2)
	assert.Empty(t, one.Wet)
}

func TestRecordThatNamesWhatIsNot(t *testing.T) {
	p := recorded(1)
	p.Record.Add(hull.Port, hull.Entry{Date: "2026-03-03", EntryKind: hull.Glued, Layer: 1, Strake: "8.01"})
	_, err := answer.BenchOf(t.Context(), plank(t, p), "", nil)
	assert.ErrorContains(t, err, "port side: entry 2 of the record: there is no strake 8.01")
}

func TestRecordRows(t *testing.T) {
	rows := answer.RecordRows(&recorded(1).Record)
	require.Len(t, rows, 6)
	assert.Equal(t, []string{"starboard", "2", "2026-03-01T19:00", "glued", "1", "", "1.01", "", "", "wet", "", "", ""}, rows[2])
	assert.Equal(t, []string{"starboard", "4", "2026-03-02", "width", "1", "", "1.02", "E", "5.100", "", "", "", ""}, rows[4])
	for _, r := range rows {
		assert.Len(t, r, len(rows[0]))
	}
}

func TestHistoryByDay(t *testing.T) {
	h := answer.HistoryOf(&recorded(1).Record, "")
	require.Len(t, h.Days, 2)
	assert.Len(t, h.Days[0].Entries, 2)
	assert.Len(t, h.Days[1].Entries, 3)
	assert.Len(t, answer.HistoryOf(&recorded(1).Record, hull.Port).Days, 1)
	var b bytes.Buffer
	require.NoError(t, h.Text(&b))
	assert.Contains(t, b.String(), "starboard 4: 1.02 is 5.10 mm wide at frame E")
}

// Every piece of the list to tick off is once on either side.
func TestTickOffList(t *testing.T) {
	k := plank(t, recorded(1))
	a, err := answer.TickOffOf(context.Background(), k)
	require.NoError(t, err)
	sides, laid := map[string]int{}, 0
	for i, x := range a.Pieces {
		sides[x.Side]++
		if x.Laid {
			laid++
		}
		if i > 0 {
			assert.GreaterOrEqual(t, x.Order, a.Pieces[i-1].Order)
		}
	}
	assert.Equal(t, len(k.Layers[0].Strakes), sides["port"])
	assert.Equal(t, sides["port"], sides["starboard"])
	assert.Equal(t, 3, laid)
	assert.Len(t, a.Rows(), len(a.Pieces)+1)
}
