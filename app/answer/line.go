package answer

import (
	"io"
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Lines is the answer of the command line: the course of every band line.
type Lines struct {
	Lines   []BandLine `json:"lines"`
	Runouts []Runout   `json:"runouts"`
	Notes   []string   `json:"notes"`
	Written string     `json:"written,omitempty"` // the plan it was written to, if to any
	Fronts  []Front    `json:"fronts,omitempty"`  // the ways there are, a layer each, where they are asked for

	Bands []BandVerdict `json:"bands"`
}

// BandLine is the line under a band.
type BandLine struct {
	Layer    int      `json:"layer,omitempty"` // from 1; left out where there is but one
	Line     int      `json:"line"`            // from 1, down: the line under the band of that number
	LineType string   `json:"manner"`
	Follows  string   `json:"follows,omitempty"` // "strip" of a line that follows the strip itself; left out for a thin batten
	Hold     string   `json:"hold,omitempty"`    // frame of the hold handle of a free line
	Aim      string   `json:"aim,omitempty"`     // frame of its aim handle; left out for the default heading
	At       []LineAt `json:"at"`
	EdgeSet  *float64 `json:"edge_set_max_per_m"` // nil where the hull has no shape
	Length   float64  `json:"length"`
	Verdict  *Verdict `json:"verdict"` // on a whole strip along it; nil where the hull has no shape

	Strip *NaturalLie `json:"strip,omitempty"` // the lie that it follows, if it does

	StripLies string `json:"strip_lies,omitempty"` // whether the strip lies on it by itself; left out where the hull has no shape
}

// LineAt is a band line at a frame.
type LineAt struct {
	Frame  string   `json:"frame"`
	Down   float64  `json:"down"`
	Held   bool     `json:"held"`    // by its handle there
	LieOff *float64 `json:"lie_off"` // mm downwards from the line to the straight strip; nil where it does not come so far

	StripOff *float64 `json:"strip_off"` // mm downwards from the line to where the strip itself lies; nil where that is not told
}

// Runout tells where a free line leaves the planked region.
type Runout struct {
	Layer int     `json:"layer,omitempty"`
	Line  int     `json:"line"`
	Frame string  `json:"frame"`
	Over  string  `json:"over"` // "upper" or "lower": the limit
	By    float64 `json:"by"`
}

// LinesOf gives the band lines of every layer.
func LinesOf(k *loft.Planking) Lines {
	out := Lines{Lines: []BandLine{}, Runouts: runoutsOf(k), Notes: notes(k)}
	for i, l := range k.Layers {
		for j, drawn := range k.Plan.Layers[i].Lines {
			b := bandLine(k.Plan.Hull.Frames, &drawn, l, j+1)
			b.Layer = layerKey(k, l)
			if n := l.Natural(j + 1); n != nil && drawn.Follows == hull.StripItself {
				strip := NaturalOf(k, n, k.Plan.Layers[i].Stock.Species)
				b.Strip = &strip
			}
			b.Verdict = verdictOf(l.JudgeLine(l.Lines[j+1]), l.Surface.FrameName)
			if !k.Plan.Hull.Shapeless() {
				most := tidy(edgeSetMax(l.Lines[j+1].Line).PerMetre())
				b.EdgeSet = &most
			}
			out.Lines = append(out.Lines, b)
		}
	}
	out.Bands = bandVerdicts(k)
	return out
}

// BandVerdict is the strake of a band that asks for most work, and the verdict on
// it.
type BandVerdict struct {
	Layer   int      `json:"layer,omitempty"`
	Band    int      `json:"band"`
	Strake  string   `json:"strake"`
	Verdict *Verdict `json:"verdict"`
}

// bandVerdicts gives it for every band: beside a line that lies by itself there may
// be strakes that do not.
func bandVerdicts(k *loft.Planking) []BandVerdict {
	out := []BandVerdict{}
	for _, l := range k.Layers {
		for b := range l.Bands {
			if st := l.HardestIn(b); st != nil {
				out = append(out, BandVerdict{layerKey(k, l), b + 1, st.ID, verdictOf(st.Making.Verdict, l.Surface.FrameName)})
			}
		}
	}
	return out
}

func bandLine(frames []hull.Frame, drawn *hull.BandLine, l *loft.Layer, number int) BandLine {
	c := l.Lines[number]
	out := BandLine{
		Line:     number,
		LineType: string(drawn.LineType),
		Follows:  string(drawn.Follows),
		At:       []LineAt{},
		Length:   tidy(c.S[len(c.S)-1]),
	}
	if drawn.LineType == hull.Free {
		out.Hold = frames[drawn.Hold].Name
		if drawn.Aim >= 0 {
			out.Aim = frames[drawn.Aim].Name
		}
	}
	strip := l.StripBeside(number)
	if strip != nil {
		out.StripLies = StripVerdict(strip, l.Surface.FrameName, MM{})
	}
	for i, f := range frames {
		at := LineAt{Frame: f.Name, Down: tidy(c.Down[l.Surface.FrameStation(i)]), Held: held(drawn, i)}
		if c.LieOff != nil && !math.IsNaN(c.LieOff[i]) {
			off := tidy(c.LieOff[i])
			at.LieOff = &off
		}
		if strip != nil && !math.IsNaN(strip.Off[i]) {
			off := tidy(strip.Off[i])
			at.StripOff = &off
		}
		out.At = append(out.At, at)
	}
	return out
}

// held tells whether the handle at a frame sets the course of the line.
func held(b *hull.BandLine, frame int) bool {
	if b.LineType == hull.Free {
		return frame == b.Hold || frame == b.Aim
	}
	return b.Handles[frame].Held
}

// runoutsOf gives every place where a free line leaves the planked region.
func runoutsOf(k *loft.Planking) []Runout {
	out := []Runout{}
	for _, l := range k.Layers {
		for j, b := range l.Lines {
			for _, r := range b.Runouts {
				over := "lower"
				if r.Upper {
					over = "upper"
				}
				out = append(out, Runout{layerKey(k, l), j, k.Plan.Hull.Frames[r.Frame].Name, over, tidy(r.By)})
			}
		}
	}
	return out
}

// Text writes a table a line.
func (a Lines) Text(w io.Writer) error {
	p := &page{w: w}
	for _, f := range a.Fronts {
		f.text(p)
	}
	if len(a.Fronts) > 0 && a.Written == "" {
		return p.err
	}
	if len(a.Lines) == 0 {
		p.line("The plan has one band a layer, so it has no line between bands: ask for more bands with --bands.")
	}
	for _, lines := range byLayer(a.Lines, func(b BandLine) int { return b.Layer }) {
		p.layer(lines[0].Layer)
		for _, b := range lines {
			b.text(p)
		}
	}
	var hardest []string
	for _, b := range a.Bands {
		if b.Verdict != nil {
			text := tongue.T("band %d: strake %s, %s", b.Band, b.Strake, b.Verdict.Says)
			if b.Layer > 1 {
				text = tongue.T("layer %d, band %d: strake %s, %s", b.Layer, b.Band, b.Strake, b.Verdict.Says)
			}
			hardest = append(hardest, text)
		}
	}
	p.list(tongue.T("The hardest strake of each band:"), hardest)
	p.notes(a.Notes)
	if a.Written != "" {
		p.gap()
		p.line("Written to %s.", a.Written)
	}
	return p.err
}

func (b BandLine) text(p *page) {
	p.gap()
	course := LineTypeName(hull.LineType(b.LineType))
	if b.LineType == string(hull.Free) {
		course += followsText(hull.Follows(b.Follows))
	}
	if b.Hold != "" {
		course += tongue.T(", pinned at frame %s", b.Hold)
		if b.Aim != "" {
			course += tongue.T(", pointed through frame %s", b.Aim)
		}
	}
	if b.Verdict != nil {
		p.line("Line under band %d: %s.", b.Line, b.Verdict.Says)
	} else {
		p.line("Line under band %d: %s.", b.Line, VerdictText(loft.Verdict{}, nil))
	}
	sideways := tongue.T("not known")
	if b.EdgeSet != nil {
		sideways = SidewaysBend(*b.EdgeSet)
	}
	p.line("%s; length %s mm; sideways bend (edge-set): %s.", capital(course), mm(b.Length), sideways)
	t := table{head: heads("frame", "down", "lie-off", "strip off", "handle")}
	for _, at := range b.At {
		handle := ""
		if at.Held {
			handle = tongue.T("held")
		}
		t.rows = append(t.rows, []string{at.Frame, mm(at.Down), maybe(at.LieOff), maybe(at.StripOff), handle})
	}
	p.table(t)
	if b.StripLies != "" {
		p.line("%s.", capital(b.StripLies))
	}
	if b.Strip != nil {
		b.Strip.text(p)
	}
}

// LineTypeName is what a type of band line is called.
func LineTypeName(t hull.LineType) string {
	switch t {
	case hull.Free:
		return tongue.T("natural lie")
	case hull.Least:
		return tongue.T("easiest run")
	}
	return tongue.T("through the handles")
}

// SidewaysBend tells an edge-set in 1/m, that of a line where it is greatest.
func SidewaysBend(perMetre float64) string {
	if nought(perMetre, 2) {
		return tongue.In("bend", "none")
	}
	return tongue.T("up to %s 1/m", decimals(math.Abs(perMetre), 2))
}
