package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// tickOff gives every piece of both sides in the order of laying, with what it is cut
// from and a box to tick: cut to the lengths of the cutting list. What the record says is
// laid is ticked. Then it gives what is cut from each strip.
func tickOff(k *loft.Planking, cut []*loft.CuttingPlan, s Settings) []draw.Sheet {
	t := &table{
		title: "Pieces in the order of laying, and what they are cut from: strips, sheets and pieces are numbered by layers",
		columns: []column{
			{head: "turn", number: true}, {head: "layer", number: true}, {head: "piece", number: true}, {head: "strake"}, {head: "part"}, {head: "side"}, {head: "from"},
			{head: "length to cut mm", number: true}, {head: "pins", number: true}, {head: "tree- nails", number: true}, {head: "laid"},
		},
	}
	var wood []answer.Cutting
	for n, c := range cut {
		wood = append(wood, answer.CuttingOf(k, n, c, answer.MM{}))
	}
	for _, turn := range progress.Turns(k) {
		for i, p := range cut[turn.Layer-1].Pieces {
			if p.Strake != turn.Strake || p.Side != turn.Side || s.Layer != 0 && s.Layer != turn.Layer {
				continue
			}
			part, laid := "", "[ ]"
			if p.Of > 1 {
				part = fmt.Sprintf("%d of %d", p.Number, p.Of)
			}
			if turn.Laid {
				laid = "[x]"
			}
			t.rows = append(t.rows, []string{fmt.Sprint(turn.Order), fmt.Sprint(turn.Layer), fmt.Sprint(i + 1), short(p.ID), part, string(p.Side),
				cutFrom(&wood[turn.Layer-1].Pieces[i]), fmt.Sprintf("%.1f", p.Length()), fmt.Sprint(p.Pins), fmt.Sprint(p.Treenails), laid})
		}
	}
	t.fit(0)
	pieces := []*piece{t.piece()}
	if strips := stripTable(wood, s); len(strips.rows) > 0 {
		strips.fit(s.Column)
		pieces = append(pieces, strips.piece())
	}
	return flow(kind{
		section: "Order of laying",
		name:    "order-of-laying",
		title:   "Order of laying and cutting list, to tick off",
	}, pieces, s.Room)
}

// cutFrom tells what a piece is cut from.
func cutFrom(p *answer.CutPiece) string {
	if p.Strip > 0 && p.Sheet == 0 {
		return fmt.Sprintf("strip %d", p.Strip)
	}
	return p.Wood()
}

// stripTable lists the strips in the order in which they are first wanted.
func stripTable(wood []answer.Cutting, s Settings) *table {
	t := &table{
		title: "Strips, in the order in which they are first wanted, and the pieces that each is cut into",
		columns: []column{{head: "layer", number: true}, {head: "strip", number: true}, {head: "from"}, {head: "width", number: true}, {head: "length", number: true},
			{head: "pieces", loose: true}, {head: "left", number: true}},
	}
	for n, c := range wood {
		if s.Layer != 0 && s.Layer != n+1 {
			continue
		}
		for _, lot := range c.Lots {
			for _, strip := range lot.Strips {
				var pieces []string
				for _, i := range strip.Pieces {
					p := c.Pieces[i-1]
					pieces = append(pieces, fmt.Sprintf("%d: %s %s %.1f", i, short(p.Strake), p.Side, p.Length))
				}
				t.rows = append(t.rows, []string{fmt.Sprint(n + 1), fmt.Sprint(strip.Number), fromWhere(strip.From == "box"), plain("%.4g", lot.Width, 0), plain("%.6g", strip.Length, 0),
					strings.Join(pieces, "; "), fmt.Sprintf("%.1f", strip.Left)})
			}
		}
	}
	return t
}

// fromWhere tells where wood comes from.
func fromWhere(box bool) string {
	if box {
		return "own"
	}
	return "buy"
}

