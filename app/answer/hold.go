package answer

import (
	"context"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Hold is the answer of the command hold: where a springy strip lifts off the frames
// when it is let go, and where and how hard it must be held.
type Hold struct {
	Layer     int         `json:"layer,omitempty"`  // from 1; left out where there is but one
	Strake    string      `json:"strake,omitempty"` // on whose middle line it is laid
	Line      int         `json:"line,omitempty"`   // or the band line, from 1; of neither it is an unstressed line
	Width     float64     `json:"width"`
	Thickness float64     `json:"thickness"`
	Modulus   *Newtons    `json:"modulus_gpa"` // of elasticity along the grain; nil where it is not known, and then no force is
	Woods     []HoldWood  `json:"woods"`       // of which that is published
	LetGo     HoldState   `json:"let_go"`      // held where asked, or amidships alone
	Within    float64     `json:"within"`      // the tolerance in which the strip is then to lie
	Lies      HoldState   `json:"lies"`        // held at few frames so that it lies within that
	Steps     []HoldState `json:"steps,omitempty"`
	Back      HoldBack    `json:"springs_back"`
	Told      []string    `json:"told"` // what follows, in sentences
}

// HoldWood is a wood, and where its modulus is published.
type HoldWood struct {
	Name   string `json:"name"`
	Source string `json:"source"`
}

// HoldState is the strip held at some frames.
type HoldState struct {
	Held   []string  `json:"held"`
	At     []HoldAt  `json:"at"` // the frames it crosses
	Strain float64   `json:"face_strain_max"`
	Worst  string    `json:"face_strain_at"` // the frame nearest to that
	Bends  string    `json:"bends"`          // dry, soaked, heated or carved, by that strain
	Edge   float64   `json:"edge_strain_max"`
	EdgeAt string    `json:"edge_strain_at"` // the frame nearest to that
	Rests  bool      `json:"rests"`          // false where it springs out from between its holds
	Error  *float64  `json:"error"`          // how far a reckoning half as fine is off; nil where it was not made
	Energy *Newtons  `json:"energy_n_mm"`
	Middle []HoldPos `json:"middle"` // its middle line
}

// HoldPos is a point of the strip.
type HoldPos [3]float64

// HoldAt is the strip at a frame. A force is nil where it is not known.
type HoldAt struct {
	Frame   string   `json:"frame"`
	Held    bool     `json:"held"`
	LiftOff *float64 `json:"lift_off"` // nil where it does not come so far, as stray
	Stray   *float64 `json:"stray"`    // along the frame from its line, positive downwards
	Press   *Newtons `json:"press_n"`  // to press it on
	Bears   *Newtons `json:"bears_n"`  // that the frame bears
	Side    *Newtons `json:"side_n"`   // to keep it from slipping, positive downwards
}

// Newtons are two figures, for the least stiff and the stiffest wood.
type Newtons struct {
	Least float64 `json:"least"`
	Most  float64 `json:"most"`
}

// HoldBack says how far the strip springs back that is let go when it was bent so:
// "whole", to where it lies let go but for an unknown creep, or "unknown".
type HoldBack struct {
	Dry    string `json:"dry"`
	Soaked string `json:"soaked"`
	Heated string `json:"heated"`
}

// HoldAsked is what is asked of a strip that is held.
type HoldAsked struct {
	Strake string  // its ID, or
	Line   int     // the band line, from 1; of neither it is an unstressed line
	Held   []int   // frames where it is held; nil for amidships
	Within float64 // mm within which it is to lie
	Steps  bool    // it is also told from the first contact to the last
}

// HoldOf tells how a strip that is sprung over the frames of a layer (from 0) is held.
// told hears how many ways to hold it have been tried, of how many there may be. It
// stops with the context.
func HoldOf(ctx context.Context, k *loft.Planking, layer int, sp *loft.Springing, woods []hull.Wood, asked HoldAsked, told func(tried, prospect int)) (Hold, error) {
	l := k.Layers[layer]
	out := Hold{Layer: layerKey(k, l), Strake: asked.Strake, Line: asked.Line, Width: tidy(sp.Section.Width), Thickness: tidy(sp.Section.Thickness),
		Modulus: newtons(sp.Modulus, sp), Woods: []HoldWood{}, Within: tidy(asked.Within)}
	for _, w := range woods {
		out.Woods = append(out.Woods, HoldWood{w.Name, w.Bending})
	}
	held := asked.Held
	if held == nil {
		held = sp.Amidships()
	}
	free, err := sp.Held(ctx, held)
	if err != nil {
		return out, err
	}
	lies, err := sp.Holds(ctx, asked.Within, told)
	if err != nil {
		return out, err
	}
	out.LetGo, out.Lies = holdState(l, sp, free), holdState(l, sp, lies)
	if asked.Steps {
		err := sp.Presses(ctx, func(s *loft.Sprung) error {
			out.Steps = append(out.Steps, holdState(l, sp, s))
			return nil
		})
		if err != nil {
			return out, err
		}
	}
	out.Back = HoldBack{string(loft.SpringBackOf(loft.Dry)), string(loft.SpringBackOf(loft.Soaked)), string(loft.SpringBackOf(loft.Heated))}
	if n := l.StrakeNamed(asked.Strake); n >= 0 && l.Strakes[n].Making.Mode != hull.Sprung {
		out.Told = append(out.Told, tongue.T("Strake %s is not sprung from a straight strip in the plan; these are the figures of such a strip.", asked.Strake))
	}
	if l.Number > 1 {
		out.Told = append(out.Told, tongue.T("It lies on the layer below all along, but counts as touching it only at the frames."))
	}
	out.Told = append(out.Told, holdText(l, sp, lies, asked.Within, MM{})...)
	return out, nil
}

// newtons are figures for the woods a strip may be of; nil where these are not known.
func newtons(r loft.Range, sp *loft.Springing) *Newtons {
	if sp.Modulus.High == 0 {
		return nil
	}
	return &Newtons{tidy(r.Low), tidy(r.High)}
}

func holdState(l *loft.Layer, sp *loft.Springing, s *loft.Sprung) HoldState {
	name := l.Surface.FrameName
	out := HoldState{Held: []string{}, At: []HoldAt{}, Strain: tidy(s.Strain), Worst: name(s.Worst), Bends: string(s.Bends),
		Edge: tidy(s.Edge), EdgeAt: name(s.EdgeWorst), Rests: s.Converged,
		Middle: []HoldPos{}}
	for _, f := range s.Held {
		out.Held = append(out.Held, name(f))
	}
	if !math.IsNaN(s.Error) {
		out.Error = figure(s.Error)
	}
	out.Energy = newtons(loft.Range{Low: s.Energy * sp.Modulus.Low / max(sp.Modulus.High, 1e-300), High: s.Energy}, sp)
	for i := range s.At {
		f := &s.At[i]
		at := HoldAt{Frame: name(f.Frame), Held: f.Held, Press: newtons(f.Press, sp), Bears: newtons(f.Bears, sp), Side: newtons(f.Side, sp)}
		if f.Reached() {
			at.LiftOff, at.Stray = figure(f.LiftOff), figure(f.Stray)
		}
		out.At = append(out.At, at)
	}
	for _, p := range s.Course {
		out.Middle = append(out.Middle, HoldPos{tidy(p.X()), tidy(p.Y()), tidy(p.Z())})
	}
	return out
}

// holdText says what is to be done with a strip that is to lie within so many mm, where
// it must be held for that, the hardest of it, and how it springs back; a sentence each.
func holdText(l *loft.Layer, sp *loft.Springing, s *loft.Sprung, within float64, u Units) []string {
	name := l.Surface.FrameName
	out := []string{tongue.T("To keep the strip on the frames and within %s of its line at each, hold it at %s: %d of %d frames.",
		u.Length(within), framesCalled(l, s.Held), len(s.Held), len(s.At))}
	if !s.Converged {
		return append(out, tongue.T("Even so it does not stay, but springs out from between its holds."))
	}
	out = append([]string{sprungVerdict(l, s)}, out...)
	hardest, aside := 0, 0
	for i := range s.At {
		if s.At[i].Press.High > s.At[hardest].Press.High {
			hardest = i
		}
		if sideways(s.At[i].Side) > sideways(s.At[aside].Side) {
			aside = i
		}
	}
	switch h := s.At[hardest]; {
	case sp.Modulus.High == 0:
		out = append(out, tongue.T("The force is not known: there is no modulus of elasticity for its wood. Give --modulus, in GPa."))
	case h.Press.High == 0:
		out = append(out, tongue.T("It need not be pressed on anywhere."))
	default:
		text := tongue.T("The greatest force to press it on is at %s: %s", name(h.Frame), force(h.Press))
		if a := s.At[aside]; sideways(a.Side) > 0 {
			text += tongue.T("; the greatest sideways is at %s: %s", name(a.Frame), sideForce(a.Side))
		}
		out = append(out, text+".")
	}
	if !math.IsNaN(s.Error) {
		out = append(out, tongue.T("Worked out half as finely, it differs by %s at most.", u.Length(s.Error)))
	}
	return append(out,
		tongue.T("Let go dry, it springs back to its free shape but for a little creep, for which there is no published figure."),
		tongue.T("Bent soaked or heated and held until dry, it springs back less; no published figure says by how much, so try an offcut."))
}

// sprungVerdict says what a strip so held asks for, and behind that how hard it is bent
// flatwise and sideways, as "Springs dry: 0.21 % face strain at frame D (limit 0.82 %);
// 0.02 % edge-set (limit 0.30 %)."
func sprungVerdict(l *loft.Layer, s *loft.Sprung) string {
	name := l.Surface.FrameName
	v := l.JudgeSprung(s)
	text := capital(VerdictText(v, name))
	if v.Cause == loft.ByEdge {
		return text + tongue.T("; %s face strain at frame %s.", percent(s.Strain), name(s.Worst))
	}
	return text + tongue.T("; %s edge-set at frame %s.", percent(s.Edge), name(s.EdgeWorst))
}

// SpringCaution is where a strip is held bent.
const SpringCaution = "A strip held down springs free when a clamp or pin slips: guard your eyes and fingers."

// sideways is the greater size of a force that may have either sign.
func sideways(r loft.Range) float64 { return max(math.Abs(r.Low), math.Abs(r.High)) }

// upright is such a force without its sign.
func upright(r loft.Range) loft.Range {
	return loft.RangeOf(math.Abs(r.Low), math.Abs(r.High))
}

// force tells a force, or from which to which it may be.
func force(r loft.Range) string {
	low, high := decimals(r.Low, 1), decimals(r.High, 1)
	if low == high {
		return high + " N"
	}
	return tongue.T("%s to %s N", low, high)
}

// Text writes how the strip lies let go and held, and what follows.
func (a Hold) Text(w io.Writer) error {
	p := &page{w: w}
	p.layer(a.Layer)
	switch wide, thick := decimals(a.Width, -1), decimals(a.Thickness, -1); {
	case a.Line > 0:
		p.line("A straight strip %s mm wide and %s mm thick, sprung over the frames along line %d%s.", wide, thick, a.Line, a.wood())
	case a.Strake == "":
		p.line("A straight strip %s mm wide and %s mm thick, sprung over the frames along an unstressed line%s.", wide, thick, a.wood())
	default:
		p.line("A straight strip %s mm wide and %s mm thick, sprung over the frames along strake %s%s.", wide, thick, a.Strake, a.wood())
	}
	p.gap()
	for _, s := range a.Told {
		p.line("%s", s)
	}
	a.LetGo.rows(p, tongue.T("Held at %s, and let go at the others", strings.Join(a.LetGo.Held, ", ")), a.Modulus != nil)
	a.Lies.rows(p, tongue.T("Held so that it lies within %s mm at every frame", decimals(a.Within, -1)), a.Modulus != nil)
	a.steps(p)
	p.gap()
	for _, w := range a.Woods {
		p.line("%s: %s.", w.Name, said(sourceWords, w.Source))
	}
	p.line(benchCaution)
	p.line(SpringCaution)
	p.line("Lengths in mm, forces in N. Lifts off: from frame to strip, in the frame's plane. Strays: down the frame from the line.")
	p.line("Press: on the strip where you hold it; bears: the load on the frame; side: along the frame, positive downwards.")
	p.line("Assumed: no friction, frames that do not give, and 0.1 mm of play at every hold but the three nearest amidships.")
	return p.err
}

// wood tells the strip's modulus of elasticity.
func (a Hold) wood() string {
	if a.Modulus == nil {
		return tongue.T("; its wood is not known")
	}
	figure := decimals(a.Modulus.Least, -1)
	if most := decimals(a.Modulus.Most, -1); most != figure {
		figure = tongue.T("%s to %s", figure, most)
	}
	if len(a.Woods) == 0 {
		return tongue.T(", of wood with a modulus of elasticity of %s GPa", figure)
	}
	return tongue.T(", of %s with a modulus of elasticity of %s GPa", either(a.woodNames()), figure)
}

func (a Hold) woodNames() []string {
	var out []string
	for _, w := range a.Woods {
		out = append(out, w.Name)
	}
	return out
}

// rows writes the strip at every frame.
func (s HoldState) rows(p *page, title string, forces bool) {
	p.gap()
	p.line("%s:", title)
	if !s.Rests {
		p.line("It does not stay, but springs out from between its holds.")
		return
	}
	t := table{head: heads("frame", "held", "lifts off", "strays", "press", "bears", tongue.In("force", "side"))}
	for _, at := range s.At {
		held := ""
		if at.Held {
			held = tongue.T("held")
		}
		short := tongue.T("short")
		row := []string{at.Frame, held, short, short}
		if at.LiftOff != nil {
			row[2], row[3] = mm(*at.LiftOff), mm(*at.Stray)
		}
		for _, f := range []*Newtons{at.Press, at.Bears, at.Side} {
			row = append(row, newtonsWord(f, forces))
		}
		t.rows = append(t.rows, row)
	}
	p.table(t)
}

// newtonsWord tells a force by its greater figure, blank for none; a dash where it is
// not known.
func newtonsWord(f *Newtons, known bool) string {
	switch {
	case !known || f == nil:
		return "-"
	case math.Abs(f.Most) >= math.Abs(f.Least) && !nought(f.Most, 2):
		return decimals(f.Most, 2)
	case !nought(f.Least, 2):
		return decimals(f.Least, 2)
	}
	return ""
}

// steps writes the states from the first contact to the last.
func (a Hold) steps(p *page) {
	if len(a.Steps) == 0 {
		return
	}
	p.gap()
	p.line("Pressed on from amidships outwards:")
	t := table{head: heads("holds", "last", "most off", tongue.In("frame", "at"), "strain", "bends")}
	seen := map[string]bool{}
	for _, s := range a.Steps {
		var last []string
		for _, f := range s.Held {
			if !seen[f] {
				last = append(last, f)
				seen[f] = true
			}
		}
		off, at := 0.0, ""
		for _, f := range s.At {
			if f.LiftOff != nil && *f.LiftOff > off {
				off, at = *f.LiftOff, f.Frame
			}
		}
		row := []string{fmt.Sprint(len(s.Held)), strings.Join(last, ", "), mm(off), at, percent(s.Strain), said(howWords, loft.How(s.Bends))}
		if !s.Rests {
			row = []string{row[0], row[1], tongue.T("springs out"), "", "", ""}
		}
		t.rows = append(t.rows, row)
	}
	p.table(t)
}
