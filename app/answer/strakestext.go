package answer

import (
	"io"
	"slices"
	"strconv"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// framesAcross is how many frames stand side by side in the text.
const framesAcross = 12

// Text writes, a layer at a time, a line a strake, then widths and bevels with
// a row a strake and a column a frame.
func (a Strakes) Text(w io.Writer) error {
	p := &page{w: w}
	for _, strakes := range byLayer(a.Strakes, func(s Strake) int { return s.Layer }) {
		layer := strakes[0].Layer
		p.layer(layer)
		p.table(summary(strakes))
		p.line("Length and face bend radius in mm, edge-set per metre, twist in degrees from end to end.")
		if slices.ContainsFunc(strakes, func(st Strake) bool { return st.Guessed }) {
			p.line("A bend radius with a question mark is a guess: see the notes.")
		}
		p.line(verdictsNote)
		a.verdicts(p, strakes)
		a.matrix(p, tongue.T("Width along the frame, mm: marks the frame."), strakes, func(c Crossing) string { return mm(c.WidthFrame) })
		a.matrix(p, tongue.T("Width to cut, mm: < taper, = whole, > wider than its strip as laid."), strakes, func(c Crossing) string { return mm(c.WidthCut) + mark(c) })
		p.cuts(strakes)
		a.bevels(p, strakes)
		p.wedges(a.Wedges, layer)
		p.drops(a.Drops, layer)
	}
	p.notes(a.Notes)
	if a.Written != "" {
		p.gap()
		p.line("Written to %s.", a.Written)
	}
	return p.err
}

// verdictsNote says what the words of the table mean.
const verdictsNote = "Verdict: what to do with the strip, and at which frame it is hardest. Made: sprung from a strip, spiled (cut to shape from sheet) or carved from a block."

// verdicts tells how each strake is made that is not simply sprung dry, and by
// which limits.
func (a Strakes) verdicts(p *page, strakes []Strake) {
	var out []string
	danger := false
	for _, s := range strakes {
		easy := s.Verdict == nil || s.Verdict.Kind == string(loft.LiesByItself) || s.Verdict.Kind == string(loft.SpringsDry)
		if easy && s.Reason != string(loft.ByChoice) {
			continue
		}
		text := s.ID + ": " + s.making
		if s.BendVerdict != nil && s.BendVerdict.wet() && s.Mode != string(hull.Block) {
			if *s.BendVerdict != *s.Verdict {
				text += "; " + s.BendVerdict.Says
			}
			text += comma(s.form)
		}
		out = append(out, text)
		danger = true
	}
	p.list(tongue.T("Strakes that are more than a strip sprung dry"), out)
	if danger {
		p.line(benchCaution)
	}
	layer := max(strakes[0].Layer, 1)
	if layer <= len(a.Limits) {
		p.gap()
		p.line("%s", a.Limits[layer-1].text)
	}
}

// wet tells whether a strip is bent wet or hot.
func (v Verdict) wet() bool {
	return v.Kind == string(loft.NeedsSoaking) || v.Kind == string(loft.NeedsHeat)
}

// benchCaution stands where it is said that strips are soaked, heated, cut or
// carved.
const benchCaution = "Hot water, steam and irons burn, blades slip, and the dust of some woods harms: use gloves, guards and a mask; makers' sheets and local rules come first."

// mark is the sign of what is done to the strip.
func mark(c Crossing) string {
	switch loft.Action(c.Action) {
	case loft.Taper:
		return "<"
	case loft.Gap:
		return ">"
	}
	return "="
}

func summary(strakes []Strake) table {
	t := table{head: heads("strake", "verdict", "made", tongue.In("frame", "from"), tongue.In("frame", "to"), "length", "edge-set", "bend radius", "twist", "")}
	for _, s := range strakes {
		from, to, last := "", "", ""
		if n := len(s.At); n > 0 {
			from, to = s.At[0].Frame, s.At[n-1].Frame
		}
		if s.Garboard {
			last = tongue.T("garboard")
		}
		t.rows = append(t.rows, []string{s.ID, s.verdict(), said(modeWords, s.Mode), from, to, mm(s.Length), edgeSet(s.EdgeSetMax), s.bend(), s.twist(), last})
	}
	return t
}

// bend is the tightest bend radius in mm, or a dash where it cannot be known.
func (s Strake) bend() string {
	if s.EdgeSetMax == nil {
		return "-"
	}
	if s.Guessed {
		return bend(s.FaceRadiusMin) + "?"
	}
	return bend(s.FaceRadiusMin)
}

// twist is the twist in degrees, or a dash where it cannot be known.
func (s Strake) twist() string {
	if s.Twist == nil {
		return "-"
	}
	return deg(*s.Twist)
}

// verdict is the word of its verdict and the frame, or a dash where it cannot be
// known.
func (s Strake) verdict() string {
	if s.Verdict == nil {
		return VerdictWord("")
	}
	word := VerdictWord(loft.VerdictKind(s.Verdict.Kind))
	if s.Verdict.Kind == string(loft.LiesByItself) {
		return word
	}
	return tongue.In("verdict", "%s at %s", word, s.Verdict.Frame)
}

// edgeSet is an edge-set in 1/m, or a dash where it cannot be known.
func edgeSet(perMetre *float64) string {
	if perMetre == nil {
		return "-"
	}
	return decimals(*perMetre, 3)
}

// matrix writes a cell for every strake at every frame, some frames at a time.
func (a Strakes) matrix(p *page, heading string, strakes []Strake, cell func(Crossing) string) {
	p.gap()
	p.line("%s", heading)
	frames := a.Frames
	for len(frames) > 0 {
		n := min(framesAcross, len(frames))
		t := table{head: append([]string{tongue.T("strake")}, frames[:n]...)}
		for _, s := range strakes {
			row := []string{s.ID}
			for _, f := range frames[:n] {
				row = append(row, s.cell(f, cell))
			}
			t.rows = append(t.rows, row)
		}
		p.table(t)
		frames = frames[n:]
	}
}

func (s Strake) cell(frame string, cell func(Crossing) string) string {
	for _, c := range s.At {
		if c.Frame == frame {
			return cell(c)
		}
	}
	return "."
}

func (p *page) wedges(all []Wedge, layer int) {
	t := table{head: heads("wedge below", tongue.In("frame", "from"), tongue.In("frame", "to"), "length", "width", "")}
	for _, g := range all {
		if g.Layer != layer {
			continue
		}
		name := tongue.T("wedge")
		if g.Stealer {
			name = tongue.T("stealer")
		}
		t.rows = append(t.rows, []string{g.Below, g.From, g.To, mm(g.Length), mm(g.Width), name})
	}
	if len(t.rows) > 0 {
		p.table(t)
	}
}

func (p *page) drops(all []Drop, layer int) {
	var out []string
	for _, d := range all {
		if d.Layer == layer {
			out = append(out, d.text)
		}
	}
	p.list(tongue.T("Drop strakes"), out)
}

// Rows gives the strake table as rows of a CSV file, a heading first: one row
// a strake and frame, with a point as the decimal mark.
func (a Strakes) Rows() [][]string {
	out := [][]string{{"layer", "strake", "band", "number", "frame", "upper_mm", "width_frame_mm", "width_cut_mm", "bevel_upper_deg", "bevel_lower_deg", "action", "gap_mm"}}
	for _, s := range a.Strakes {
		for _, c := range s.At {
			out = append(out, []string{
				strconv.Itoa(max(s.Layer, 1)), s.ID, strconv.Itoa(s.Band), strconv.Itoa(s.Number), c.Frame,
				plain(c.Upper), plain(c.WidthFrame), plain(c.WidthCut), plain(c.BevelUpper), plain(c.BevelLower), c.Action, plain(c.Gap),
			})
		}
	}
	return out
}

// plain is a number with three decimals, as much as a table on the bench bears, with a point as the decimal mark.
func plain(x float64) string { return fixed(x, 3) }