// shopping lists the wood of all layers: strips, sheets and blocks, those at hand too.
func shopping(k *loft.Planking, cut []*loft.CuttingPlan, s Settings) []draw.Sheet {
	t := &table{
		title:   "Wood for both sides",
		columns: []column{{head: "layer", number: true}, {head: "what"}, {head: "count", number: true}, {head: "from"}, {head: "width mm", number: true}, {head: "thick mm", number: true}, {head: "length mm", number: true}, {head: "wood", loose: true}},
	}
	add := func(layer int, what, from string, count int, width, thick, length float64, species string) {
		row := []string{fmt.Sprint(layer), what, fmt.Sprint(count), from, plain("%.4g", width, 0), plain("%.4g", thick, 0), plain("%.6g", length, 0), species}
		for _, r := range t.rows {
			if slices.Equal(append(slices.Clone(r[:2]), r[3:]...), append(slices.Clone(row[:2]), row[3:]...)) {
				n := 0
				_, _ = fmt.Sscan(r[2], &n) // it was written here
				r[2] = fmt.Sprint(n + count)
				return
			}
		}
		t.rows = append(t.rows, row)
	}
	pieces := []*piece{}
	for n, c := range cut {
		if s.Layer != 0 && s.Layer != n+1 {
			continue
		}
		wood := answer.CuttingOf(k, n, c, answer.MM{})
		for _, lot := range wood.Lots {
			for _, strip := range lot.Strips {
				add(n+1, "strip", fromWhere(strip.From == "box"), 1, lot.Width, lot.Thickness, strip.Length, lot.Species)
			}
		}
		if wood.Sheets != nil {
			for _, sheet := range wood.Sheets.Sheets {
				add(n+1, "sheet", fromWhere(sheet.From == "box"), 1, sheet.Width, wood.Sheets.Thickness, sheet.Length, wood.Sheets.Species)
			}
		}
		for _, b := range wood.Blocks {
			add(n+1, "block", fromWhere(false), b.Count, tenth(b.Breadth), tenth(b.Depth), tenth(b.Length), k.Plan.Layers[n].Stock.Species)
		}
		pieces = append(pieces, note(fmt.Sprintf("Layer %d", n+1), wood.Advice, s.Column))
	}
	t.fit(s.Column)
	return flow(kind{
		section: "Wood to buy",
		name:    "shopping-list",
		title:   "Wood to buy and to have at hand",
	}, append([]*piece{t.piece()}, pieces...), s.Room)
}

// tenth rounds up to a tenth: a block may be larger.
func tenth(mm float64) float64 { return math.Ceil(10*mm-1e-6) / 10 }

// dropped tells of a layer where strakes end in others, one at the end of each; none
// where none does.
func dropped(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	l := k.Layers[layer-1]
	if len(l.Drops) == 0 {
		return nil
	}
	name := l.Surface.FrameName
	t := &table{
		title: fmt.Sprintf("Drop strakes, layer %d, both sides: two strakes become one", layer),
		columns: []column{{head: "strake that ends"}, {head: "let into"}, {head: "last laid at frame"}, {head: "gone at frame"}, {head: "its end across, mm", number: true},
			{head: "the other's width there, mm", number: true}, {head: "past it, mm", number: true}},
	}
	for _, d := range l.Drops {
		row := []string{short(d.Strake), short(d.Into), name(d.From), name(d.To), fmt.Sprintf("%.2f", d.Nib), "", ""}
		if n := l.StrakeNamed(d.Into); n >= 0 {
			row[5], row[6] = widthAt(l.Strakes[n], d.From), widthAt(l.Strakes[n], d.To)
		}
		t.rows = append(t.rows, row)
	}
	t.fit(0)
	return flow(kind{
		section: "Drop strakes",
		name:    fmt.Sprintf("drop-strakes-layer-%d", layer),
		title:   fmt.Sprintf("Drop strakes, layer %d", layer),
	}, []*piece{t.piece(), note("", "Cut the end square off at the frame, and let it into a nib of that width in its neighbour, which from there on fills the room of both. The flat shapes show the nib.", s.Column)}, s.Room)
}

// widthAt is the width to cut at a frame, or nothing.
func widthAt(st *loft.Strake, frame int) string {
	if !st.At[frame].Laid {
		return ""
	}
	return fmt.Sprintf("%.2f", st.At[frame].WidthCut)
}
