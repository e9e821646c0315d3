package nest

import (
	"context"
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Point is a place on a piece or a sheet, mm: x along the grain, y across it.
type Point struct{ X, Y float64 }

// Angle is an angle in rad, anticlockwise.
type Angle float64

// Piece is a flat piece: the area between its two edges, each a line of points from the
// piece's beginning to its end, with x generally rising.
type Piece struct {
	Upper, Lower []Point
	TurnOver     bool // it may be cut as seen from its other face, and turned over: this makes a strake of one side into that of the other, since both faces are alike
}

// Sheet describes sheets of one size from which pieces may be cut. The grain runs along
// the length.
type Sheet struct {
	Length, Width float64 // mm
	Price         float64 // of one, in any currency; ignored for the box
	Count         int     // number available; negative for unlimited
}

// Rules are the rules that a laying keeps.
type Rules struct {
	Clear  float64 // mm, least distance between two pieces: the kerf, and the extra that the hand needs
	Margin float64 // mm that every piece lies inside the sheet's edge
	Tilt   Angle   // the greatest angle of a piece's x off the grain; used only where it saves something
}

// Placed is where a piece lies on its sheet: turned over about its x-axis if
// Mirrored, then turned by half a turn if Turned, then by Tilt, then moved by At.
type Placed struct {
	Piece    int // its index
	Mirrored bool
	Turned   bool
	Tilt     Angle
	At       Point
}

// Point is where a point of the piece lies on the sheet, whose corner is (0, 0).
func (p Placed) Point(q Point) Point {
	q = turned(q, p.Mirrored, p.Turned, p.Tilt)
	return Point{q.X + p.At.X, q.Y + p.At.Y}
}

// turned is a point of a piece after everything except the move.
func turned(q Point, mirrored, half bool, tilt Angle) Point {
	if mirrored {
		q.Y = -q.Y
	}
	if half {
		q.X, q.Y = -q.X, -q.Y
	}
	if tilt == 0 {
		return q
	}
	sin, cos := math.Sincos(float64(tilt))
	return Point{q.X*cos - q.Y*sin, q.X*sin + q.Y*cos}
}

// Laid is one sheet and what is laid on it.
type Laid struct {
	Box           bool // from the box; else bought
	Of            int  // its index in the box or the shop
	Length, Width float64
	Pieces        []Placed
	Waste         float64 // mm² of the sheet that no piece covers, including margins and kerfs
}

// Nest is what to cut from which sheet.
type Nest struct {
	Sheets []Laid
	Left   []int   // pieces that fit on no sheet, or for which no sheet is left
	Used   []int   // number used of each kind in the box
	Bought []int   // number bought of each kind in the shop
	Cost   float64 // of those bought: money, or mm² if a kind of sheet has no price
	Bound  float64 // no laying costs less than this, by the area of pieces and sheets alone; 0 if pieces are left
	ByArea bool    // whether the cost is in mm²
	Area   float64 // mm² of all sheets used
	Waste  float64 // mm² of them that no piece covers
}

// Optimal reports whether nothing could cost less, and no piece is left: the bound is
// reached.
func (n *Nest) Optimal() bool { return len(n.Left) == 0 && n.Bound >= n.Cost*(1-1e-12) }

// Gap is the greatest amount by which another laying might cost less.
func (n *Nest) Gap() float64 { return max(n.Cost-n.Bound, 0) }

// Limits of what Lay accepts.
const (
	Longest    = 20000 // mm, of a sheet or a piece
	MostPieces = 2000
	mostPoints = 20000 // of one edge
	mostTilt   = math.Pi / 6
)

// tolerance is the error, mm, that rounding may make in a piece's place.
const tolerance = 1e-6

// layBudget is the number of steps of about a nanosecond that the search may take.
const layBudget = 1e8

// Lay finds on which sheets, and where, to lay the pieces: first on those in the box,
// which cost nothing more, then on those bought, for the least money (or the least area
// if a kind on sale has no price). The same input gives the same laying. The error
// names a piece, sheet or rule that makes no sense, or wraps the context's if that ends
// first.
//
// Pieces are laid in turn as far down and then as far to the left as they will go, by
// their profiles (the bottom-left rule of Baker, Coffman and Rivest, SIAM J. Computing
// 9, 1980, on a skyline as in Burke, Kendall and Whitwell, Operations Research 52,
// 2004), in several orders and by several measures of a good place; the best order is
// then varied. The work is limited by a count of steps.
func Lay(ctx context.Context, pieces []Piece, box, shop []Sheet, rules Rules) (*Nest, error) {
	return lay(ctx, pieces, box, shop, rules, layBudget)
}

func lay(ctx context.Context, pieces []Piece, box, shop []Sheet, rules Rules, budget int) (*Nest, error) {
	if err := layable(pieces, box, shop, rules); err != nil {
		return nil, err
	}
	j := newJob(pieces, box, shop, rules)
	j.budget = effort{ctx, budget}
	best := j.search()
	if err := stopped(ctx); err != nil {
		return nil, err
	}
	return j.report(best, box, shop), nil
}

// layable refuses input that makes no sense.
func layable(pieces []Piece, box, shop []Sheet, rules Rules) error {
	if len(pieces) > MostPieces {
		return tongue.Errorf("there are %d pieces, more than the limit of %d: lay one layer at a time", len(pieces), MostPieces)
	}
	if !(rules.Clear >= 0) || rules.Clear > Longest {
		return tongue.Errorf("a clearance of %g mm is impossible: give 0 or more", rules.Clear)
	}
	if !(rules.Margin >= 0) || rules.Margin > Longest {
		return tongue.Errorf("a margin of %g mm is impossible: give 0 or more", rules.Margin)
	}
	if !(rules.Tilt >= 0) || rules.Tilt > mostTilt {
		return tongue.Errorf("a tilt of %g rad makes no sense: give 0 to %.2f", float64(rules.Tilt), mostTilt)
	}
	for i, p := range pieces {
		if err := p.sound(); err != nil {
			return tongue.Errorf("piece %d: %w", i+1, err)
		}
	}
	for i, s := range box {
		if err := s.sound(i, "box"); err != nil {
			return err
		}
	}
	for i, s := range shop {
		if err := s.sound(i, "shop"); err != nil {
			return err
		}
		if !(s.Price >= 0) || s.Price > 1e6 {
			return tongue.Errorf("sheet %d of the shop costs %g: give 0 to 1000000", i+1, s.Price)
		}
	}
	return nil
}

func (s Sheet) sound(i int, where string) error {
	for _, size := range []float64{s.Length, s.Width} {
		if !(size > 0) || size > Longest {
			return tongue.Errorf("sheet %d of the %s is %g × %g mm: give both above 0 and at most %d", i+1, where, s.Length, s.Width, Longest)
		}
	}
	return nil
}

func (p Piece) sound() error {
	for _, edge := range [][]Point{p.Upper, p.Lower} {
		if len(edge) < 2 || len(edge) > mostPoints {
			return tongue.Errorf("an edge of %d points: give it 2 to %d", len(edge), mostPoints)
		}
		for _, q := range edge {
			if !(math.Abs(q.X) <= Longest) || !(math.Abs(q.Y) <= Longest) {
				return tongue.Errorf("a point at (%g, %g) mm is off any sheet: keep within %d", q.X, q.Y, Longest)
			}
		}
	}
	if !(p.Area() > 0) {
		return tongue.Errorf("it has no area: give it two edges, the lower below the upper")
	}
	return nil
}

// Outline runs along the upper edge and back along the lower.
func (p Piece) Outline() []Point {
	out := append([]Point{}, p.Upper...)
	for k := len(p.Lower) - 1; k >= 0; k-- {
		out = append(out, p.Lower[k])
	}
	return out
}

// Area is the area of the piece, mm².
func (p Piece) Area() float64 {
	sum, o := 0.0, p.Outline()
	for i, a := range o {
		b := o[(i+1)%len(o)]
		sum += a.X*b.Y - a.Y*b.X
	}
	return math.Abs(sum) / 2
}
