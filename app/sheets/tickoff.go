package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// tickOff gives every piece of both sides in the order of laying, with what it is cut
// from and a box to tick: cut to the lengths of the cutting list. What the record says is
// laid is ticked. Then it gives what is cut from each strip.
func tickOff(k *loft.Planking, cut []*loft.CuttingPlan, s Settings) []draw.Sheet {
	t := &table{
		title: tongue.T("Pieces in the order of laying, and what they are cut from: strips, sheets and pieces are numbered by layers"),
		columns: []column{
			{head: tongue.T("turn"), number: true}, {head: tongue.T("layer"), number: true}, {head: tongue.T("piece"), number: true}, {head: tongue.T("strake")}, {head: tongue.T("part")}, {head: tongue.T("side")}, {head: tongue.T("from")},
			{head: tongue.T("length to cut mm"), number: true}, {head: tongue.T("pins"), number: true}, {head: tongue.T("tree- nails"), number: true}, {head: tongue.T("laid")},
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
				part = tongue.T("%d of %d", p.Number, p.Of)
			}
			if turn.Laid {
				laid = "[x]"
			}
			t.rows = append(t.rows, []string{fmt.Sprint(turn.Order), fmt.Sprint(turn.Layer), fmt.Sprint(i + 1), short(p.ID), part, sideName(p.Side),
				cutFrom(&wood[turn.Layer-1].Pieces[i]), figure("%.1f", p.Length()), fmt.Sprint(p.Pins), fmt.Sprint(p.Treenails), laid})
		}
	}
	t.fit(0)
	pieces := []*piece{t.piece()}
	if strips := stripTable(wood, s); len(strips.rows) > 0 {
		strips.fit(s.Column)
		pieces = append(pieces, strips.piece())
	}
	return flow(kind{
		section: tongue.T("Order of laying"),
		name:    "order-of-laying",
		title:   tongue.T("Order of laying and cutting list, to tick off"),
	}, pieces, s.Room)
}

// cutFrom tells what a piece is cut from.
func cutFrom(p *answer.CutPiece) string {
	if p.Strip > 0 && p.Sheet == 0 {
		return tongue.T("strip %d", p.Strip)
	}
	return p.Wood()
}

// stripTable lists the strips in the order in which they are first wanted.
func stripTable(wood []answer.Cutting, s Settings) *table {
	t := &table{
		title: tongue.T("Strips, in the order in which they are first wanted, and the pieces that each is cut into"),
		columns: []column{{head: tongue.T("layer"), number: true}, {head: tongue.T("strip"), number: true}, {head: tongue.T("from")}, {head: tongue.T("width"), number: true}, {head: tongue.T("length"), number: true},
			{head: tongue.T("pieces"), loose: true}, {head: tongue.T("left"), number: true}},
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
					pieces = append(pieces, fmt.Sprintf("%d: %s %s %s", i, short(p.Strake), sideName(hull.Side(p.Side)), figure("%.1f", p.Length)))
				}
				t.rows = append(t.rows, []string{fmt.Sprint(n + 1), fmt.Sprint(strip.Number), fromWhere(strip.From == "box"), plain("%.4g", lot.Width, 0), plain("%.6g", strip.Length, 0),
					strings.Join(pieces, "; "), figure("%.1f", strip.Left)})
			}
		}
	}
	return t
}

// fromWhere tells where wood comes from.
func fromWhere(box bool) string {
	if box {
		return tongue.T("own")
	}
	return tongue.T("buy")
}

// shopping lists the wood of all layers: strips, sheets and blocks, those at hand too.
func shopping(k *loft.Planking, cut []*loft.CuttingPlan, s Settings) []draw.Sheet {
	t := &table{
		title:   tongue.T("Wood for both sides"),
		columns: []column{{head: tongue.T("layer"), number: true}, {head: tongue.T("what")}, {head: tongue.T("count"), number: true}, {head: tongue.T("from")}, {head: tongue.T("width mm"), number: true}, {head: tongue.T("thick mm"), number: true}, {head: tongue.T("length mm"), number: true}, {head: tongue.T("wood"), loose: true}},
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
				add(n+1, tongue.T("strip"), fromWhere(strip.From == "box"), 1, lot.Width, lot.Thickness, strip.Length, lot.Species)
			}
		}
		if wood.Sheets != nil {
			for _, sheet := range wood.Sheets.Sheets {
				add(n+1, tongue.T("sheet"), fromWhere(sheet.From == "box"), 1, sheet.Width, wood.Sheets.Thickness, sheet.Length, wood.Sheets.Species)
			}
		}
		for _, b := range wood.Blocks {
			add(n+1, tongue.T("block"), fromWhere(false), b.Count, tenth(b.Breadth), tenth(b.Depth), tenth(b.Length), k.Plan.Layers[n].Stock.Species)
		}
		pieces = append(pieces, note(tongue.T("Layer %d", n+1), wood.Advice, s.Column))
	}
	t.fit(s.Column)
	return flow(kind{
		section: tongue.T("Wood to buy"),
		name:    "shopping-list",
		title:   tongue.T("Wood to buy and to have at hand"),
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
		title: tongue.T("Drop strakes, layer %d, both sides: two strakes become one", layer),
		columns: []column{{head: tongue.T("strake that ends")}, {head: tongue.T("let into")}, {head: tongue.T("last laid at frame")}, {head: tongue.T("gone at frame")}, {head: tongue.T("its end across, mm"), number: true},
			{head: tongue.T("the other's width there, mm"), number: true}, {head: tongue.T("past it, mm"), number: true}},
	}
	for _, d := range l.Drops {
		row := []string{short(d.Strake), short(d.Into), name(d.From), name(d.To), figure("%.2f", d.Nib), "", ""}
		if n := l.StrakeNamed(d.Into); n >= 0 {
			row[5], row[6] = widthAt(l.Strakes[n], d.From), widthAt(l.Strakes[n], d.To)
		}
		t.rows = append(t.rows, row)
	}
	t.fit(0)
	return flow(kind{
		section: tongue.T("Drop strakes"),
		name:    fmt.Sprintf("drop-strakes-layer-%d", layer),
		title:   tongue.T("Drop strakes, layer %d", layer),
	}, []*piece{t.piece(), note("", tongue.T("Cut the end square off at the frame, and let it into a nib of that width in its neighbour, which from there on fills the room of both. The flat shapes show the nib."), s.Column)}, s.Room)
}

// widthAt is the width to cut at a frame, or nothing.
func widthAt(st *loft.Strake, frame int) string {
	if !st.At[frame].Laid {
		return ""
	}
	return figure("%.2f", st.At[frame].WidthCut)
}
