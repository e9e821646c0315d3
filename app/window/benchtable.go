package window

import (
	"math"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

// benchCell writes what the bench asks of a strake at a frame: what it is to be
// cut to, or by how much that differs from the plan along the frame.
func (t *strakeTable) benchCell(s *loft.Strake, frame int) (text string, ground draw.Role) {
	if !s.At[frame].Laid {
		return "–", draw.Paper
	}
	b := t.desk.Bench
	if !b.Reckon() {
		return "?", draw.Paper
	}
	st, ok := b.Rest[b.Side][s.ID]
	switch {
	case !ok:
		return tongue.T("laid"), draw.Grid
	case !st.On[frame].Laid:
		return "–", draw.Paper
	case t.figure == benchChange:
		return changeCell(t.desk, st.Change[frame])
	}
	text = t.desk.Units.Number(st.On[frame].WidthCut)
	switch st.On[frame].Action {
	case loft.Taper:
		return text + " ▾ ", draw.Paper
	case loft.Gap:
		return text + " ◂▸", draw.GapSoft
	}
	return text + " = ", draw.Paper
}

// changeCell writes a change with its sign.
func changeCell(d *desk.Desk, mm float64) (string, draw.Role) {
	switch {
	case math.Abs(mm) < 0.005:
		return "0", draw.Paper
	case mm < 0:
		return "−" + d.Units.Number(-mm), draw.TaperSoft
	}
	return "+" + d.Units.Number(mm), draw.GapSoft
}
