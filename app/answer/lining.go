package answer

import (
	"slices"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Front is the ways to line off a layer of which none is better than another in all.
type Front struct {
	Layer  int      `json:"layer,omitempty"` // from 1; left out where there is but one
	Now    Lining   `json:"now"`             // as the plan has it
	Plans  []Lining `json:"plans"`           // seven at most, the recommended first
	Advice string   `json:"advice"`
}

// Lining is one way to line a layer off; figures are of one side.
type Lining struct {
	Number   int      `json:"plan,omitempty"` // from 1; left out of the plan as it is
	Strakes  []int    `json:"strakes"`        // of every band, down
	Free     int      `json:"free"`           // the free line, from 1 down; 0 for none
	Others   string   `json:"others,omitempty"`
	Even     bool     `json:"equal_girth"` // bands of equal girth
	All      int      `json:"strakes_in_all"`
	Drops    int      `json:"drops"`
	Wedges   int      `json:"wedges"`
	Forced   *float64 `json:"forced_edge_set"` // mm: edge strain over the limit, summed along the strakes; nil where the hull has no shape
	Greatest *float64 `json:"edge_strain_max"` // a ratio; nil likewise
	Over     int      `json:"strakes_over_limit"`
	Shave    float64  `json:"shave_mm2"`
	Fill     float64  `json:"fill_mm2"`
	Offcuts  float64  `json:"offcuts_mm2"`
	Laying   string   `json:"laying,omitempty"` // what becomes of the order of laying, if it changes
	Warnings []string `json:"warnings"`

	units Units
}

// FrontOf tells the ways that loft.LineOff found for a layer (from 0), with what
// taking each would do to the plan, in units; nil for mm.
func FrontOf(k *loft.Planking, layer int, ways []loft.Lining, u Units) (Front, error) {
	if u == nil {
		u = MM{}
	}
	now, err := k.LiningAsPlanned(layer)
	if err != nil {
		return Front{}, err
	}
	out := Front{Layer: layerKey(k, k.Layers[layer]), Now: liningOf(k, &now, u), Plans: []Lining{}}
	for i := range ways {
		a := liningOf(k, &ways[i], u)
		a.Number, a.Warnings = i+1, liningWarnings(k, layer, &ways[i], u)
		if then := ways[i].Plan.Cutting; then.Laying == hull.Outward && k.Cutting().Laying != hull.Outward {
			a.Laying = tongue.T("Laying now goes outward: %s.", BeginsAt(ways[i].Layer, then))
		}
		out.Plans = append(out.Plans, a)
	}
	if len(out.Plans) > 0 {
		out.Advice = out.advise()
	}
	return out, nil
}

func liningOf(k *loft.Planking, w *loft.Lining, u Units) Lining {
	out := Lining{Strakes: w.Counts, Free: w.Free, Even: w.Even, All: w.Strakes, Drops: w.Drops, Wedges: w.Wedges, Over: w.Sheets,
		Shave: tidy(w.Shave), Fill: tidy(w.Fill), Offcuts: tidy(w.Over), Warnings: []string{}, units: u}
	if len(w.Counts) > 2 || w.Free == 0 && len(w.Counts) > 1 {
		out.Others = string(w.Course)
	}
	if !k.Plan.Hull.Shapeless() {
		forced, most := tidy(w.Forced), tidy(w.EdgeStrainMax)
		out.Forced, out.Greatest = &forced, &most
	}
	return out
}

// Waste is the wood lost, mm2.
func (a Lining) Waste() float64 { return a.Shave + a.Fill + a.Offcuts }

// Bands tells the strakes of the bands, as "9+9+9".
func (a Lining) Bands() string {
	var out []string
	for _, n := range a.Strakes {
		out = append(out, strconv.Itoa(n))
	}
	return strings.Join(out, "+")
}

// othersRun words how the lines run that are not free.
var othersRun = map[loft.Coursing]string{
	loft.Eased:    tongue.Mark("eased"),
	loft.Shared:   tongue.Mark("in proportion"),
	loft.Parallel: tongue.Mark("parallel"),
}

// Lines tells how its lines run, as "line 2 free, others parallel".
func (a Lining) Lines() string {
	others := tongue.T(othersRun[loft.Coursing(a.Others)])
	switch {
	case len(a.Strakes) < 2:
		return tongue.T("no line")
	case a.Number == 0 && a.Free == 0:
		return tongue.T("none free")
	case a.Free == 0:
		return tongue.T("drawn %s", others)
	case others == "":
		return tongue.T("line %d free", a.Free)
	}
	return tongue.T("line %d free, others %s", a.Free, others)
}

// LiningHeads are the headings of the figures of a way to line off.
func LiningHeads() []string {
	return heads("by bands", "strakes", "lines", "drops", "wedges", "forced", "most strain", "over limit", "wood lost")
}

// Cells are its figures under these headings, in the units it was told in.
func (a Lining) Cells() []string {
	forced, most, over := "-", "-", "-"
	if a.Forced != nil {
		forced, most, over = told(a.units, *a.Forced, 2), decimals(*a.Greatest*100, 1)+" %", strconv.Itoa(a.Over)
	}
	return []string{a.Bands(), strconv.Itoa(a.All), a.Lines(), strconv.Itoa(a.Drops), strconv.Itoa(a.Wedges), forced, most, over, a.units.Area(a.Waste())}
}

// Tells is what taking it would do, in a sentence or two.
func (a Lining) Tells(now Lining) string {
	text := tongue.T("Plan %d: %d strakes (now %d), by bands %s; %s; %s and %s (now %d and %d)", a.Number, a.All, now.All, a.Bands(), a.Lines(),
		tongue.Count(a.Drops, "%d drop", "%d drops", a.Drops), tongue.Count(a.Wedges, "%d wedge", "%d wedges", a.Wedges), now.Drops, now.Wedges)
	if a.Forced != nil && now.Forced != nil {
		text += tongue.T("; %s of forced edge-set (now %s)", told(a.units, *a.Forced, 2), told(a.units, *now.Forced, 2))
	}
	return strings.TrimSpace(text + tongue.T("; %s of wood lost on a side: %s planed off, %s of gap, %s of offcuts (now %s). ",
		a.units.Area(a.Waste()), a.units.Area(a.Shave), a.units.Area(a.Fill), a.units.Area(a.Offcuts), a.units.Area(now.Waste())) + a.Laying)
}

// liningWarnings are what the builder should know before a way is taken: what of
// his own it gives up, and what the layer as laid would have noted.
func liningWarnings(k *loft.Planking, layer int, w *loft.Lining, u Units) []string {
	out := []string{}
	was, is := &k.Plan.Layers[layer], &w.Plan.Layers[layer]
	lost := func(what string, has func(hull.Band) bool) {
		for i, b := range was.Bands {
			if has(b) && (i >= len(is.Bands) || !has(is.Bands[i])) {
				out = append(out, what)
				return
			}
		}
	}
	lost(tongue.T("It discards the shares that you set for single strakes."), func(b hull.Band) bool { return len(b.Weights) > 0 })
	lost(tongue.T("It discards the strips that you set for single strakes."), func(b hull.Band) bool { return len(b.Strips) > 0 })
	lost(tongue.T("It discards the ways of making that you set for single strakes."), func(b hull.Band) bool { return len(b.Modes) > 0 })
	if n := recorded(k.Plan, layer+1); n > 0 {
		out = append(out, tongue.Count(n, "The bench record has %d note on this layer, under the present strake numbers: what is glued does not move.",
			"The bench record has %d notes on this layer, under the present strake numbers: what is glued does not move.", n))
	}
	out = append(out, forcedLines(w.Layer)...)
	known := LayerNotes(k.Layers[layer], u)
	for _, n := range w.Layer.Notes {
		if _, creeps := n.(loft.CreepsApart); creeps {
			continue // which whole strips are let do
		}
		if text := NoteText(w.Layer, n, u); !slices.Contains(known, text) {
			out = append(out, text)
		}
	}
	return out
}

// forcedLines tells of each band line along which no strip lies.
func forcedLines(l *loft.Layer) (out []string) {
	for _, p := range forcedProblems(l, 0, "") {
		out = append(out, p.Text)
	}
	return out
}

// recorded is how many entries the record has of a layer, from 1.
func recorded(p *hull.Plan, layer int) int {
	n := 0
	for _, side := range hull.Sides() {
		for _, e := range p.Record.Of(side) {
			if e.Layer == layer {
				n++
			}
		}
	}
	return n
}

// BeginsAt tells where the laying of a layer begins that goes outward.
func BeginsAt(l *loft.Layer, c hull.Cutting) string {
	from := l.LaidFrom(c)
	first := tongue.T("strake %s", l.Strakes[from.Strake].ID)
	switch {
	case from.Line == 0 && from.Named:
		return tongue.T("it begins with %s", first)
	case from.Line == 0:
		return tongue.T("it begins with %s, which has the least edge-set", first)
	case from.Named:
		return tongue.T("it begins under line %d with %s", from.Line, first)
	}
	return tongue.T("it begins under line %d, the freest, with %s", from.Line, first)
}

func (f Front) advise() string {
	best := f.Plans[0]
	text := tongue.T("Each of these is better than any other in strakes, drops with wedges, forced edge-set or wood lost. " +
		"The first is recommended: scaled from 0 for the least found to 1 for the middle one, its four figures have the least sum, or so nearly the least that its more even bands outweigh the difference. ")
	return text + best.Tells(f.Now)
}

// text writes the front as a table.
func (f Front) text(p *page) {
	p.layer(f.Layer)
	t := table{head: append([]string{tongue.In("way", "plan")}, LiningHeads()...)}
	t.rows = append(t.rows, append([]string{tongue.T("now")}, f.Now.Cells()...))
	for _, a := range f.Plans {
		t.rows = append(t.rows, append([]string{strconv.Itoa(a.Number)}, a.Cells()...))
	}
	p.table(t)
	p.gap()
	p.line("%s", f.Advice)
	p.line("Forced: edge strain over the limit, summed along the strakes. Over limit: strakes with any. Wood lost: planed off, gaps that build-up does not close, and offcuts that are stubs, on one side.")
	for _, a := range f.Plans {
		for _, w := range a.Warnings {
			p.line("Plan %d: %s", a.Number, w)
		}
	}
	if f.Layer > 0 {
		p.line("Take one with --layer %d --take N -o PLAN.", f.Layer)
		return
	}
	p.line("Take one with --take N -o PLAN.")
}
