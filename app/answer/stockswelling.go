package answer

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// Swelling tells what soaking does to the run of a band's strips.
type Swelling struct {
	Layer    int            `json:"layer,omitempty"` // from 1; left out where there is but one
	Band     int            `json:"band"`
	Strips   int            `json:"strips"`
	Width    float64        `json:"width"` // of one strip as bought
	Species  string         `json:"species"`
	Bought   float64        `json:"moisture_bought_percent"`
	Laid     float64        `json:"moisture_laid_percent"`
	Room     float64        `json:"moisture_room_percent"`
	Creep    float64        `json:"creep"` // mm a strip of dry ones, by the bench record; 0 where it shows none
	Runs     []SwellingRun  `json:"runs"`
	Measured *SwellingShare `json:"measured"`
	Advice   string         `json:"advice"`
}

// SwellingRun is what it does to strips of one grain of one wood.
type SwellingRun struct {
	Wood      string  `json:"wood"`
	Sawn      string  `json:"sawn"`              // quarter or flat
	Total     float64 `json:"shrinkage_percent"` // from green to oven dry
	Swelling  float64 `json:"swelling_percent"`  // as laid against as bought
	StripLaid float64 `json:"strip_laid"`
	RunLaid   float64 `json:"run_laid"`
	StripRoom float64 `json:"strip_room"`
	RunRoom   float64 `json:"run_room"`
	OpensEach float64 `json:"opens_each"` // each seam, when the strips dry
	Source    string  `json:"source"`
}

// SwellingShare is how much of a measured run is swelling and how much loose
// fit.
type SwellingShare struct {
	Run      float64    `json:"run"`
	Over     float64    `json:"over"`
	Percent  float64    `json:"over_percent"`
	Swelling [2]float64 `json:"swelling"`
	Creep    float64    `json:"creep"`
	Loose    [2]float64 `json:"loose"`
	Bracket  bool       `json:"explained"` // swelling and creep alone may account for it
}

// Wetted is what is asked of the swelling of a band; what is 0 is as planned.
type Wetted struct {
	Strips   int
	Width    float64
	Species  string
	Laid     *float64 // moisture as laid, percent; nil for soaked through
	Measured float64  // mm
}

// SwellingOf reckons it for a band (from 0) of a layer, told in units; nil for
// mm. The error says what makes no sense, or that the wood is in no table.
func SwellingOf(k *loft.Planking, layer, band int, ask Wetted, u Units) (Swelling, error) {
	if u == nil {
		u = MM{}
	}
	out, w := swellingAsked(k, layer, band, ask)
	woods := loft.WoodsNamed(out.Species, k.Plan.Woods, hull.UsualWoods())
	if len(woods) == 0 {
		if out.Species == "" {
			return Swelling{}, tongue.Errorf("layer %d names no wood: name the species of its strips", layer+1)
		}
		return Swelling{}, tongue.Errorf("the table of woods has no %q, since it has no published figure for its shrinkage: name one that it has, as birch, or give your own to the plan: in the window under Stock, Wood, or in the file, \"woods\": [{\"name\": %[1]q, \"radial\": …, \"tangential\": …, \"source\": \"…\"}], in percent from green to oven dry", out.Species)
	}
	runs, err := w.Wet(woods)
	if err != nil {
		return Swelling{}, err
	}
	for _, r := range runs {
		out.Runs = append(out.Runs, swellingRun(r))
	}
	if s, ok := w.Share(runs); ok {
		out.Measured = &SwellingShare{
			Run: tidy(w.Measured), Over: tidy(s.Over), Percent: tidy(100 * s.Ratio), Creep: tidy(s.Creep), Bracket: s.Bracket,
			Swelling: [2]float64{tidy(s.Swelling.Low), tidy(s.Swelling.High)}, Loose: [2]float64{tidy(s.Loose.Low), tidy(s.Loose.High)},
		}
	}
	out.Advice = out.advise(u)
	return out, nil
}

// swellingAsked fills what is not told from the plan and its bench record.
func swellingAsked(k *loft.Planking, layer, band int, ask Wetted) (Swelling, loft.Wetting) {
	h, moisture := k.Plan.Layers[layer], k.Plan.Moisture
	if moisture == (hull.Moisture{}) {
		moisture = hull.NewMoisture()
	}
	own := bandStrips(k.Layers[layer], band)
	if ask.Strips == 0 {
		ask.Strips = len(own)
	}
	if ask.Width == 0 && len(own) > 0 { // of a mix, the mean: the run is what counts
		for _, w := range own {
			ask.Width += w / float64(len(own))
		}
	}
	if ask.Species == "" {
		ask.Species = h.Stock.Species
	}
	laid := float64(loft.SoakedThrough)
	if ask.Laid != nil {
		laid = *ask.Laid
	}
	creep := 0.0
	if shown, ok := shownCreep(k, layer, band); ok {
		creep = shown
	}
	w := loft.Wetting{Strips: ask.Strips, Width: ask.Width, Bought: moisture.Bought, Laid: laid, Room: moisture.Room, Measured: ask.Measured, Creep: creep}
	return Swelling{Layer: layerKey(k, k.Layers[layer]), Band: band + 1, Strips: w.Strips, Width: tidy(w.Width), Species: ask.Species,
		Bought: w.Bought, Laid: w.Laid, Room: w.Room, Creep: tidy(creep), Runs: []SwellingRun{}}, w
}

