package draw

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/fontscan"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"

	"github.com/strakewright/strakewright/hull/visible"
)

// Run is a stretch of a text in one font, from left to right on paper. Lengths are in
// ems.
type Run struct {
	Text     string    // in the Lettering; "" for letters of another font
	X, Width float64   // from the text's left end
	Contours [][]Point // of those letters, y downwards from the base line, to be filled together by the non-zero winding rule
}

// Runs sets a text: what the Lettering has in it, letters of other scripts as outlines
// of a font of this computer that has them, joined and turned as their script is
// written. What no font has is an open square; Lacking tells it.
func Runs(text string) []Run {
	text = visible.Text(text)
	if inLettering(text) {
		return []Run{{Text: text, Width: letteredWidth(text)}}
	}
	if r, ok := setRuns.Load(text); ok {
		return r.([]Run)
	}
	r := others().set(text)
	setRuns.Store(text, r)
	return r
}

// setRuns keeps the runs of texts that are not all in the Lettering: they are few.
var setRuns sync.Map

func inLettering(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return advance(r) == 0 })
}

func letteredWidth(text string) float64 {
	w := 0.0
	for _, r := range text {
		w += advance(r)
	}
	return w
}

// Lacking gives the letters of texts, each once and in their order, that no font of
// this computer has.
func Lacking(texts ...string) string {
	var out []rune
	for _, text := range texts {
		text = visible.Text(text)
		if inLettering(text) {
			continue
		}
		for _, r := range text {
			if advance(r) == 0 && others().face(r) == nil && !slices.Contains(out, r) {
				out = append(out, r)
			}
		}
	}
	return string(out)
}

// fonts are those of this computer, found when a letter is first lacking.
type fonts struct {
	mu     sync.Mutex
	base   *font.Face // the Lettering
	system *fontscan.FontMap
	shaper shaping.HarfbuzzShaper
}

// silent drops what the search for fonts says of those that it cannot read.
type silent struct{}

func (silent) Printf(string, ...any) {}

var others = sync.OnceValue(func() *fonts {
	f := &fonts{}
	base, err := font.ParseTTF(bytes.NewReader(Lettering()))
	if err != nil {
		return f // it was read by another reader of fonts already
	}
	f.base = base
	system := fontscan.NewFontMap(silent{})
	dir, done := indexFolder()
	defer done()
	if system.UseSystemFonts(dir) == nil {
		system.SetQuery(fontscan.Query{Families: []string{fontscan.SansSerif}})
		f.system = system
	}
	return f
})

// indexFolder is where the search keeps its index of fonts: the user's cache, or a
// folder that goes again where that can't be written to, since the search fails there,
// or is named by a path that begins nowhere.
func indexFolder() (dir string, done func()) {
	if dir, err := os.UserCacheDir(); err == nil && filepath.IsAbs(dir) && os.MkdirAll(dir, 0o700) == nil {
		if f, err := os.CreateTemp(dir, ".strakewright-"); err == nil {
			_ = f.Close()
			_ = os.Remove(f.Name())
			return dir, func() {}
		}
	}
	dir, err := os.MkdirTemp("", "strakewright-fonts-")
	if err != nil {
		return "", func() {}
	}
	return dir, func() { _ = os.RemoveAll(dir) }
}

// face is that which a letter is set in, nil where none has it as an outline.
func (f *fonts) face(r rune) *font.Face {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.find(r)
}

func (f *fonts) find(r rune) *font.Face {
	if f.base == nil || advance(r) > 0 {
		return f.base
	}
	if f.system == nil {
		return nil
	}
	face := f.system.ResolveFace(r)
	if face == nil {
		return nil
	}
	glyph, ok := face.NominalGlyph(r)
	if !ok {
		return nil // ResolveFace gives any face where none has the letter
	}
	if _, ok = face.GlyphData(glyph).(font.GlyphOutline); !ok {
		return nil // a picture
	}
	return face
}

