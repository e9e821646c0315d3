package loft

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/halt"
	"github.com/strakewright/strakewright/loft/nest"
)

// SheetPlan is the sheet wood that the spiled strakes of a layer take, of both
// sides, and which is cut from which sheet.
type SheetPlan struct {
	Thickness float64 // mm
	Species   string
	Pieces    []SheetPiece // in the order of laying
	Box, Shop []int        // indices into the plan's SheetBox and SheetShop, in the order of Nest.Used and Bought
	Assumed   bool         // no such sheet is on sale: reckoned with the usual size, without a price, and Shop is empty
	Clear     float64      // mm between two pieces at the least
	Margin    float64      // mm inside a sheet's edge
	Nest      *nest.Nest   // its pieces are indices into Pieces
}

// SheetPiece is a piece of a spiled strake, flat.
type SheetPiece struct {
	Laid         int          // its index in Butting.Pieces
	Upper, Lower []mgl64.Vec2 // its edges, mm: x along the strake, the chord of its middle line on y = 0, the overhang at its far end
	Rough        bool         // of the hull only girths are known: a rectangle that holds the strake
}

// Area is that of a piece, mm².
func (p SheetPiece) Area() float64 {
	f := Flat{Upper: p.Upper, Lower: p.Lower}
	return shoelace(f.outline())
}

// Outline is a piece as it lies on its sheet, mm from the sheet's corner, x along the
// grain: along its upper edge and back along the lower.
func (s *SheetPlan) Outline(p nest.Placed) []mgl64.Vec2 {
	f := Flat{Upper: s.Pieces[p.Piece].Upper, Lower: s.Pieces[p.Piece].Lower}
	out := f.outline()
	for i, q := range out {
		r := p.Point(nest.Point{X: q.X(), Y: q.Y()})
		out[i] = mgl64.Vec2{r.X, r.Y}
	}
	return out
}

