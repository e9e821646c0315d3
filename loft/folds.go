package loft

import (
	"math"

	"github.com/strakewright/strakewright/hull"
)

// FoldCause is why a skin cannot have its full thickness at a place.
type FoldCause int

// The causes.
const (
	NoFold      FoldCause = iota
	HollowFold            // the radius of a hollow is about the planking's thickness, or less
	KnuckleFold           // a knuckle turns too sharply, or stands too close to another
	SquareFold            // the planks stand so square to the keel that their outer face does not reach the frame
	NarrowFold            // the outer faces of two parts of a frame meet
	BetweenFold           // the outer face would fold between this frame and the next
	NotLaid               // no strip of the layer is laid there
)

// Folds is a place where the next layer cannot lie on the full thickness of this one,
// since the outer face would fold: there this layer counts as thinned.
type Folds struct {
	From, To     int     // the first and last frame it reaches
	Upper, Lower float64 // mm of girth below the upper limit between which it lies, over all these frames
	At           int     // the frame where least of the thickness is left
	Down         float64 // mm of girth below the upper limit there
	Why          FoldCause
	Radius       float64 // mm, the least hollow radius there; 0 where it is not hollow
	Thickness    float64 // mm, of the strips
	Left         float64 // mm, the thickness left at At

	// What can be done instead.
	Thin               float64 // mm, the thickest strip of this layer that keeps its full thickness there, to 0.01 below; 0 where none does
	EndFrom, EndTo     int     // the longest run of frames without a fold, between which to lay this layer; the same frame twice where there is none
	BlockFrom, BlockTo int     // the frames between which a block would enclose the place
}

// Remedy is what can be done about a fold: one of the types below.
type Remedy interface{ remedy() }

// Thinner uses strips of this thickness, mm, for the layer.
type Thinner struct{ Thickness float64 }

// EndLayer lays the layer only from one frame to another.
type EndLayer struct{ From, To int }

// SolidWood makes a place of the layer a block of solid wood, between two frames and
// between two girths below the upper limit, mm.
type SolidWood struct {
	From, To     int
	Upper, Lower float64
}

func (Thinner) remedy()   {}
func (EndLayer) remedy()  {}
func (SolidWood) remedy() {}

// Remedies lists the possible remedies, the smallest change first.
func (f Folds) Remedies() []Remedy {
	var out []Remedy
	if f.Thin > 0 {
		out = append(out, Thinner{f.Thin})
	}
	if f.EndFrom < f.EndTo {
		out = append(out, EndLayer{f.EndFrom, f.EndTo})
	}
	return append(out, SolidWood{f.BlockFrom, f.BlockTo, f.Upper, f.Lower})
}

// MadeBlock is a place of the layer that is of solid wood.
type MadeBlock struct {
	From, To     int
	Upper, Lower float64 // mm of girth below the upper limit; Lower is infinite where the whole girth is
	Thinned      bool    // the layer cannot have its full thickness there
	Left         float64 // mm, the least thickness it is carved to over the surface below; the strips' thickness where it is full
}

// LaidBetween records that a layer is laid between two frames of its own.
type LaidBetween struct{ From, To int }

func (Folds) note()       {}
func (MadeBlock) note()   {}
func (LaidBetween) note() {}

// thinnedLeast is the least thinning of a skin that is reported, mm: sanding takes off
// more than anything less.
const thinnedLeast = 0.02

func (k *skin) thinned(i, j int) bool {
	return k.lays(i) && k.nodes[i][j].out < k.t-thinnedLeast
}

// places groups adjacent thinned nodes into places, ordered by frame and girth.
func (k *skin) places() []Folds {
	seen := make([][]bool, len(k.nodes))
	for i := range seen {
		seen[i] = make([]bool, len(k.nodes[i]))
	}
	var out []Folds
	for i := range k.nodes {
		for j := range k.nodes[i] {
			if k.thinned(i, j) && !seen[i][j] {
				out = append(out, k.placeFrom(i, j, seen))
			}
		}
	}
	for n := range out {
		out[n].Thin = k.proved(out[n])
	}
	finish(out, k.from, k.to)
	return out
}

// proved is the greatest thickness of strips that keep it in full at a place: from its
// caps where it is hollow, and confirmed by a trial where it is not; 0 where none does.
func (k *skin) proved(f Folds) float64 {
	if f.Why == HollowFold && f.Radius > 0 && f.Thin >= hollowShare*f.Radius-1e-9 {
		return f.Thin
	}
	for range 6 {
		trial := k.s.newSkin(f.Thin, k.from, k.to)
		trial.settle()
		clear := true
		for i := f.From; i <= f.To; i++ {
			for j := range trial.nodes[i] {
				a := &trial.nodes[i][j]
				clear = clear && (a.down < f.Upper || a.down > f.Lower || a.out >= trial.t-thinnedLeast/2)
			}
		}
		if clear {
			return f.Thin
		}
		f.Thin *= 0.75
	}
	return 0
}

// finish works out, for all places of a layer laid from frame from to frame to, the
// possible remedies.
func finish(places []Folds, from, to int) {
	a, b := unfolded(places, from, to)
	for n := range places {
		f := &places[n]
		if f.Thin = math.Floor(f.Thin*100) / 100; f.Thin < hull.StripThickness.Low {
			f.Thin = 0
		}
		f.EndFrom, f.EndTo = a, b
		f.BlockFrom, f.BlockTo = max(f.From-1, from), min(f.To+1, to)
	}
}

// placeFrom collects the place that a node belongs to.
func (k *skin) placeFrom(i, j int, seen [][]bool) Folds {
	f := Folds{From: i, To: i, Upper: math.Inf(1), At: i, Thickness: k.t, Left: math.Inf(1), Thin: k.t}
	seen[i][j] = true
	for todo := [][2]int{{i, j}}; len(todo) > 0; {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		k.addTo(&f, at[0], at[1])
		for a := max(at[0]-1, k.from); a <= min(at[0]+1, k.to); a++ {
			for b := max(at[1]-1, 0); b <= min(at[1]+1, len(k.nodes[a])-1); b++ {
				if k.thinned(a, b) && !seen[a][b] {
					seen[a][b] = true
					todo = append(todo, [2]int{a, b})
				}
			}
		}
	}
	return f
}

func (k *skin) addTo(f *Folds, i, j int) {
	a := &k.nodes[i][j]
	f.From, f.To = min(f.From, i), max(f.To, i)
	f.Upper, f.Lower = min(f.Upper, a.down), max(f.Lower, a.down)
	if a.cap < f.Thin {
		f.Thin, f.Why = a.cap, a.why
	}
	if a.out < f.Left {
		f.At, f.Down, f.Left = i, a.down, a.out
	}
	if a.cap < k.t && a.radius > 0 && (f.Radius == 0 || a.radius < f.Radius) {
		f.Radius = a.radius
	}
}

// unfolded gives the longest run of laid frames that no place reaches, or the first
// twice.
func unfolded(places []Folds, first, last int) (from, to int) {
	from, to = first, first
	start := -1
	for i := first; i <= last; i++ {
		folds := false
		for _, f := range places {
			folds = folds || i >= f.From && i <= f.To
		}
		switch {
		case folds:
			start = -1
		case start < 0:
			start = i
		case i-start > to-from:
			from, to = start, i
		}
	}
	return from, to
}
