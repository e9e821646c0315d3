package export

import (
	"math"
	"strings"
	"time"

	"github.com/strakewright/strakewright/app/sheets"
	"github.com/strakewright/strakewright/app/sheets/paper"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Paper is what is printed on.
type Paper string

// The papers.
const (
	A4     Paper = "a4"
	A3     Paper = "a3"
	Letter Paper = "letter"
	Legal  Paper = "legal"
	Roll   Paper = "roll"
)

// Papers are all the papers.
var Papers = []Paper{A4, A3, Letter, Legal, Roll}

// bar is the length of the bar on every page that the builder measures, mm.
const bar = 100

// Settings are the builder's choices; Usual gives the defaults. Lengths in mm.
type Settings struct {
	Paper     Paper
	RollWidth float64  // of a roll
	BarX      float64  // measured length of the 100 mm bar across the page
	BarY      float64  // and of the one down the page
	Overhang  float64  // how much longer every strake is cut at its free end
	Layer     int      // from 1; 0 for all
	Blocks    *Blocks  // nil for the usual ones: the bay at either end
	Cards     bool     // a card of figures for every frame as well as its tick strip
	Sections  []string // those of Set.Sections to print and draw; nil for all

	Date time.Time // of the plan, for the sheets to bear; the zero time for none
}

// Usual is everything on A4, from an accurate printer, with the plan's own
// overhang.
func Usual(p *hull.Plan) Settings {
	overhang := p.Cutting.Overhang
	if p.Cutting == (hull.Cutting{}) {
		overhang = hull.NewCutting().Overhang
	}
	return Settings{Paper: A4, RollWidth: 610, BarX: bar, BarY: bar, Overhang: overhang}
}

// Blocks are filler blocks between two frames: evenly spaced sections through
// the hull.
type Blocks struct {
	From, To string // names of frames
	Spacing  float64
}

// Check finds settings that do not suit the plan; the error names the setting.
func (s *Settings) Check(k *loft.Planking) error {
	switch {
	case s.Paper == Roll && !hull.RollWidth.Holds(s.RollWidth):
		return hull.RollWidth.Refuse(tongue.T("the roll's width"), s.RollWidth, " mm")
	case s.Layer < 0 || s.Layer > len(k.Layers):
		return tongue.Errorf("there is no layer %d: the plan has layers 1 to %d", s.Layer, len(k.Layers))
	}
	if err := hull.Overhang.Refuse(tongue.T("the overhang"), s.Overhang, " mm"); err != nil {
		return err
	}
	for _, b := range []float64{s.BarX, s.BarY} {
		if !(math.Abs(b-bar) <= bar/10) {
			return tongue.Errorf("a 100 mm bar of %g mm is more than a printer's error: measure it again, or print without fitting to the page", b)
		}
	}
	return s.Blocks.check(k)
}

// ReadPaper reads the name of a paper.
func ReadPaper(name string) (Paper, error) {
	var names []string
	for _, p := range Papers {
		if strings.EqualFold(name, string(p)) {
			return p, nil
		}
		names = append(names, string(p))
	}
	last := len(names) - 1
	return "", tongue.Errorf("%q is not a paper: choose %s or %s", name, strings.Join(names[:last], ", "), names[last])
}

func (b *Blocks) check(k *loft.Planking) error {
	if b == nil {
		return nil
	}
	h := &k.Plan.Hull
	from, to := h.FrameNamed(b.From), h.FrameNamed(b.To)
	switch {
	case h.Shapeless():
		return tongue.Errorf("filler blocks cannot be drawn: %w", loft.ErrShapeless)
	case from < 0:
		return tongue.Errorf("blocks from frame %s: the plan has no frame of that name", b.From)
	case to < 0:
		return tongue.Errorf("blocks to frame %s: the plan has no frame of that name", b.To)
	case from == to:
		return tongue.Errorf("blocks from frame %s to itself: name two frames", b.From)
	}
	return hull.BlockThickness.Refuse(tongue.T("the thickness of a block"), b.Spacing, " mm")
}

// forSheets are the settings as sheets take them, for what pages hold.
func (s *Settings) forSheets(k *loft.Planking, room paper.Room, cut []*loft.CuttingPlan) sheets.Settings {
	out := sheets.Usual()
	out.Overhang, out.Layer, out.Cards, out.Cut = s.Overhang, s.Layer, s.Cards, cut
	out.Column, out.Wide, out.Long, out.Gap = room.Column, room.Wide, room.Long, room.Gap
	out.MapWidth = min(room.Wide, widestMap)
	if k.Plan.Hull.Shapeless() {
		out.Blocks = []sheets.Block{} // there is nothing to take sections through
	}
	if b := s.Blocks; b != nil {
		from, to := k.Plan.Hull.FrameNamed(b.From), k.Plan.Hull.FrameNamed(b.To)
		out.Blocks = []sheets.Block{{From: min(from, to), To: max(from, to), Spacing: b.Spacing}}
	}
	return out
}

// widestMap is how wide a numbering map is drawn at the most, mm.
const widestMap = 400

// forPaper are the settings as pages of a plan take them.
func (s *Settings) forPaper(p *hull.Plan) paper.Setup {
	size := map[Paper]paper.Size{A4: paper.A4, A3: paper.A3, Letter: paper.Letter, Legal: paper.Legal, Roll: paper.Roll(s.RollWidth)}[s.Paper]
	return paper.Setup{Ship: p.Title, Size: size, PrinterScale: paper.Measured{X: s.BarX, Y: s.BarY},
		Stamp: StampOf(p, s.Date)}
}