// bandStrips gives the strip of every strake of a band, from 0.
func bandStrips(l *loft.Layer, band int) []float64 {
	var out []float64
	for _, st := range l.Strakes {
		if st.Band == band+1 {
			out = append(out, st.Strip)
		}
	}
	return out
}

// shownCreep is what strips laid dry run over their width in a band, mm a strip,
// as the bench record of either side shows: the mean where both do; false where
// nothing was measured.
func shownCreep(k *loft.Planking, layer, band int) (float64, bool) {
	sum, n := 0.0, 0
	for _, side := range hull.Sides() {
		states, err := progress.Replan(k, layer, k.Plan.Record.Of(side), progress.UsualHabit())
		if err != nil || band >= len(states) || !states[band].Measured {
			continue // a record that does not fit the plan is told of by the command record
		}
		sum, n = sum+k.Plan.Layers[layer].Creep+states[band].Creep, n+1
	}
	if n == 0 {
		return 0, false
	}
	return sum / float64(n), true
}

func swellingRun(r loft.Run) SwellingRun {
	out := SwellingRun{Wood: r.Wood.Name, Sawn: "flat", Total: r.Wood.Tangential, Swelling: tidy(100 * r.Swelling), StripLaid: tidy(r.StripLaid),
		RunLaid: tidy(r.RunLaid), StripRoom: tidy(r.StripRoom), RunRoom: tidy(r.RunRoom), OpensEach: tidy(r.OpensEach), Source: r.Wood.Source}
	if r.Quarter {
		out.Sawn, out.Total = "quarter", r.Wood.Radial
	}
	return out
}

// Bounds are the least and the greatest of a figure over all runs.
func (s Swelling) Bounds(of func(SwellingRun) float64) (low, high float64) {
	for i, r := range s.Runs {
		v := of(r)
		if i == 0 {
			low, high = v, v
		}
		low, high = min(low, v), max(high, v)
	}
	return low, high
}

func (s Swelling) advise(u Units) string {
	low, high := s.Bounds(func(r SwellingRun) float64 { return r.RunLaid })
	text := tongue.T("%d strips of %s, bought at %s %% moisture and laid at %s %%, run %s as quarter-sawn to %s as flat-sawn, where dry they ran %s", s.Strips, u.Length(s.Width),
		decimals(s.Bought, -1), decimals(s.Laid, -1), u.Length(low), u.Length(high), u.Length(float64(s.Strips)*s.Width))
	lo, hi := s.Bounds(func(r SwellingRun) float64 { return r.OpensEach })
	text += tongue.T("; each seam opens by %s to %s as they dry, so let them dry before you glue them", u.Length(lo), u.Length(hi))
	if s.Creep != 0 {
		text += tongue.T("; the bench record shows %s of build-up per strip laid dry", u.Length(s.Creep))
	} else {
		text += tongue.T("; the bench record shows no build-up yet")
	}
	m := s.Measured
	switch {
	case m == nil:
		return text + "."
	case m.Over <= 0:
		return tongue.T("%s. The measured run is no more than that of the dry strips.", text)
	}
	share := tongue.T(". Of the %s (%s %%) measured over that, %s to %s is swelling, %s build-up as the record shows it, and the rest, %s to %s, loose fit", u.Length(m.Over), decimals(m.Percent, 1),
		u.Length(m.Swelling[0]), u.Length(m.Swelling[1]), u.Length(m.Creep), u.Length(m.Loose[0]), u.Length(m.Loose[1]))
	if m.Bracket {
		return tongue.T("%s%s: swelling and build-up may be all of it.", text, share)
	}
	if m.Loose[1] < 0 {
		return tongue.T("%s%s: below zero, so the strips were not soaked through, or were pressed together.", text, share)
	}
	return tongue.T("%s%s: swelling does not explain all of it.", text, share)
}

func (s Swelling) text(p *page) {
	p.gap()
	if s.Layer > 0 {
		p.line("Swelling, band %d of layer %d: %s", s.Band, s.Layer, s.Advice)
	} else {
		p.line("Swelling, band %d: %s", s.Band, s.Advice)
	}
	t := table{head: heads("wood", "sawn", "shrinkage", "swelling", "strip laid", "run laid", "run in the room", "seam opens")}
	for _, r := range s.Runs {
		t.rows = append(t.rows, []string{r.Wood, SawnWord(r.Sawn), decimals(r.Total, 1) + " %", decimals(r.Swelling, 2) + " %", mm(r.StripLaid), mm(r.RunLaid), mm(r.RunRoom), decimals(r.OpensEach, 3)})
	}
	p.table(t)
	for i, r := range s.Runs {
		if i == 0 || r.Source != s.Runs[i-1].Source {
			p.line("Shrinkage: %s.", r.Source)
		}
	}
	p.line("Soaking and steam: risk of burns; keep leads and water apart; follow makers' sheets and local rules.")
}
