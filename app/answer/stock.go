package answer

import (
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/plaintext"
	"github.com/strakewright/strakewright/loft"
)

// Stock is the answer of the command stock: kinds of strip side by side, and
// what else was asked of the wood.
type Stock struct {
	Rows     []StockRow  `json:"rows"`
	Advice   []string    `json:"advice"` // one sentence a layer compared
	Mixes    []Mix       `json:"mixes,omitempty"`
	Cutting  []Cutting   `json:"cutting,omitempty"`
	Swelling []Swelling  `json:"swelling,omitempty"`
	Seams    []LayerSeam `json:"seams,omitempty"`
	Figures  []Figure    `json:"figures,omitempty"`
}

// StockRow tells how a layer comes out in strips of one kind.
type StockRow struct {
	Layer         int       `json:"layer,omitempty"` // from 1; left out where there is but one
	Stock         float64   `json:"stock"`
	Thickness     float64   `json:"thickness"`
	Species       string    `json:"species"`
	Strakes       []int     `json:"strakes"` // in each band
	Narrowest     float64   `json:"narrowest"`
	Widest        float64   `json:"widest"`
	Tapered       int       `json:"tapered"`    // strakes
	TaperMost     float64   `json:"taper_most"` // the most that is taken off anywhere
	Wedges        int       `json:"wedges"`     // stealers among them
	Stealers      int       `json:"stealers"`
	Drops         int       `json:"drops"`
	LeftOver      []float64 `json:"left_over"`       // a band's girth less its strips in full width, for each band; below 0 they overrun it
	LeftOverAt    string    `json:"left_over_at"`    // the frame of the hull's greatest girth, where that is
	Creep         []float64 `json:"creep"`           // allowed there
	EdgeStrainMax *float64  `json:"edge_strain_max"` // nil where the hull has no shape, as the next two
	FaceStrainMax *float64  `json:"face_strain_max"`
	How           *string   `json:"how"`         // dry, soaked, heated or carved, by the limits of its wood
	BendDry       float64   `json:"bend_dry"`    // the face strains up to which its wood is bent dry,
	BendSoaked    float64   `json:"bend_soaked"` // soaked,
	BendHot       float64   `json:"bend_hot"`    // and heated
	Sprung        int       `json:"sprung"`      // strakes by how they are made
	Spiled        int       `json:"spiled"`
	Block         int       `json:"block"`
	Shave         float64   `json:"shave_mm2"`       // to plane off, on one side
	Fill          float64   `json:"fill_mm2"`        // of gap, on one side
	Strips        int       `json:"strips"`          // for both sides
	FromBox       int       `json:"strips_from_box"` // of these
	Length        float64   `json:"length"`          // of strake, on both sides
	Waste         float64   `json:"waste"`           // mm of the strips that is not laid
	Cost          *float64  `json:"cost"`            // of those bought; null where a price is not known
	Missing       int       `json:"missing"`         // pieces that no strip or sheet is left for
	Sheets        int       `json:"sheets"`          // sheets for both sides, from the box and bought
}

// StockOf puts the trials of a layer into words.
func StockOf(k *loft.Planking, trials []*Trial) Stock {
	out := Stock{Rows: []StockRow{}, Advice: []string{}}
	for _, t := range trials {
		out.Rows = append(out.Rows, stockRow(k, t))
	}
	if len(trials) > 0 {
		out.Advice = append(out.Advice, TrialAdvice(k, trials, MM{}))
	}
	return out
}