// StrakesOn names the strakes that a sheet of a layer, from 0, has pieces of, each once:
// "1.04, 1.05".
func (c *CuttingPlan) StrakesOn(sheet int) string {
	var ids []string
	for _, p := range c.Sheets.Nest.Sheets[sheet].Pieces {
		if id := c.Pieces[c.Sheets.Pieces[p.Piece].Laid].ID; !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return strings.Join(ids, ", ")
}

// sheetsFrom lays the spiled strakes of a layer on sheets of the plan's box and shop,
// the grain along them. Nil where there are none. A piece may be turned over, since
// the faces of a sheet are alike: so one shape serves both sides. The error wraps the
// context's.
func (l *Layer) sheetsFrom(ctx context.Context, p *hull.Plan, index int, b *Butting) (*SheetPlan, error) {
	stock, rules := p.Layers[index].Stock, cuttingOf(p)
	out := &SheetPlan{Thickness: stock.Thickness, Species: stock.Species, Clear: rules.Kerf, Margin: l.Rules.SheetMargin}
	flats := map[int]*Flat{}
	var pieces []nest.Piece
	for i, laid := range b.Pieces {
		if laid.Mode != hull.Spiled {
			continue
		}
		if err := halt.Asked(ctx, tongue.T("the laying on sheets")); err != nil {
			return nil, err
		}
		f, err := l.flatOnce(flats, laid.Strake)
		if err != nil {
			return nil, err
		}
		piece := l.sheetPiece(f, laid)
		piece.Laid = i
		out.Pieces = append(out.Pieces, piece)
		pieces = append(pieces, nest.Piece{Upper: nestPoints(piece.Upper), Lower: nestPoints(piece.Lower), TurnOver: true})
	}
	if len(pieces) == 0 {
		return nil, nil
	}
	box, shop := out.sheets(p)
	var err error
	out.Nest, err = nest.Lay(ctx, pieces, box, shop, nest.Rules{Clear: out.Clear, Margin: out.Margin, Tilt: nest.Angle(l.Rules.SheetTiltAngle())})
	if err != nil {
		return nil, tongue.Errorf("sheets %g mm thick: %w", stock.Thickness, err)
	}
	return out, nil
}

// flatOnce is the flat shape of a strake, developed once for all its pieces; nil on a
// hull without a shape.
func (l *Layer) flatOnce(flats map[int]*Flat, n int) (*Flat, error) {
	if f, ok := flats[n]; ok {
		return f, nil
	}
	f, err := l.flat(n)
	if errors.Is(err, ErrShapeless) {
		f, err = nil, nil
	}
	flats[n] = f
	return f, err
}

func nestPoints(edge []mgl64.Vec2) []nest.Point {
	out := make([]nest.Point, len(edge))
	for i, q := range edge {
		out[i] = nest.Point{X: q.X(), Y: q.Y()}
	}
	return out
}

// sheetPiece cuts a piece out of a strake's flat shape and gives it its overhang.
func (l *Layer) sheetPiece(f *Flat, laid LaidPiece) SheetPiece {
	if f == nil {
		length, half := laid.Length(), l.Strakes[laid.Strake].widestCut()/2
		return SheetPiece{Upper: []mgl64.Vec2{{0, half}, {length, half}}, Lower: []mgl64.Vec2{{0, -half}, {length, -half}}, Rough: true}
	}
	whole := l.Strakes[laid.Strake].Length
	from, to := f.rungAt(laid.FromFrame, laid.From/whole), f.rungAt(laid.ToFrame, laid.To/whole)
	if laid.Number == 1 {
		from = 0
	}
	if laid.Number == laid.Of {
		to = float64(len(f.Upper) - 1)
	}
	part := &Flat{Upper: stretchOf(f.Upper, from, to), Lower: stretchOf(f.Lower, from, to)}
	if laid.Overhang > 0 {
		part.lengthen(laid.Overhang)
	}
	part.straighten()
	return SheetPiece{Upper: part.Upper, Lower: part.Lower}
}

// rungAt is the rung, with a fraction, at a frame, or where there is none at a share of
// the length of the middle line.
func (f *Flat) rungAt(frame int, share float64) float64 {
	for _, at := range f.Frames {
		if at.Frame == frame {
			return float64(at.Rung)
		}
	}
	left := share * f.middleLength()
	for k := 1; k < len(f.Upper); k++ {
		step := f.middle(k).Sub(f.middle(k - 1)).Len()
		if left <= step && step > 0 {
			return float64(k-1) + max(left, 0)/step
		}
		left -= step
	}
	return float64(len(f.Upper) - 1)
}

// stretch is the part of a line of points from one place to another, both counted in
// points with a fraction.
func stretchOf(line []mgl64.Vec2, from, to float64) []mgl64.Vec2 {
	at := func(place float64) mgl64.Vec2 {
		k := min(int(place), len(line)-2)
		return line[k].Add(line[k+1].Sub(line[k]).Mul(place - float64(k)))
	}
	out := []mgl64.Vec2{at(from)}
	for k := int(from) + 1; float64(k) < to-1e-9; k++ {
		if float64(k) > from+1e-9 {
			out = append(out, line[k])
		}
	}
	return append(out, at(to))
}

// lengthen goes straight on past the end of a flat shape.
func (f *Flat) lengthen(by float64) {
	n := len(f.Upper) - 1
	d := f.middle(n).Sub(f.middle(n - 1)).Normalize().Mul(by)
	f.Upper, f.Lower = append(f.Upper, f.Upper[n].Add(d)), append(f.Lower, f.Lower[n].Add(d))
}

// widestCut is the greatest width of a strake at a frame, mm.
func (st *Strake) widestCut() float64 {
	most := 0.0
	for _, c := range st.At {
		most = max(most, c.WidthCut)
	}
	return most
}

// sheets finds the sheets of the box and the shop that serve.
func (s *SheetPlan) sheets(p *hull.Plan) (box, shop []nest.Sheet) {
	pick := func(sheets []hull.Sheet, into *[]int) (out []nest.Sheet) {
		for i, of := range sheets {
			if of.Of(s.Thickness, s.Species) && of.Count != 0 {
				*into = append(*into, i)
				out = append(out, nestSheet(of))
			}
		}
		return out
	}
	box, shop = pick(p.SheetBox, &s.Box), pick(p.SheetShop, &s.Shop)
	if len(shop) == 0 {
		s.Assumed = true
		shop = []nest.Sheet{nestSheet(hull.UsualSheet(s.Thickness, s.Species))}
	}
	return box, shop
}

func nestSheet(s hull.Sheet) nest.Sheet {
	return nest.Sheet{Length: min(s.Length, nest.Longest), Width: min(s.Width, nest.Longest), Price: s.Price, Count: s.Count}
}

// spendSheets takes so many of those sheets away.
func spendSheets(sheets []hull.Sheet, which, how []int) {
	for n, i := range which {
		if sheets[i].Count > 0 {
			sheets[i].Count -= how[n]
		}
	}
}

// nearly is by how much the flat shape of a strake may come out longer or higher than
// its middle, followed by its edge-set, has it: a ratio.
const nearly = 1.005

// sheetReach is the length, mm along a spiled strake, up to which its pieces go onto
// the sheets that are on sale: those without end where there are such. The strake's
// middle is followed as its edge-set has it in the flat; what then is laid is the
// flat shape itself.
func (l *Layer) sheetReach(p *hull.Plan, index int, st *Strake) float64 {
	stock, over := p.Layers[index].Stock, cuttingOf(p).Overhang
	sheets := sheetsOnSale(p, stock)
	width, margin := st.widestCut(), 2*l.Rules.SheetMargin
	path := st.flatMiddle()
	goes := func(a, b int) bool {
		length, high := boxAlong(path[a:b+1], width)
		return slices.ContainsFunc(sheets, func(s hull.Sheet) bool {
			return (length+over)*nearly+0.2 <= s.Length-margin && high*nearly+0.2 <= s.Width-margin
		})
	}
	s := st.Centre.S[st.From : st.To+1]
	// reaches tells whether the piece of a length that begins at a station is cut.
	reaches := func(a int, length float64) bool {
		b, there := slices.BinarySearchFunc(s[a+1:], length, func(at, length float64) int { return cmp.Compare(at-s[a], length) })
		if !there && b > 0 {
			b--
		}
		b += a + 1
		return s[b]-s[a] > length || goes(a, b)
	}
	whole := s[len(s)-1] - s[0]
	low := math.Inf(1)
	// One begins at every frame. Most of them are asked once, since they reach as
	// far as those before: so the work grows as frames times stations.
	for a := 0; a < len(s)-1; a += stationsPerBay {
		if reaches(a, min(low, whole)) {
			continue
		}
		from, to := 0.0, whole
		for range 20 {
			if mid := (from + to) / 2; mid < low && reaches(a, mid) {
				from = mid
			} else {
				to = mid
			}
		}
		low = from
	}
	return low + over
}

// flatMiddle follows the middle line of a strake in the flat, by its edge-set, from its
// first station to its last.
func (st *Strake) flatMiddle() []mgl64.Vec2 {
	out := []mgl64.Vec2{{}}
	heading := 0.0
	for k := st.From; k < st.To; k++ {
		step := st.Centre.S[k+1] - st.Centre.S[k]
		turn := float64(st.Centre.EdgeSet[k]+st.Centre.EdgeSet[k+1]) / 2 * step
		sin, cos := math.Sincos(heading - turn/2)
		out = append(out, out[len(out)-1].Add(mgl64.Vec2{cos * step, sin * step}))
		heading -= turn
	}
	return out
}

// boxAlong is the length and the height of a strake of that width along a path, its
// chord lying level. Of a path of very many points it looks at some hundreds, between
// which no strake bends by what matters.
func boxAlong(path []mgl64.Vec2, width float64) (length, high float64) {
	d := path[len(path)-1].Sub(path[0])
	if d.Len() < 1e-9 {
		return math.Inf(1), math.Inf(1)
	}
	lowX, highX, lowY, highY := 0.0, d.Len(), 0.0, 0.0
	d = d.Normalize()
	const enough = 400 // points; up to twice as many, 200 frames, it looks at all
	step := max(1, len(path)/enough)
	for i := 0; i < len(path); i += step {
		r := path[i].Sub(path[0])
		x, y := r.Dot(d), d.X()*r.Y()-d.Y()*r.X()
		lowX, highX, lowY, highY = min(lowX, x), max(highX, x), min(lowY, y), max(highY, y)
	}
	// What the ends stand off square to the chord they add to the length.
	lean := func(a, b mgl64.Vec2) float64 {
		e := b.Sub(a)
		return width / 2 * math.Abs(d.X()*e.Y()-d.Y()*e.X()) / max(e.Len(), 1e-9)
	}
	n := len(path) - 1
	return highX - lowX + lean(path[0], path[1]) + lean(path[n-1], path[n]), highY - lowY + width
}

// sheetsOnSale are those that a layer's pieces are cut to fit: of its stock's kind, and
// without end if there are such; the usual size where none is on sale.
func sheetsOnSale(p *hull.Plan, stock hull.Stock) []hull.Sheet {
	var endless, counted []hull.Sheet
	for _, s := range p.SheetShop {
		switch {
		case !s.Of(stock.Thickness, stock.Species) || s.Count == 0:
		case s.Count < 0:
			endless = append(endless, s)
		default:
			counted = append(counted, s)
		}
	}
	switch {
	case endless != nil:
		return endless
	case counted != nil:
		return counted
	}
	return []hull.Sheet{hull.UsualSheet(stock.Thickness, stock.Species)}
}
