package answer

import (
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Verdict is what a figure of a strake or a line means for its wood and strip.
type Verdict struct {
	Kind   string  `json:"kind"`  // lies, springs, soak, heat, spile or block
	Cause  string  `json:"cause"` // edge, bend, twist or width
	Figure float64 `json:"figure"`
	Limit  float64 `json:"limit"`
	Frame  string  `json:"frame"`
	Says   string  `json:"says"`
}

// verdictOf puts one into words; nil of what is not known.
func verdictOf(v loft.Verdict, frame func(int) string) *Verdict {
	if v.Kind == "" {
		return nil
	}
	exact := func(x float64) float64 { return math.Round(x*1e9) / 1e9 }
	return &Verdict{string(v.Kind), string(v.Cause), exact(v.Figure), exact(v.Limit), frame(v.Frame), VerdictText(v, frame)}
}

// verdictTerm is how a kind of verdict is told everywhere: in window, shell and paper.
type verdictTerm struct {
	mark string // its shape, so that it is not told by colour alone; what is cut and carved is marked as the drawings hatch it
	word string // in a table, and at the start of a sentence about the strip
	over string // tells the limit that was passed
}

// limitText tells a limit of which there is only one.
var limitText = tongue.Mark("limit %s")

var verdictTerms = map[loft.VerdictKind]verdictTerm{
	loft.LiesByItself: {"✓", tongue.Mark("lies by itself"), limitText},
	loft.SpringsDry:   {"⌒", tongue.Mark("springs dry"), limitText},
	loft.NeedsSoaking: {"≈", tongue.Mark("soak"), tongue.Mark("dry limit %s")},
	loft.NeedsHeat:    {"≋", tongue.Mark("soak and heat"), tongue.Mark("soaked limit %s")},
	loft.NeedsSheet:   {"╱", tongue.Mark("cut to shape"), limitText},
	loft.NeedsBlock:   {"╳", tongue.Mark("carve"), tongue.Mark("heated limit %s")},
}

// unknownVerdict stands for the verdict on a hull whose shape is not known.
var unknownVerdict = verdictTerm{"?", tongue.Mark("not known"), limitText}

func termOf(kind loft.VerdictKind) verdictTerm {
	if t, ok := verdictTerms[kind]; ok {
		return t
	}
	return unknownVerdict
}

// VerdictMark is the sign of a kind of verdict.
func VerdictMark(kind loft.VerdictKind) string { return termOf(kind).mark }

// VerdictWord names a kind of verdict; a dash of what is not known.
func VerdictWord(kind loft.VerdictKind) string {
	if t, ok := verdictTerms[kind]; ok {
		return tongue.T(t.word)
	}
	return "-"
}

// verdictFigures name what is judged.
var verdictFigures = map[loft.ModeReason]string{
	loft.ByEdge:  tongue.Mark("edge-set"),
	loft.ByBend:  tongue.Mark("face strain"),
	loft.ByTwist: tongue.Mark("twist"),
}

// VerdictText says what is to be done, then by what figure, at which frame and by
// which limit, as "cut to shape: 0.52 % edge-set at frame D (limit 0.30 %)".
func VerdictText(v loft.Verdict, frame func(int) string) string {
	if v.Kind == "" {
		return tongue.T("not known: this needs the hull's shape")
	}
	return VerdictWord(v.Kind) + ": " + VerdictFigure(v, frame)
}

// VerdictFigure is the figure behind a verdict; nothing where none is known.
func VerdictFigure(v loft.Verdict, frame func(int) string) string {
	switch {
	case v.Kind == "":
		return ""
	case v.Cause == loft.ByWidth:
		return tongue.T("%.2f times as wide as its strip at frame %s", v.Figure, frame(v.Frame))
	}
	over := limitText
	if v.Cause == loft.ByBend {
		over = termOf(v.Kind).over
	}
	text, limit := percent(v.Figure)+" "+tongue.T(verdictFigures[v.Cause]), tongue.T(over, percent(v.Limit))
	if v.Kind == loft.LiesByItself { // it is much the same everywhere
		return tongue.T("%s (%s)", text, limit)
	}
	return tongue.T("%s at frame %s (%s)", text, frame(v.Frame), limit)
}

// modeWord names how a strake is made, as plans and JSON do.
func modeWord(m hull.Mode) string {
	if m == "" {
		return string(hull.Sprung)
	}
	return string(m)
}

// SaidMode is the word of modeWord, said to a reader.
func SaidMode(m hull.Mode) string { return said(modeWords, modeWord(m)) }

// modeDeeds say how a strake is made.
var modeDeeds = map[hull.Mode]string{hull.Sprung: tongue.Mark("sprung from a strip"), hull.Spiled: tongue.Mark("cut to shape from sheet"), hull.Block: tongue.Mark("carved from a block")}

// MakingText says how a strake is made and why.
func MakingText(m loft.Making, frame func(int) string) string {
	by := VerdictText(m.Verdict, frame)
	if m.Reason == loft.ByChoice {
		return tongue.T("%s, as you chose; the rules say %s", tongue.T(modeDeeds[m.Mode]), by)
	}
	return by
}

// MakingWord says in a word or two how a strake is made: the verdict, or what the
// builder chose.
func MakingWord(m loft.Making) string {
	if m.Reason == loft.ByChoice {
		return tongue.T("%s, as you chose", tongue.T(modeDeeds[m.Mode]))
	}
	return VerdictWord(m.Verdict.Kind)
}

// FormText says round what a strip is bent at its tightest, as "round a 57 mm
// tin"; "" of one that is flat, and of a bend so wide that no form is made for it.
// The diameter is that of the form under the strip's inner face.
func FormText(diameter float64, u Units) string {
	const rod, tin, widest = 30, 200, 1000 // mm
	if diameter <= 0 || diameter > widest {
		return ""
	}
	size := told(u, roundedForm(diameter, u), 0)
	an := spokenWithAn(size)
	switch {
	case diameter < rod && an:
		return tongue.T("round an %s rod", size)
	case diameter < rod:
		return tongue.T("round a %s rod", size)
	case diameter <= tin && an:
		return tongue.T("round an %s tin", size)
	case diameter <= tin:
		return tongue.T("round a %s tin", size)
	case an:
		return tongue.T("round an %s form", size)
	}
	return tongue.T("round a %s form", size)
}

// roundedForm is a diameter as a builder looks for one: to a millimetre, to five
// over a hundred and to ten over three hundred; in another unit to an eighth of
// an inch.
func roundedForm(mm float64, u Units) float64 {
	step := 1.0
	switch {
	case u.Name() != millimetres:
		step = mmPerInch / 8
	case mm > 300:
		step = 10
	case mm > 100:
		step = 5
	}
	return math.Max(math.Round(mm/step), 1) * step
}

// spokenWithAn tells a number that in English is spoken with "an" before it.
func spokenWithAn(number string) bool {
	whole, _, _ := strings.Cut(strings.Fields(number)[0], ".")
	return strings.HasPrefix(whole, "8") || whole == "11" || whole == "18"
}

// percent writes a strain.
func percent(strain float64) string { return decimals(100*strain, 2) + " %" }

var originWords = map[loft.LimitOrigin]string{
	loft.OfBuilder: tongue.Mark("the rule you set"),
	loft.OfWood:    tongue.Mark("from the figures for this wood"),
	loft.OfRatio:   tongue.Mark("a rule of thumb beside the dry limit"),
	loft.OfUsual:   tongue.Mark("a rule of thumb for any wood"),
}

// Limits tell how far the wood of a layer bends.
type Limits struct {
	Layer   int            `json:"layer"` // from 1
	Species string         `json:"species"`
	Woods   []WoodBending  `json:"woods"` // of those that the species names, the ones whose bending is known
	Limits  []BendingLimit `json:"limits"`

	text string // the same in a sentence
}

// BendingLimit is one of the three limits.
type BendingLimit struct {
	How    string  `json:"how"`    // dry, soaked or heated
	Strain float64 `json:"strain"` // of the faces, a ratio
	Origin string  `json:"origin"` // builder, wood, ratio or usual
}

// WoodBending is a wood's own figures, with their source.
type WoodBending struct {
	Wood      string  `json:"wood"`
	Rupture   float64 `json:"rupture_mpa,omitempty"`
	Stiffness float64 `json:"stiffness_gpa,omitempty"`
	Soaked    float64 `json:"soaked,omitempty"`
	Heated    float64 `json:"heated,omitempty"`
	Unbroken  float64 `json:"unbroken_percent,omitempty"`
	Source    string  `json:"source"`
}

// limitsOf gives them for every layer of a plan.
func limitsOf(p *hull.Plan) []Limits {
	out := []Limits{}
	for i := range p.Layers {
		species := p.Layers[i].Stock.Species
		b := loft.BendingOf(p, species)
		l := Limits{Layer: i + 1, Species: species, Woods: []WoodBending{}, Limits: []BendingLimit{
			{string(loft.Dry), tidy(b.Dry), string(b.DryFrom)},
			{string(loft.Soaked), tidy(b.Soaked), string(b.SoakedFrom)},
			{string(loft.Heated), tidy(b.Hot), string(b.HotFrom)},
		}, text: LimitsText(b)}
		for _, w := range b.Woods {
			l.Woods = append(l.Woods, WoodBending{w.Name, w.Rupture, w.Stiffness, w.Soaked, w.Heated, w.Unbroken, w.Bending})
		}
		out = append(out, l)
	}
	return out
}

// LimitsText tells in one sentence how far a wood bends, and by whose word.
func LimitsText(b loft.Bending) string {
	var names []string
	for _, w := range b.Woods {
		names = append(names, w.Name)
	}
	wood := tongue.T("Strips of this wood")
	if len(names) > 0 {
		wood = capital(both(names))
	}
	text := tongue.T("%s: bent dry up to %s of strain in its faces (%s), soaked up to %s (%s), heated up to %s (%s); over that it is carved.", wood,
		percent(b.Dry), tongue.T(originWords[b.DryFrom]), percent(b.Soaked), tongue.T(originWords[b.SoakedFrom]), percent(b.Hot), tongue.T(originWords[b.HotFrom]))
	for _, w := range b.Woods {
		if w.Unbroken > 0 && w.Unbroken < 50 {
			text += tongue.T(" In steam bending tests of %s only %s pieces in a hundred came out whole: try an offcut first.", w.Name, decimals(w.Unbroken, -1))
		}
	}
	return text
}