func stockRow(k *loft.Planking, t *Trial) StockRow {
	r := t.Row
	out := StockRow{
		Layer:      layerKey(k, t.Layer),
		Stock:      tidy(r.Stock),
		Thickness:  tidy(r.Thickness),
		Species:    r.Species,
		Strakes:    append([]int{}, r.Strakes...),
		Narrowest:  tidy(r.Narrowest),
		Widest:     tidy(r.Widest),
		Tapered:    r.Tapered,
		TaperMost:  tidy(r.TaperMost),
		Wedges:     r.Wedges,
		Stealers:   r.Stealers,
		Drops:      r.Drops,
		LeftOver:   tidyAll(r.LeftOver),
		LeftOverAt: k.Plan.Hull.Frames[t.Layer.Greatest()].Name,
		Creep:      tidyAll(r.Creep),
		Shave:      tidy(t.Shave),
		Fill:       tidy(t.Fill),
		Strips:     t.Strips(),
		FromBox:    t.FromBox(),
		Length:     tidy(r.Length),
		Waste:      tidy(t.Waste()),
		Missing:    t.Missing(),
		Sheets:     t.Sheets(),
	}
	limits := loft.BendLimitsOf(t.Layer.Rules)
	out.BendDry, out.BendSoaked, out.BendHot = tidy(limits.Dry), tidy(limits.Soaked), tidy(limits.Hot)
	made := t.Made()
	out.Sprung, out.Spiled, out.Block = made[hull.Sprung], made[hull.Spiled], made[hull.Block]
	if !k.Plan.Hull.Shapeless() {
		edge, face, how := math.Round(r.EdgeStrainMax*1e9)/1e9, math.Round(r.FaceStrainMax*1e9)/1e9, string(r.How)
		out.EdgeStrainMax, out.FaceStrainMax, out.How = &edge, &face, &how
	}
	if cost, known := t.Cost(); known {
		cost = tidy(cost)
		out.Cost = &cost
	}
	return out
}

// Text writes, a layer at a time, a table of how the strips fit and one of what
// they cost; then what else was asked.
func (a Stock) Text(w io.Writer) error {
	p := &page{w: w}
	for n, rows := range byLayer(a.Rows, func(r StockRow) int { return r.Layer }) {
		p.layer(rows[0].Layer)
		p.table(fitTable(rows))
		p.table(woodTable(rows))
		if n < len(a.Advice) {
			p.gap()
			p.line("%s", a.Advice[n])
		}
	}
	if len(a.Rows) > 0 {
		p.gap()
		p.line("Lengths in mm; strakes, left over and build-up allowed band by band, down; length, strips, waste and cost for both sides.")
		p.line("%s", leftOverNote(a.Rows[0].LeftOverAt))
	}
	for _, m := range a.Mixes {
		m.text(p)
	}
	for _, s := range a.Seams {
		s.text(p)
	}
	for _, s := range a.Swelling {
		s.text(p)
	}
	for _, c := range a.Cutting {
		c.text(p)
	}
	for _, f := range a.Figures {
		p.gap()
		p.line("%s: %s Source: %s.", f.Name, f.Formula, f.Source)
	}
	return p.err
}

// leftOverNote says what is left over, and at which frame.
func leftOverNote(frame string) string {
	return tongue.T("Left over at frame %s, of the hull's greatest girth: a band's girth less its strakes in strips of full width, side by side; below zero they overrun it by so much, which bevels and tapers take off them; above zero their build-up, a wedge or a strake cut wider fills it.", frame)
}

func (r StockRow) kind() string {
	return strings.TrimSpace(decimals(r.Stock, -1) + " x " + decimals(r.Thickness, -1) + " " + r.Species)
}

func fitTable(rows []StockRow) table {
	t := table{head: heads("strip", "strakes", "narrowest", "widest", "tapered", "taper most", "wedges", "stealers", "drops", "left over", "build-up")}
	for _, r := range rows {
		t.rows = append(t.rows, []string{
			r.kind(), joined(r.Strakes, strconv.Itoa), mm(r.Narrowest), mm(r.Widest), strconv.Itoa(r.Tapered), mm(r.TaperMost),
			strconv.Itoa(r.Wedges), strconv.Itoa(r.Stealers), strconv.Itoa(r.Drops), joined(r.LeftOver, mm), joined(r.Creep, mm),
		})
	}
	return t
}

