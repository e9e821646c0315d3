package progress

import (
	"math"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// WetStrake is a strake that went onto the ship wet, or is held there to dry.
type WetStrake struct {
	ID                    string
	Layer                 int
	Soaked, Pinned, Glued string     // dates; empty where it was not done, or not noted
	GluedWet              bool       // it was glued before it had dried
	Dry                   bool       // it has been measured dry since, or was glued dry
	Awaits                bool       // a dry measurement is needed: it is glued or pinned there wet
	Strip                 float64    // mm, the width of its strip
	Woods                 []string   // the woods its species may mean; none where that is not known
	Shrinks               loft.Range // mm across its width, from soaked through to equilibrium in the room: quarter-sawn to flat-sawn; zero where the species is not known
	Measured              []WetSize  // widths as measured
}

// WetSize is a width of a strake as measured at a frame, wet or dry.
type WetSize struct {
	Frame string
	Date  string
	MM    float64
	Wet   bool
}

// WetStrakes lists, from the record of a side, the strakes of a layer (from 0) that
// were pinned or glued wet, with their greatest shrinkage as they dry: a strip that was
// not soaked through swells less. Woods are looked up in the plan's own and in the
// tables given. A strake taken off again is not listed.
func WetStrakes(k *loft.Planking, layer int, entries []hull.Entry, tables ...[]hull.Wood) []WetStrake {
	l := k.Layers[layer]
	all := make([]WetStrake, len(l.Strakes))
	wet := make([]bool, len(l.Strakes))
	for _, e := range entries {
		n := -1
		if e.Layer == l.Number && e.EntryKind.OfStrake() {
			n = l.StrakeNamed(e.Strake)
		}
		if n < 0 {
			continue
		}
		w := &all[n]
		switch e.EntryKind {
		case hull.Soaking:
			w.Soaked, w.Dry = e.Date, false
		case hull.Pinned:
			w.Pinned, wet[n] = e.Date, wet[n] || e.Wet
		case hull.Glued:
			w.Glued, w.GluedWet = e.Date, e.Wet
			wet[n] = wet[n] || e.Wet
			w.Dry = w.Dry || !e.Wet
		case hull.AsLaid:
			w.Measured = append(w.Measured, WetSize{e.Frame, e.Date, e.MM, e.Wet})
			w.Dry = w.Dry || !e.Wet
		case hull.Removed:
			all[n], wet[n] = WetStrake{Soaked: w.Soaked}, false
		}
	}
	var out []WetStrake
	for n, st := range l.Strakes {
		if w := &all[n]; wet[n] {
			w.ID, w.Layer, w.Strip, w.Awaits = st.ID, l.Number, st.Strip, !w.Dry
			shrinks(k, w, layer, tables)
			out = append(out, *w)
		}
	}
	return out
}

// shrinks looks up the shrinkage of a strake.
func shrinks(k *loft.Planking, w *WetStrake, layer int, tables [][]hull.Wood) {
	woods := loft.WoodsNamed(k.Plan.Layers[layer].Stock.Species, append([][]hull.Wood{k.Plan.Woods}, tables...)...)
	m := k.Plan.Moisture
	if m == (hull.Moisture{}) {
		m = hull.NewMoisture()
	}
	runs, err := loft.Wetting{Strips: 1, Width: w.Strip, Bought: m.Bought, Laid: loft.SoakedThrough, Room: m.Room}.Wet(woods)
	if err != nil || len(runs) == 0 {
		return // a species whose figures make no sense counts as unknown
	}
	var each []float64
	for _, wood := range woods {
		w.Woods = append(w.Woods, wood.Name)
	}
	for _, r := range runs {
		each = append(each, math.Max(r.OpensEach, 0))
	}
	w.Shrinks = loft.RangeOf(each...)
}