// ResolveFace gives segments of text their face.
func (f *fonts) ResolveFace(r rune) *font.Face {
	if face := f.find(r); face != nil {
		return face
	}
	return f.base
}

func (f *fonts) set(text string) []Run {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.base == nil {
		text = lettered(text)
		return []Run{{Text: text, Width: letteredWidth(text)}}
	}
	letters := []rune(text)
	in := shaping.Input{Text: letters, RunEnd: len(letters), Direction: di.DirectionLTR, Size: fixed.I(emUnits)}
	var seg shaping.Segmenter
	parts := inSight(seg.Split(in, f))
	var out []Run
	x := 0.0
	for _, p := range parts {
		run := Run{X: x}
		if p.Face == f.base {
			run.Text = lettered(string(letters[p.RunStart:p.RunEnd]))
			run.Width = letteredWidth(run.Text)
		} else {
			run.Contours, run.Width = f.outlines(p)
		}
		x += run.Width
		out = append(out, run)
	}
	return out
}

// emUnits is the size that letters are shaped at.
const emUnits = 1000

// inSight turns round what is written from right to left (Unicode Standard Annex 9, rule
// L2, for a line that begins at the left).
func inSight(parts []shaping.Input) []shaping.Input {
	parts = slices.Clone(parts)
	leftward := func(i int) bool { return parts[i].Direction == di.DirectionRTL }
	for i := 0; i < len(parts); i++ {
		j := i
		for j < len(parts) && leftward(j) {
			j++
		}
		slices.Reverse(parts[i:j])
		i = max(i, j-1)
	}
	return parts
}

// outlines shapes letters of one font.
func (f *fonts) outlines(in shaping.Input) (contours [][]Point, width float64) {
	set := f.shaper.Shape(in)
	em := 1 / float64(in.Face.Upem())
	for _, g := range set.Glyphs {
		at := Pt(width+units(g.XOffset), -units(g.YOffset))
		if o, ok := in.Face.GlyphData(g.GlyphID).(font.GlyphOutline); ok {
			contours = append(contours, contoursOf(o, at, em)...)
		}
		width += units(g.XAdvance)
	}
	return contours, width
}

func units(v fixed.Int26_6) float64 { return float64(v) / 64 / emUnits }

// curveSteps are the chords of a curve of an outline: of a quarter of a circle with
// a radius of half an em, they keep within 0.3 % of it.
const curveSteps = 6

// contoursOf flattens an outline, enlarged to the em, at a place.
func contoursOf(o font.GlyphOutline, at Point, em float64) [][]Point {
	var out [][]Point
	point := func(p opentype.SegmentPoint) Point { return Pt(at.X+float64(p.X)*em, at.Y-float64(p.Y)*em) }
	for _, s := range o.Segments {
		if s.Op == opentype.SegmentOpMoveTo || len(out) == 0 {
			out = append(out, []Point{point(s.Args[0])})
			continue
		}
		line := &out[len(out)-1]
		from := (*line)[len(*line)-1]
		switch s.Op {
		case opentype.SegmentOpLineTo:
			*line = append(*line, point(s.Args[0]))
		case opentype.SegmentOpQuadTo:
			c, to := point(s.Args[0]), point(s.Args[1])
			*line = append(*line, bezier(from, between(from, c, 2.0/3), between(to, c, 2.0/3), to)...)
		case opentype.SegmentOpCubeTo:
			*line = append(*line, bezier(from, point(s.Args[0]), point(s.Args[1]), point(s.Args[2]))...)
		}
	}
	return out
}

func between(p, q Point, t float64) Point { return Pt(p.X+(q.X-p.X)*t, p.Y+(q.Y-p.Y)*t) }

// bezier gives points of a cubic Bézier curve, its first left out.
func bezier(a, b, c, d Point) []Point {
	var out []Point
	for i := 1; i <= curveSteps; i++ {
		t := float64(i) / curveSteps
		ab, bc, cd := between(a, b, t), between(b, c, t), between(c, d, t)
		out = append(out, between(between(ab, bc, t), between(bc, cd, t), t))
	}
	return out
}