func woodTable(rows []StockRow) table {
	t := table{head: heads("strip", "edge strain", "face strain", "bent", "dry/soaked/hot %", "sprung", "spiled", "block", "shave cm2", "fill cm2", "strips", tongue.In("strips", "your own"), "length", "waste", "sheets", "cost")}
	for _, r := range rows {
		cost := tongue.T("no price")
		if r.Cost != nil {
			cost = decimals(*r.Cost, 2)
		}
		if r.Missing > 0 {
			cost = tongue.Count(r.Missing, "%d piece lacks its wood", "%d pieces lack their wood", r.Missing)
		}
		t.rows = append(t.rows, []string{
			r.kind(), share(r.EdgeStrainMax, 3), share(r.FaceStrainMax, 2), bentWord(r.How), r.limits(), strconv.Itoa(r.Sprung), strconv.Itoa(r.Spiled), strconv.Itoa(r.Block),
			decimals(r.Shave/100, 1), decimals(r.Fill/100, 1), strconv.Itoa(r.Strips), strconv.Itoa(r.FromBox), decimals(r.Length, 0), decimals(r.Waste, 0), strconv.Itoa(r.Sheets), cost,
		})
	}
	return t
}

// share is a ratio in percent with so many decimals, or a dash where it cannot
// be known.
func share(x *float64, n int) string {
	if x == nil {
		return "-"
	}
	return decimals(100**x, n) + " %"
}

// bentWord says how the hardest bend is made, or a dash where it cannot be told.
func bentWord(how *string) string {
	if how == nil {
		return VerdictWord("")
	}
	return HowWord(loft.How(*how))
}

// limits tells how far its wood bends, in percent.
func (r StockRow) limits() string {
	return decimals(100*r.BendDry, 2) + "/" + decimals(100*r.BendSoaked, 2) + "/" + decimals(100*r.BendHot, 2)
}

// HowWord says what is done with a strip that is bent in a way.
func HowWord(how loft.How) string {
	return VerdictWord(map[loft.How]loft.VerdictKind{loft.Dry: loft.SpringsDry, loft.Soaked: loft.NeedsSoaking, loft.Heated: loft.NeedsHeat, loft.Carved: loft.NeedsBlock}[how])
}

// joined tells several values with commas between them.
func joined[T any](xs []T, tell func(T) string) string {
	var out []string
	for _, x := range xs {
		out = append(out, tell(x))
	}
	return strings.Join(out, ", ")
}

// ReadWidths reads strip widths in mm as "4,5,6", told apart as plaintext.Fields
// does. The error says which is no
// width.
func ReadWidths(s string) ([]float64, error) {
	return readLengths(s, "4,5,6", widthWords, hull.StripWidth)
}

// ReadThicknesses reads strip thicknesses in mm as "0.6,1.5", likewise. The
// error says which is none.
func ReadThicknesses(s string) ([]float64, error) {
	return readLengths(s, "0.6,1.5", thicknessWords, hull.StripThickness)
}

// lengthWords are what is said of a length that is none, and what it is called.
type lengthWords struct{ none, name string }

var (
	widthWords     = lengthWords{tongue.Mark("%q is not a strip width: give them in mm, as %s, %s"), tongue.Mark("a strip's width")}
	thicknessWords = lengthWords{tongue.Mark("%q is not a strip thickness: give them in mm, as %s, %s"), tongue.Mark("a strip's thickness")}
)

func readLengths(s, example string, words lengthWords, within hull.Range) ([]float64, error) {
	items, comma := plaintext.Fields(s)
	var out []float64
	for _, f := range items {
		w, wrong := plaintext.Number(f, comma)
		if wrong != "" && !math.IsInf(w, 0) && !math.IsNaN(w) {
			return nil, tongue.Errorf(words.none, f, example, tongue.T(plaintext.ListRule))
		}
		if err := within.Refuse(tongue.T(words.name), w, " mm"); err != nil {
			return nil, err
		}
		out = append(out, w)
	}
	return out, nil
}

// ReadSpecies reads names of woods with commas between.
func ReadSpecies(s string) []string {
	var out []string
	for f := range strings.SplitSeq(s, ",") {
		if f = strings.TrimSpace(f); f != "" {
			out = append(out, f)
		}
	}
	return out
}
