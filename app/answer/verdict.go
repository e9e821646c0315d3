package answer

import (
	"fmt"
	"math"
	"strings"

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

var verdictWords = map[loft.VerdictKind]string{
	loft.LiesByItself: "lies by itself",
	loft.SpringsDry:   "springs dry",
	loft.NeedsSoaking: "soak",
	loft.NeedsHeat:    "heat",
	loft.NeedsSheet:   "spile",
	loft.NeedsBlock:   "block",
}

// VerdictWord names a kind of verdict; a dash of what is not known.
func VerdictWord(kind loft.VerdictKind) string {
	if w, ok := verdictWords[kind]; ok {
		return w
	}
	return "-"
}

// verdictDeeds say what is done.
var verdictDeeds = map[loft.VerdictKind]string{
	loft.LiesByItself: "lies by itself",
	loft.SpringsDry:   "springs dry",
	loft.NeedsSoaking: "soak it",
	loft.NeedsHeat:    "soak and heat it",
	loft.NeedsSheet:   "cut from sheet",
	loft.NeedsBlock:   "carved from a block",
}

// verdictFigures name what is judged.
var verdictFigures = map[loft.ModeReason]string{
	loft.ByEdge:  "of edge-set",
	loft.ByBend:  "of strain in its faces",
	loft.ByTwist: "of twist",
}

// limitWords say of which strip a limit of its faces is that is passed.
var limitWords = map[loft.VerdictKind]string{
	loft.NeedsSoaking: " dry",
	loft.NeedsHeat:    " soaked",
	loft.NeedsBlock:   " hot",
}

// VerdictText says what is to be done, by what figure and limit, and at which
// frame, as "cut from sheet: 0.52 % of edge-set where 0.30 % is the limit, at
// frame D".
func VerdictText(v loft.Verdict, frame func(int) string) string {
	if v.Kind == "" {
		return "how it lies needs the hull's shape"
	}
	return verdictDeeds[v.Kind] + ": " + verdictWhy(v, frame)
}

// verdictWhy says by what figure and limit.
func verdictWhy(v loft.Verdict, frame func(int) string) string {
	if v.Cause == loft.ByWidth {
		return fmt.Sprintf("%.2f times as wide as its strip, at frame %s", v.Figure, frame(v.Frame))
	}
	figure := percent(v.Figure) + " " + verdictFigures[v.Cause]
	switch v.Kind {
	case loft.LiesByItself:
		return fmt.Sprintf("%s at the most, and %s is the limit", figure, percent(v.Limit))
	case loft.SpringsDry:
		return fmt.Sprintf("%s at the most, at frame %s, and %s is the limit", figure, frame(v.Frame), percent(v.Limit))
	}
	of := ""
	if v.Cause == loft.ByBend {
		of = limitWords[v.Kind]
	}
	return fmt.Sprintf("%s where %s is the limit%s, at frame %s", figure, percent(v.Limit), of, frame(v.Frame))
}

// ModeWord names how a strake is made.
func ModeWord(m hull.Mode) string {
	if m == "" {
		return string(hull.Sprung)
	}
	return string(m)
}

// modeDeeds say how a strake is made.
var modeDeeds = map[hull.Mode]string{hull.Sprung: "sprung from a strip", hull.Spiled: "cut from sheet", hull.Block: "carved from a block"}

// MakingText says how a strake is made and why.
func MakingText(m loft.Making, frame func(int) string) string {
	by := VerdictText(m.Verdict, frame)
	if m.Reason == loft.ByChoice {
		return modeDeeds[m.Mode] + ", as you chose; by the rules " + by
	}
	return by
}

// FormText says round what a strip is bent at its tightest, as "round a 57 mm
// tin"; "" of one that is flat, and of a bend so wide that no form is made for it.
// The diameter is that of the form under the strip's inner face.
func FormText(diameter float64, u Units) string {
	const rod, tin, widest = 30, 200, 1000 // mm
	if diameter <= 0 || diameter > widest {
		return ""
	}
	what := "form"
	switch {
	case diameter < rod:
		what = "rod"
	case diameter <= tin:
		what = "tin"
	}
	size := told(u, roundedForm(diameter, u), 0)
	return fmt.Sprintf("round %s %s %s", article(size), size, what)
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

// article is that before a number as it is spoken.
func article(number string) string {
	whole, _, _ := strings.Cut(strings.Fields(number)[0], ".")
	if strings.HasPrefix(whole, "8") || whole == "11" || whole == "18" {
		return "an"
	}
	return "a"
}

// percent writes a strain.
func percent(strain float64) string { return decimals(100*strain, 2) + " %" }

var originWords = map[loft.LimitOrigin]string{
	loft.OfBuilder: "the rule you set",
	loft.OfWood:    "from its published figures",
	loft.OfRatio:   "a rule of thumb beside the dry limit",
	loft.OfUsual:   "a rule of thumb for any wood",
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
	wood := "Strips of this wood"
	if len(names) > 0 {
		wood = capital(strings.Join(names, " and "))
	}
	text := fmt.Sprintf("%s: bent dry up to %s of strain in its faces (%s), soaked up to %s (%s), heated up to %s (%s); over that it is carved.", wood,
		percent(b.Dry), originWords[b.DryFrom], percent(b.Soaked), originWords[b.SoakedFrom], percent(b.Hot), originWords[b.HotFrom])
	for _, w := range b.Woods {
		if w.Unbroken > 0 && w.Unbroken < 50 {
			text += fmt.Sprintf(" In steam bending tests of %s only %s pieces in a hundred came out whole: try an offcut first.", w.Name, decimals(w.Unbroken, -1))
		}
	}
	return text
}
