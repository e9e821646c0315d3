package draw

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"unicode"

	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/fontscan"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"

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
	text = legible(text)
	if inLettering(text) {
		return []Run{{Text: text, Width: letteredWidth(text)}}
	}
	if r, ok := setRuns.Load(text); ok {
		return r.([]Run)
	}
	r := others().set(text, paperface())
	setRuns.Store(text, r)
	return r
}

// legible gives a text as it is set: with its invisible characters written out, and a letter
// and the accents that follow it as one letter where there is one (Unicode Standard
// Annex 15, form C), which fonts more often have.
func legible(text string) string { return norm.NFC.String(visible.Text(text)) }

// setRuns keeps the runs of texts that are not all in the Lettering: they are few.
var setRuns sync.Map

func inLettering(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return advance(r) == 0 || accent(r) })
}

// accent reports whether a letter is put over, under or through the one before it.
func accent(r rune) bool { return r >= 0x300 && unicode.Is(unicode.Mn, r) }

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
		text = legible(text)
		if inLettering(text) {
			continue
		}
		for _, r := range text {
			if advance(r) == 0 && !others().have(r) && !slices.Contains(out, r) {
				out = append(out, r)
			}
		}
	}
	return string(out)
}

// typeface is the font that texts are set in as far as it has their letters.
type typeface struct {
	face  *font.Face // nil where it cannot be read
	has   func(r rune) bool
	width func(text string) float64 // of letters that it has, in ems
}

// shown gives a text with an open square in place of every letter that it lacks.
func (t *typeface) shown(text string) string {
	return strings.Map(func(r rune) rune {
		if t.has(r) {
			return r
		}
		return '□'
	}, text)
}

// accented gives the letters before accents that it lacks.
func (t *typeface) accented(letters []rune) []rune {
	var out []rune
	for i := 1; i < len(letters); i++ {
		if accent(letters[i]) && !t.has(letters[i]) && !accent(letters[i-1]) {
			out = append(out, letters[i-1])
		}
	}
	return out
}

// paperface is the Lettering.
var paperface = sync.OnceValue(func() *typeface {
	t := &typeface{has: func(r rune) bool { return advance(r) > 0 }, width: letteredWidth}
	t.face, _ = font.ParseTTF(bytes.NewReader(Lettering())) // another reader of fonts has read it already
	return t
})

// fonts are those of this computer, found when a letter is first lacking.
type fonts struct {
	mu     sync.Mutex
	system *fontscan.FontMap
	shaper shaping.HarfbuzzShaper
}

// silent drops what the search for fonts says of those that it cannot read.
type silent struct{}

func (silent) Printf(string, ...any) {}

var others = sync.OnceValue(func() *fonts {
	f := &fonts{}
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

// have reports whether any of them has a letter as an outline.
func (f *fonts) have(r rune) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.find(r) != nil
}

func (f *fonts) find(r rune) *font.Face {
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

// resolver gives segments of a text their face: that of the typeface before others.
type resolver struct {
	own      *typeface
	others   *fonts
	accented []rune // letters set in the font of the accents that follow them
}

// ResolveFace is the face for a letter; the typeface's where none has it.
func (r resolver) ResolveFace(letter rune) *font.Face {
	if !r.own.has(letter) || slices.Contains(r.accented, letter) {
		if face := r.others.find(letter); face != nil {
			return face
		}
	}
	return r.own.face
}

// set sets a text in a typeface, and what that lacks in the fonts of this computer.
func (f *fonts) set(text string, own *typeface) []Run {
	f.mu.Lock()
	defer f.mu.Unlock()
	if own.face == nil {
		text = own.shown(text)
		return []Run{{Text: text, Width: own.width(text)}}
	}
	letters := []rune(text)
	in := shaping.Input{Text: letters, RunEnd: len(letters), Direction: di.DirectionLTR, Size: fixed.I(emUnits)}
	var seg shaping.Segmenter
	parts := inSight(seg.Split(in, resolver{own, f, own.accented(letters)}))
	var out []Run
	x := 0.0
	for _, p := range parts {
		run := Run{X: x}
		if part := letters[p.RunStart:p.RunEnd]; p.Face == own.face && !slices.ContainsFunc(part, accent) {
			run.Text = own.shown(string(part))
			run.Width = own.width(run.Text)
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
