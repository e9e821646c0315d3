package answer

import (
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// NaturalLie is how a strip lies of itself by its width, thickness and wood, beside a
// thin batten. Its numbers are not rounded.
type NaturalLie struct {
	Width     float64      `json:"width"`
	Thickness float64      `json:"thickness"`
	Species   string       `json:"species"`
	Stiffness *float64     `json:"stiffness_gpa"` // nil where it is not known
	Held      []string     `json:"held"`          // frames
	At        []NaturalAt  `json:"at"`
	Untold    string       `json:"untold,omitempty"` // why no lie is told
	Slid      bool         `json:"slides"`
	Error     *float64     `json:"error"` // mm; nil where it is not known
	Energy    *BendEnergy  `json:"energy"`
	Batten    *BendEnergy  `json:"energy_batten"` // of the batten's course at this thickness
	Ends      []NaturalEnd `json:"ends"`          // where it is not told to the end of the hull
	Nearer    []string     `json:"nearer"`        // frames at which mid-thickness would fold the surface
}

// NaturalAt is where the three courses cross a frame: mm of girth below the upper
// limit, nil where one does not come so far.
type NaturalAt struct {
	Frame   string   `json:"frame"`
	Held    bool     `json:"held"`
	Batten  *float64 `json:"batten"`  // a thin batten on the frames
	Middle  *float64 `json:"middle"`  // a thin batten at mid-thickness
	Natural *float64 `json:"natural"` // the strip
	Off     *float64 `json:"off"`     // the strip below the batten on the frames
}

// BendEnergy is an energy of bending, mJ, or where the stiffness is not known mJ for
// each GPa of it.
type BendEnergy struct {
	Face  float64 `json:"face"`
	Edge  float64 `json:"edge"`
	Twist float64 `json:"twist"`
}

func (b *BendEnergy) sum() float64 { return b.Face + b.Edge + b.Twist }

// NaturalEnd is where a lie ends short of the hull's end, and why.
type NaturalEnd struct {
	Frame string `json:"frame"` // the last it comes to, that way
	Why   string `json:"why"`
}

// NaturalOf puts a natural lie of a planking into words; species is that of the strip.
func NaturalOf(k *loft.Planking, n *loft.NaturalLie, species string) NaturalLie {
	name := func(i int) string { return k.Plan.Hull.Frames[i].Name }
	out := NaturalLie{Width: n.Width, Thickness: n.Thickness, Species: species, Stiffness: known(n.Stiffness > 0, n.Stiffness),
		Held: []string{}, At: []NaturalAt{}, Slid: n.Slid, Ends: []NaturalEnd{}, Nearer: []string{}}
	for _, i := range n.Held {
		out.Held = append(out.Held, name(i))
	}
	told := func(x float64) *float64 { return known(!math.IsNaN(x), x) }
	for i, a := range n.Frames {
		at := NaturalAt{Frame: name(i), Batten: told(a.Thin), Middle: told(a.Middle), Natural: told(a.Natural), Off: told(a.Off())}
		for _, h := range n.Held {
			at.Held = at.Held || h == i
		}
		out.At = append(out.At, at)
	}
	out.Untold = untoldText(n.Untold, n.UntoldAt, name)
	if n.Untold == loft.Told {
		out.Error = told(n.Error)
		stiffness := n.Stiffness
		if stiffness == 0 {
			stiffness = 1
		}
		energy := func(b loft.Bent) *BendEnergy {
			return &BendEnergy{b.Face * stiffness, b.Edge * stiffness, b.Twist * stiffness}
		}
		out.Energy, out.Batten = energy(n.Bent), energy(n.ThinBent)
	}
	out.Ends = naturalEnds(n, name)
	for _, f := range n.Thinned {
		for i := f.From; i <= f.To; i++ {
			out.Nearer = append(out.Nearer, name(i))
		}
	}
	return out
}

// known gives a figure where it is known.
func known(is bool, x float64) *float64 {
	if !is {
		return nil
	}
	return &x
}

// naturalEnds tells where a lie ends short of the hull.
func naturalEnds(n *loft.NaturalLie, name func(int) string) []NaturalEnd {
	out := []NaturalEnd{}
	whys := map[loft.LieEnd]string{
		loft.OffUpper:   tongue.T("far above the upper limit"),
		loft.OffLower:   tongue.T("far below the lower limit"),
		loft.AtKnuckle:  tongue.T("at a knuckle, where you would have to cut it or bend it hot"),
		loft.AlongFrame: tongue.T("where the batten turns along the frames"),
	}
	last := len(n.Frames) - 1
	for i, frame := range []int{0, last} {
		way := 1 - 2*i
		for ; frame+way >= 0 && frame+way <= last && math.IsNaN(n.Frames[frame].Natural); frame += way {
		}
		if why, short := whys[n.Ends[i]]; short && n.Untold == loft.Told {
			out = append(out, NaturalEnd{name(frame), why})
		}
	}
	return out
}

// untoldText says why no lie is told, nothing where it is.
func untoldText(why loft.Untold, frame int, name func(int) string) string {
	switch why {
	case loft.HeldUnreached:
		return tongue.T("its course to the hold at frame %s crosses a knuckle or runs far past a limit", name(frame))
	case loft.OverKnuckle:
		return tongue.T("it would lie over a knuckle")
	case loft.Restless:
		return tongue.T("it slides on without end where it is not held")
	}
	return ""
}

// text writes the table and what goes with it.
func (n NaturalLie) text(p *page) {
	p.gap()
	strip := tongue.T("A strip %s x %s mm", mm(n.Width), mm(n.Thickness))
	if n.Species != "" {
		strip += tongue.T(" of %s", n.Species)
	}
	p.line("%s, held at frames %s:", strip, strings.Join(n.Held, ", "))
	t := table{head: heads("frame", "", "batten", "mid-thickness", "strip", "by thickness", "by stiffness", "in all")}
	for _, a := range n.At {
		held := ""
		if a.Held {
			held = tongue.T("held")
		}
		t.rows = append(t.rows, []string{a.Frame, held, maybe(a.Batten), maybe(a.Middle), maybe(a.Natural), less(a.Middle, a.Batten), less(a.Natural, a.Middle), maybe(a.Off)})
	}
	p.table(t)
	p.gap()
	if n.Untold != "" {
		p.line("The lie of the strip itself cannot be found: %s. Hold it at other frames or at more.", n.Untold)
		return
	}
	for _, e := range n.Ends {
		p.line("It is followed as far as frame %s: it ends %s.", e.Frame, e.Why)
	}
	if n.Slid {
		p.line("It does not settle near the batten's line, but slides to where it bends less: hold it at more frames.")
	}
	if len(n.Nearer) > 0 {
		p.line("At frames %s a hollow is too tight for half its thickness; its middle counts as nearer to the frames there.", strings.Join(n.Nearer, ", "))
	}
	if n.Error != nil {
		p.line("A calculation twice as fine moves it by at most %s mm at any frame.", decimals(*n.Error, 3))
	}
	if e, b := n.Energy, n.Batten; b.sum() > 0 {
		p.line("Bending it so takes %s %% of the energy along the batten's line: %s %% about its face, %s %% edgewise, %s %% in twist.",
			decimals(100*e.sum()/b.sum(), 1), decimals(100*e.Face/b.sum(), 1), decimals(100*e.Edge/b.sum(), 1), decimals(100*e.Twist/b.sum(), 1))
		if n.Stiffness != nil {
			p.line("That is %s mJ, with a stiffness of %s GPa.", decimals(e.sum(), 2), decimals(*n.Stiffness, 1))
		}
	}
	p.line("Girth from the upper limit down to the strip's middle on the frame, mm: of a thin batten on the frames, of one at mid-thickness, and of the strip; then how far it lies lower.")
}

// maybe tells a figure, nothing where there is none.
func maybe(x *float64) string {
	if x == nil {
		return ""
	}
	return mm(*x)
}

// less tells a difference, nothing where either is not known.
func less(a, b *float64) string {
	if a == nil || b == nil {
		return ""
	}
	return mm(*a - *b)
}

// followsBatten says that a line follows the thin batten after all.
func followsBatten(l *loft.Layer, n loft.FollowsBatten) string {
	return tongue.T("Line %d follows the thin batten instead of the strip itself, whose lie cannot be found: %s. Move its handles.",
		n.Line, untoldText(n.Why, n.Frame, l.Surface.FrameName))
}

// stripSlides says that the strip of a line slides far.
func stripSlides(l *loft.Layer, n loft.StripSlides, u Units) string {
	at := l.Surface.FrameName(n.At)
	if n.By < 0 {
		return tongue.T("The strip that line %d follows does not settle near the thin batten's line: it slides to where it bends less, %s higher at frame %s. Hold it at more frames.", n.Line, told(u, -n.By, 1), at)
	}
	return tongue.T("The strip that line %d follows does not settle near the thin batten's line: it slides to where it bends less, %s lower at frame %s. Hold it at more frames.", n.Line, told(u, n.By, 1), at)
}

// followsText is what a line follows, nothing for the thin batten.
func followsText(f hull.Follows) string {
	if f == hull.StripItself {
		return tongue.T(", as the strip itself lies")
	}
	return ""
}

// naturalLies writes several thicknesses side by side: how far each strip lies off the
// thin batten at the ends of its course, and where most.
func naturalLies(p *page, lies []NaturalLie) {
	p.gap()
	n := &lies[0]
	p.line("Strips %s mm wide, held at frames %s: how much lower than a thin batten each lies.", mm(n.Width), strings.Join(n.Held, ", "))
	t := table{head: heads("thickness", tongue.In("frame", "at"), "by thickness", "by stiffness", "in all", tongue.In("frame", "at"), "by thickness", "by stiffness", "in all", "most at", "in all", "as fine to", "")}
	for i := range lies {
		t.rows = append(t.rows, lies[i].inBrief())
	}
	p.table(t)
	p.line("mm of girth; as fine to: the most that a calculation twice as fine moves the strip at any frame.")
}

// inBrief is a lie's row among others: at the first and last frame that it comes to,
// and at that where it is farthest off.
func (n *NaturalLie) inBrief() []string {
	first, last, most := -1, -1, -1
	for i := range n.At {
		a := &n.At[i]
		if a.Off == nil {
			continue
		}
		if first < 0 {
			first = i
		}
		if last = i; most < 0 || math.Abs(*a.Off) > math.Abs(*n.At[most].Off) {
			most = i
		}
	}
	row := []string{mm(n.Thickness)}
	if first < 0 {
		return append(row, "", "", "", "", "", "", "", "", "", "", "", tongue.T("not found: %s", n.Untold))
	}
	for _, i := range []int{first, last} {
		a := &n.At[i]
		row = append(row, a.Frame, less(a.Middle, a.Batten), less(a.Natural, a.Middle), maybe(a.Off))
	}
	fine, slides := "", ""
	if n.Error != nil {
		fine = decimals(*n.Error, 3)
	}
	if n.Slid {
		slides = tongue.T("slides")
	}
	return append(row, n.At[most].Frame, maybe(n.At[most].Off), fine, slides)
}
