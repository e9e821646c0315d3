package sheets

import (
	"fmt"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// tickOff gives every piece of both sides in the order of laying, with a box to
// tick: cut to the lengths of the cutting list. What the record says is laid is
// ticked.
func tickOff(k *loft.Planking, cut []*loft.CuttingPlan, s Settings) []draw.Sheet {
	t := &table{
		title: "Pieces in the order of laying",
		columns: []column{
			{"turn", 12, true}, {"layer", 12, true}, {"strake", 18, false}, {"piece", 16, false}, {"side", 24, false},
			{"length to cut mm", 30, true}, {"pins", 12, true}, {"treenails", 15, true}, {"laid", 12, false},
		},
	}
	for _, turn := range progress.Turns(k) {
		for _, p := range cut[turn.Layer-1].Pieces {
			if p.Strake != turn.Strake || p.Side != turn.Side {
				continue
			}
			piece, laid := "", "[ ]"
			if p.Of > 1 {
				piece = fmt.Sprintf("%d of %d", p.Number, p.Of)
			}
			if turn.Laid {
				laid = "[x]"
			}
			t.rows = append(t.rows, []string{fmt.Sprint(turn.Order), fmt.Sprint(turn.Layer), short(p.ID), piece, string(p.Side),
				fmt.Sprintf("%.1f", p.Length()), fmt.Sprint(p.Pins), fmt.Sprint(p.Treenails), laid})
		}
	}
	return flow(kind{
		section: "Order of laying",
		name:    "order-of-laying",
		title:   "Order of laying, to tick off",
	}, t.pieces(s.Room.Height), s.Room)
}
