package dxf

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/proof"
)

// audited is what ezdxf finds in a file (audit.py).
type audited struct {
	Faults, Fixes, Layers []string
	Units                 int
	Version               string
	Lines                 []struct {
		Layer  string
		Closed bool
		Points [][2]float64
	}
	Texts []struct {
		Layer, Text, Align string
		Height             float64
		At                 [2]float64
	}
	Extent [2][2]float64
}

// audit reads a file with the ezdxf of Debian's own Python.
func audit(t *testing.T, file []byte) audited {
	t.Helper()
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		if os.Getenv("STRAKEWRIGHT_EXTERNAL") != "" {
			t.Fatal("python3-ezdxf is not installed: go run ./cmd/dev test installs it")
		}
		t.Skip("python3-ezdxf is not installed; go run ./cmd/dev test installs it and runs this check")
	}
	out, err := exec.Command(python, "audit.py", proof.File(t, "a.dxf", file)).Output()
	if exit, ok := errors.AsType[*exec.ExitError](err); ok {
		t.Fatalf("ezdxf: %s", exit.Stderr)
	}
	require.NoError(t, err)
	var a audited
	require.NoError(t, json.Unmarshal(out, &a))
	return a
}

func written(t testing.TB, s *draw.Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, s))
	return b.Bytes()
}

func sheet() *draw.Sheet {
	s := &draw.Sheet{Width: 200, Height: 60, Cut: true}
	s.Drawing.Rect(draw.GapSoft, draw.Pt(0, 0), draw.Pt(60, 55))
	s.Drawing.Line(draw.Cut, draw.Pen{Width: 0.3}, draw.Pt(10, 10), draw.Pt(190.1234, 12), draw.Pt(190.1234, 30), draw.Pt(10, 30), draw.Pt(10, 10))
	s.Drawing.Line(draw.FrameInk, draw.Pen{Width: 0.3, Dash: []float64{2, 1}}, draw.Pt(50, 8), draw.Pt(50, 32))
	s.Drawing.Line(draw.Seam, draw.Pen{Width: 0.3}, draw.Pt(10, 20), draw.Pt(60, 20), draw.Pt(60, 20), draw.Pt(190, 21))
	s.Drawing.Line(draw.Grid, draw.Pen{Width: 0.1}, draw.Pt(0, 0), draw.Pt(200, 60))
	s.Drawing.Line(draw.Cut, draw.Pen{Width: 0.1}, draw.Pt(5, 5), draw.Pt(5, 5))
	s.Drawing.Mark(draw.Pt(100, 25), draw.Cross, 3, draw.Pencil)
	s.Drawing.Text(draw.Pt(12, 28), "1.05 port", draw.Ink, 5, draw.Left)
	s.Drawing.Text(draw.Pt(100, 40), "bevel 12.5° ^ \n", draw.Ink, 4, draw.Centre)
	s.Drawing.Text(draw.Pt(190, 40), "Größe Ж 😀", draw.Ink, 4, draw.Right)
	return s
}

func TestEzdxfFindsNoFault(t *testing.T) {
	for name, s := range map[string]*draw.Sheet{"full": sheet(), "empty": {Width: 10, Height: 10}} {
		t.Run(name, func(t *testing.T) {
			if name == "empty" {
				s.Drawing.Line(draw.Cut, draw.Pen{}, draw.Pt(0, 0), draw.Pt(1, 1))
			}
			a := audit(t, written(t, s))
			assert.Empty(t, a.Faults)
			assert.Empty(t, a.Fixes)
			assert.Equal(t, 4, a.Units, "mm")
			assert.Equal(t, "AC1015", a.Version)
			for _, l := range []string{"0", cutLayer, markLayer, frameLayer, textLayer} {
				assert.Contains(t, a.Layers, l)
			}
		})
	}
}

func TestLinesAndTextsStandOnTheirLayersWithYUp(t *testing.T) {
	a := audit(t, written(t, sheet()))
	require.Len(t, a.Lines, 4, "no guide line, no ground, no line without length")
	cut, frame, seam, mark := a.Lines[0], a.Lines[1], a.Lines[2], a.Lines[3]
	assert.Equal(t, cutLayer, cut.Layer)
	assert.True(t, cut.Closed)
	assert.Equal(t, [][2]float64{{10, 50}, {190.1234, 48}, {190.1234, 30}, {10, 30}}, cut.Points)
	assert.Equal(t, frameLayer, frame.Layer)
	assert.False(t, frame.Closed)
	assert.Equal(t, [][2]float64{{10, 40}, {60, 40}, {190, 39}}, seam.Points)
	assert.Equal(t, markLayer, seam.Layer)
	assert.Equal(t, markLayer, mark.Layer)
	assert.True(t, mark.Closed)
	assert.Equal(t, [2][2]float64{{10, 28}, {190.1234, 52}}, a.Extent)

	require.Len(t, a.Texts, 3)
	for i, want := range []struct {
		text, align string
		x, y, em    float64
	}{{"1.05 port", "LEFT", 12, 32, 5}, {"bevel 12.5° ^  ", "CENTER", 100, 20, 4}, {"Größe Ж ?", "RIGHT", 190, 20, 4}} {
		got := a.Texts[i]
		assert.Equal(t, textLayer, got.Layer)
		assert.Equal(t, want.text, got.Text)
		assert.Equal(t, want.align, got.Align)
		assert.Equal(t, [2]float64{want.x, want.y}, got.At)
		assert.InDelta(t, draw.CapHeight(want.em), got.Height, 1e-4, "of capitals, rounded in the file")
	}
}

func TestSameSheetGivesTheSameBytes(t *testing.T) {
	assert.Equal(t, written(t, sheet()), written(t, sheet()))
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestAFailedWriteIsTold(t *testing.T) {
	assert.ErrorContains(t, Write(full{}, sheet()), "disk full")
}
