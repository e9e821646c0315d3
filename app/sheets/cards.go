package sheets

import (
	"fmt"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// markingCards gives a card for every planked frame: where each strake's and each
// wedge's upper and lower edge lies, mm down from the upper limit, its width along the
// frame, and what to do with the strip there: what the tick strips show, in figures. None
// unless they are asked for. There must be such a layer.
func markingCards(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	if !s.Cards {
		return nil
	}
	l := k.Layers[layer-1]
	var pieces []*piece
	first, last := l.Surface.Planked()
	for f := first; f <= last; f++ {
		t := markingCard(k, l, f)
		t.fit(0)
		pieces = append(pieces, t.piece())
	}
	return flow(kind{
		section: tongue.T("Frame marking cards"),
		name:    fmt.Sprintf("marking-cards-layer-%d", layer),
		title:   tongue.T("Frame marking cards, layer %d, both sides", layer),
	}, pieces, s.Room)
}

// actionSigns are the signs of what is done with a strip, the same as in the
// strake table.
var actionSigns = map[loft.Action]string{loft.Taper: "<", loft.Full: "=", loft.Gap: ">"}

func markingCard(k *loft.Planking, l *loft.Layer, frame int) *table {
	t := &table{
		title:   tongue.T("Frame %s, layer %d: mm down from the %s", l.Surface.FrameName(frame), l.Number, hull.LimitWord(k.Plan.Hull.Limits.Upper)),
		columns: []column{{head: tongue.T("strake")}, {head: tongue.T("from"), number: true}, {head: tongue.T("to"), number: true}, {head: tongue.T("width"), number: true}, {width: 4}},
		foot:    tongue.T("< taper   = whole   > wider"),
	}
	for _, a := range liesAt(l, frame) {
		sign := ""
		if a.strake != nil {
			sign = actionSigns[a.strake.At[frame].Action]
		}
		t.rows = append(t.rows, []string{
			a.name(), figure("%.2f", a.upper), figure("%.2f", a.lower), figure("%.2f", a.lower-a.upper), sign,
		})
	}
	return t
}
