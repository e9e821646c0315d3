package sheets

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Settings are the choices that sheets leave to the builder, lengths in mm; the
// trade's rules are the plan's.
type Settings struct {
	Room       Size                // what a sheet for screens and cutters keeps to where its pieces allow it
	Column     float64             // width of a column of text and tables on paper
	Wide       float64             // width of the widest table
	Long       float64             // length of the longest piece that a page takes: longer strakes are drawn in pieces
	Gap        float64             // between neighbours on a page
	Layer      int                 // the one that lists are of; 0 for all
	Cut        []*loft.CuttingPlan // of all layers; nil for the plan's own
	Cards      bool                // a card for every frame as well as its tick strip
	Tick       float64             // width of a tick strip
	Overhang   float64             // what is left on a strake's free end to hold it by
	MapWidth   float64             // of the numbering map
	Blocks     []Block             // filler blocks; nil for one at either end
	BlockInset float64             // of their sections; negative for the thickness of all the planking
}

// Size is the width and height of a rectangle, mm.
type Size struct{ Width, Height float64 }

// Block is a filler block between two frames (their indices) with sections
// every so many mm.
type Block struct {
	From, To int
	Spacing  float64
}

// Usual gives the settings for A4 and Letter paper and common practice.
func Usual() Settings {
	return Settings{
		Room: Size{280, 235}, Column: 91, Wide: 281, Long: 281, Gap: 3, Tick: 16, Overhang: 15, MapWidth: 281, BlockInset: -1,
	}
}

// double is the width of two columns, or of one where two are wider than a page.
func (s Settings) double() float64 {
	if w := 2*s.Column + s.Gap; w <= s.Wide {
		return w
	}
	return s.Column
}

// usualSpacing is that of the sections of a filler block, mm.
const usualSpacing = 5.0

// blocks are those asked for, or all of an end that is not planked, and else the
// bay at either end.
func (s Settings) blocks(k *loft.Planking) []Block {
	if s.Blocks != nil {
		return s.Blocks
	}
	n := len(k.Plan.Hull.Frames)
	from, to := k.Plan.Hull.Planked()
	if from == 0 {
		from = 1
	}
	if to == n-1 {
		to = n - 2
	}
	return []Block{{0, from, usualSpacing}, {to, n - 1, usualSpacing}}
}

// inset is that of the filler blocks.
func (s Settings) inset(k *loft.Planking) float64 {
	if s.BlockInset >= 0 {
		return s.BlockInset
	}
	sum := 0.0
	for i := range k.Plan.Layers {
		sum += k.Plan.Layers[i].Stock.Thickness
	}
	return sum
}

// bothSides are the sides in the order of the booklet.
var bothSides = [...]hull.Side{hull.Starboard, hull.Port}

// sideName is a side in the reader's language.
func sideName(side hull.Side) string {
	if side == hull.Port {
		return tongue.T("port")
	}
	return tongue.T("starboard")
}

// bowRight tells whether the bow lies to the right of one who looks at a side
// from outside.
func bowRight(side hull.Side) bool { return side == hull.Starboard }

// asDrawn is the side whose outer face is seen with rising x to the right.
func asDrawn(h *hull.Hull) (side, other hull.Side) {
	if h.Bow == hull.BowFirst {
		return hull.Port, hull.Starboard
	}
	return hull.Starboard, hull.Port
}
