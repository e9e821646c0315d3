package record

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/hull"
)

func TestEntriesAreToldInEitherUnit(t *testing.T) {
	e := hull.Entry{EntryKind: hull.LeftOver, Band: 2, Frame: "G", MM: 12.7, Layer: 2, Wet: true, Note: "by lamp"}
	assert.Equal(t, "12.70 mm left of band 2 at frame G, layer 2, wet: by lamp", Entry(views.Millimetres, e))
	assert.Equal(t, "0.500 in left of band 2 at frame G, layer 2, wet: by lamp", Entry(views.Inches, e))
	bare := hull.Entry{EntryKind: hull.BareGirth, Frame: "G", MM: 50.8, To: 25.4 / 64}
	assert.Equal(t, "bare frame G has 2.000 in of girth, read to 1/64 in", Entry(views.Inches, bare))
	bare.To = 0.1
	assert.Equal(t, "bare frame G has 50.80 mm of girth, read to 0.1 mm", Entry(views.Millimetres, bare))
	bare.To = 1
	assert.Equal(t, "bare frame G has 2.000 in of girth, read to 0.039 in", Entry(views.Inches, bare), "a rule of another kind")
	assert.Equal(t, "1.02 glued", Entry(views.Millimetres, hull.Entry{EntryKind: hull.Glued, Strake: "1.02"}))
	assert.Equal(t, "rest of band 1: shave all alike", Entry(views.Millimetres, hull.Entry{EntryKind: hull.Chosen, Band: 1, Remedy: hull.Shave}))
}

func TestChangesHaveASign(t *testing.T) {
	assert.Equal(t, "as planned", Change(views.Millimetres, -0.004))
	assert.Equal(t, "+0.50 mm", Change(views.Millimetres, 0.5))
	assert.Equal(t, "−0.50 mm", Change(views.Millimetres, -0.5))
	assert.Equal(t, "−0.020 in", Change(views.Inches, -0.508))
}
