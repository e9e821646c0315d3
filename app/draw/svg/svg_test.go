package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/proof"
)

var places = []float64{20, 25.4, 30.05, 71.337, 120, 188.8}

func sheet() *draw.Sheet {
	s := &draw.Sheet{Title: "Strake 1.05 <port> & \"starboard\"", Width: 200, Height: 60}
	s.Drawing.Rect(draw.GapSoft, draw.Pt(10, 40), draw.Pt(60, 55))
	for _, x := range places {
		s.Drawing.Line(draw.Pencil, draw.Pen{Width: 0.2}, draw.Pt(x, 20), draw.Pt(x, 30))
	}
	s.Drawing.Line(draw.FrameInk, draw.Pen{Width: 0.3, Dash: []float64{4, 2.5}}, draw.Pt(10, 36), draw.Pt(190, 36))
	s.Drawing.Mark(draw.Pt(100, 48), draw.Ring, 5, draw.Pencil)
	s.Drawing.Text(draw.Pt(195, 50), "12.5° < 13° & \x01", draw.Ink, 4, draw.Right)
	return s
}

func written(t testing.TB, s *draw.Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, s))
	return b.Bytes()
}

// 0.05 mm: little more than a pixel of 0.042 mm.
func TestLinesComeOutWhereTheyAreDrawn(t *testing.T) {
	p := proof.SVG(t, proof.File(t, "a.svg", written(t, sheet())))
	assert.InDelta(t, 200*p.PerMM, p.Bounds().Dx(), 1)
	assert.InDelta(t, 60*p.PerMM, p.Bounds().Dy(), 1)
	found := p.Across(25, 5, 195)
	require.Len(t, found, len(places))
	for i, x := range places {
		assert.InDelta(t, x, found[i], 0.05)
	}
}

func TestItIsWellFormedAndSaysItsSize(t *testing.T) {
	text := string(written(t, sheet()))
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
	}
	assert.Contains(t, text, `width="200mm" height="60mm" viewBox="0 0 200 60"`)
	assert.Contains(t, text, `<g class="pencil">`)
	assert.Contains(t, text, `stroke-dasharray="4 2.5"`)
	assert.Contains(t, text, `text-anchor="end"`)
	assert.Contains(t, text, "12.5° &lt; 13° &amp; \\x01")
	assert.Equal(t, strings.Count(text, "<g "), strings.Count(text, "</g>"))
	assert.Equal(t, text, string(written(t, sheet())))
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestAFailedWriteIsTold(t *testing.T) {
	assert.ErrorContains(t, Write(full{}, sheet()), "disk full")
}
