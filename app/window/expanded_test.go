package window

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strakewright/app/answer"
	"strakewright/app/draw"
	"strakewright/hull"
)

// girthWindow shows a hull of which only the girths are known.
func girthWindow(t testing.TB) *Window {
	t.Helper()
	w := newWindow(t)
	old := w.desk.s
	path := filepath.Join(t.TempDir(), "girths.csv")
	require.NoError(t, os.WriteFile(path, []byte("frame,x_mm,girth_mm,turn_deg\nA,0,40,10\nB,50,70,30\nC,100,86,60\nD,150,90,80\nE,200,84,70\nF,250,66,40\n"), 0o600))
	w.desk.load(path)
	until(t, func() bool { return w.desk.s != old })
	require.True(t, w.desk.shapeless())
	w.desk.addLine()
	require.Len(t, w.desk.planLayer().Lines, 1)
	return w
}

func TestGirthsAloneAreShownExpanded(t *testing.T) {
	w := girthWindow(t)
	for _, v := range w.desk.boards {
		assert.NotNil(t, v.(*board).paint(400, 160))
	}
	assert.Len(t, w.longHandles(), 6)
	x, _ := w.HandlePixel(0, 2)
	assert.Positive(t, x)
}

func TestHandleIsDraggedOnTheExpandedPlanking(t *testing.T) {
	w := girthWindow(t)
	b := w.profile.board
	h := found(t, w.longHandles(), 0, 3)
	before := w.down(0, 3)
	scale := w.expanded.axis.Scale
	to := draw.Pt(h.At.X+30, h.At.Y+12)
	press(b, h.At)
	move(b, h.At, to)
	release(b, to)
	assert.InDelta(t, before+12/scale, w.down(0, 3), 1e-6, "along its frame, at the drawing's scale")
	w.desk.undo()
	assert.Equal(t, before, w.down(0, 3))
	click(b, draw.Pt(h.At.X, h.At.Y-12))
	assert.GreaterOrEqual(t, w.desk.choice.Strake, 0)
	w.expanded.wheel(h.At, 1.5)
	assert.InDelta(t, scale*1.5, w.expanded.axis.Scale, 1e-9)
	w.expanded.fit()
	assert.NotEmpty(t, w.longHandles())
	assert.InDelta(t, scale, w.expanded.axis.Scale, 1e-9)
	assert.Contains(t, w.expanded.hover(h.At), "Frame D")
}

func TestMannersThatNeedAShapeAreNotOffered(t *testing.T) {
	w := girthWindow(t)
	w.desk.choose(w.desk.choice.WithLine(0).WithFrame(2))
	for _, item := range w.desk.boardMenu().Items[:3] {
		assert.Equal(t, item.Label != "Line as drawn", item.Disabled, item.Label)
	}
	assert.Equal(t, "Edge-set and lie-off are not known without a shape.", lineSummary(w.desk))
	var said string
	w.desk.say = func(s string) { said = s }
	w.desk.setManner(hull.Free)
	assert.Contains(t, said, "only the girths are known")
	assert.Equal(t, hull.Drawn, w.desk.line().Manner)
	assert.Nil(t, w.desk.fairFrames())
	assert.Contains(t, said, "cannot be faired")
}

// TestWhatNeedsAShapeIsNotTold: no nought stands for a figure that is not known.
func TestWhatNeedsAShapeIsNotTold(t *testing.T) {
	w := girthWindow(t)
	s := w.desk.layer().Strakes[0]
	for column, want := range map[int]bool{edgeSetColumn: true, radiusColumn: true, twistColumn: true, lengthColumn: false} {
		assert.Equal(t, want, w.table.summary(s, column) == unknown, "column %d", column)
	}
	c := w.stock.compare
	c.sync()
	until(t, func() bool { return len(c.trials) > 0 })
	row := c.row(c.trials[0])
	for i, f := range answer.Figures()[:comparedFigures] {
		needs := f.Key == "edge_strain_max" || f.Key == "face_strain_max" || f.Key == "how"
		assert.Equal(t, needs, row[i] == unknown, f.Key)
	}
	assert.Contains(t, c.advice.Text, "cannot be told of a hull of which only the girths are known")
	assert.Contains(t, bendingCard(w.desk), "needs the hull's shape")
}

// TestLeftOverSaysAtWhichFrame: where a band is widest elsewhere than the hull,
// the text names the frame where full strips are counted.
func TestLeftOverSaysAtWhichFrame(t *testing.T) {
	w := girthWindow(t)
	require.NoError(t, w.desk.s.Edit("draw the line", func(p *hull.Plan) error {
		for f := range p.Layers[0].Lines[0].Handles {
			p.Layers[0].Lines[0].Handles[f] = hull.Handle{Down: []float64{20, 35, 50, 30, 35, 30}[f], Held: true}
		}
		return nil
	}))
	text := bandSummary(w.desk, w.desk.layer().Bands[0])
	assert.Contains(t, text, "at frame C. ")
	assert.Contains(t, text, "at frame D, of the hull's greatest girth")
	assert.Contains(t, bandSummary(w.desk, w.desk.layer().Bands[1]), " there.")
}
