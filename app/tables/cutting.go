package tables

import (
	"maps"
	"math"
	"slices"

	"strakewright/loft"
)

// wedgeOver is by how much a wedge is cut longer than its gap, to be trimmed
// where it lies. Common practice, no source.
const wedgeOver = 1.1

// cuttingList is a row a piece to cut: every strake of either side, in as many
// pieces as its strips are long enough for, then the wedges.
func cuttingList(k *loft.Planking, s Settings) Table {
	t := Table{Name: "cutting-list", Title: "Cutting list", Columns: []Column{
		{"side", "side", Text},
		{"layer", "layer", Whole},
		{"id", "piece of", Text},
		{"kind", "kind", Text},
		{"piece", "piece", Whole},
		{"pieces", "of", Whole},
		{"from", "from frame", Text},
		{"to", "to frame", Text},
		{"length_mm", "length laid, mm", Length},
		{"overhang_mm", "overhang, mm", Length},
		{"cut_length_mm", "length to cut, mm", Length},
		{"width_first_mm", "width at its first frame, mm", Length},
		{"width_last_mm", "width at its last frame, mm", Length},
		{"width_widest_mm", "widest, mm", Length},
		{"width_narrowest_mm", "narrowest, mm", Length},
		{"stock_width_mm", "stock width, mm", Length},
		{"stock_thickness_mm", "stock thickness, mm", Length},
		{"stock_length_mm", "stock length, mm", Length},
		{"species", "species", Text},
	}}
	for _, side := range sides {
		for _, l := range s.layers(k) {
			t.pieces(k, l, s.Overhang, side)
			t.wedges(k, l, side)
		}
	}
	return t
}

// pieces adds the pieces of a layer's strakes.
func (t *Table) pieces(k *loft.Planking, l *loft.Layer, overhang float64, side string) {
	stock := stockOf(k, l)
	all := l.Pieces(stock.Length, overhang)
	count := map[int]int{}
	for _, p := range all {
		count[p.Strake]++
	}
	number := 0
	for i, p := range all {
		if i > 0 && all[i-1].Strake == p.Strake {
			number++
		} else {
			number = 1
		}
		st := l.Strakes[p.Strake]
		w := widthsOf(l, p)
		t.add(side, l.Number, st.ID, strakeKind(st), number, count[p.Strake], frameName(k, p.FromFrame), frameName(k, p.ToFrame),
			tidy(p.To-p.From), tidy(p.Overhang), tidy(p.Length()), tidy(w.first), tidy(w.last), tidy(w.widest), tidy(w.narrowest),
			tidy(st.Strip), stock.Thickness, stock.Length, stock.Species)
	}
}

func strakeKind(st *loft.Strake) string {
	if st.Garboard {
		return "garboard"
	}
	return "strake"
}

// frameName names a frame; -1 is none.
func frameName(k *loft.Planking, frame int) string {
	if frame < 0 {
		return ""
	}
	return k.Plan.Hull.Frames[frame].Name
}

// widths are those of a piece at the frames it is laid on, mm to cut.
type widths struct{ first, last, widest, narrowest float64 }

// widthsOf reads a piece's widths at the frames from its first to its last,
// where it is laid at all; zero where it is laid at none.
func widthsOf(l *loft.Layer, p loft.Piece) widths {
	st := l.Strakes[p.Strake]
	w := widths{narrowest: math.Inf(1)}
	found := false
	for i, c := range st.At {
		at := st.Centre.S[l.Surface.FrameStation(i)] - st.Centre.S[st.From]
		if !c.Laid || at < p.From-1e-6 || at > p.To+1e-6 {
			continue
		}
		if !found {
			w.first, found = c.WidthCut, true
		}
		w.last = c.WidthCut
		w.widest, w.narrowest = max(w.widest, c.WidthCut), min(w.narrowest, c.WidthCut)
	}
	if !found {
		return widths{}
	}
	return w
}

// wedges adds the wedges of a layer: a triangle each, cut over-long.
func (t *Table) wedges(k *loft.Planking, l *loft.Layer, side string) {
	stock := stockOf(k, l)
	frames := k.Plan.Hull.Frames
	for _, g := range l.Wedges {
		t.add(side, l.Number, "below "+g.Below, wedgeKind(g), 1, 1, frames[g.From].Name, frames[g.To].Name,
			tidy(g.Length), tidy(g.Length*(wedgeOver-1)), tidy(g.Length*wedgeOver), 0.0, tidy(g.Width), tidy(g.Width), 0.0,
			stock.Width, stock.Thickness, stock.Length, stock.Species)
	}
}

// strips is a row a layer and width of strip: how many to buy for both sides.
// Wedges are cut from what is left over.
func strips(k *loft.Planking, s Settings) Table {
	t := Table{Name: "strips", Title: "Strips", Columns: []Column{
		{"layer", "layer", Whole},
		{"width_mm", "width, mm", Length},
		{"thickness_mm", "thickness, mm", Length},
		{"length_mm", "length, mm", Length},
		{"species", "species", Text},
		{"pieces", "pieces to cut", Whole},
		{"cut_mm", "their length together, mm", Length},
		{"strips", "strips to buy", Whole},
		{"left_over_mm", "left over, mm", Length},
	}}
	for _, l := range s.layers(k) {
		stock := stockOf(k, l)
		for _, c := range Strips(k, l, s.Overhang) {
			t.add(l.Number, c.Width, stock.Thickness, stock.Length, stock.Species, c.Pieces, tidy(c.Length), c.Strips, tidy(float64(c.Strips)*stock.Length-c.Length))
		}
	}
	return t
}

// StripCount is how many strips of a width a layer takes for both sides.
type StripCount struct {
	Width  float64 // mm
	Pieces int     // to be cut from them
	Length float64 // mm of all pieces
	Strips int
}

// Strips counts the strips of a layer by rising width.
func Strips(k *loft.Planking, l *loft.Layer, overhang float64) []StripCount {
	stock := stockOf(k, l)
	cut := map[float64][]float64{} // by width, for both sides
	for _, p := range l.Pieces(stock.Length, overhang) {
		w := tidy(l.Strakes[p.Strake].Strip)
		cut[w] = append(cut[w], p.Length(), p.Length())
	}
	var out []StripCount
	for _, w := range slices.Sorted(maps.Keys(cut)) {
		c := StripCount{Width: w, Pieces: len(cut[w]), Strips: loft.StripsFor(cut[w], stock.Length)}
		for _, length := range cut[w] {
			c.Length += length
		}
		out = append(out, c)
	}
	return out
}
