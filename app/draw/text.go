package draw

import (
	"bytes"
	"image"
	"image/color"
	stddraw "image/draw"
	"math"
	"slices"
	"strings"
	"sync"

	shapes "github.com/go-text/typesetting/font"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"github.com/strakewright/strakewright/assets/tongue"
)

// typesetter sets labels and keeps them as masks, because the same few labels
// are drawn again at every move of the mouse. Several renderers may use it at
// once.
type typesetter struct {
	mu    sync.Mutex
	font  *opentype.Font
	own   func() *typeface // the same font, read when a letter is first lacking
	faces map[float64]font.Face
	set   map[setKey]setText
}

type setKey struct {
	text string
	size float64
}

// setText is a label as a mask; base is the left end of its baseline within the
// mask.
type setText struct {
	mask *image.Alpha
	base image.Point
	wide float64
}

// keptTexts is how many set labels and faces are kept before the cache starts
// afresh.
const keptTexts, keptFaces = 400, 40

func newTypesetter(data []byte) (*typesetter, error) {
	f, err := opentype.Parse(data)
	if err != nil {
		return nil, tongue.Errorf("reading the font: %w", err)
	}
	return &typesetter{font: f, own: sync.OnceValue(func() *typeface { return typefaceOf(f, data) }),
		faces: map[float64]font.Face{}, set: map[setKey]setText{}}, nil
}

// typefaceOf reads a font once more, for those who shape letters; runs in it have no width
// before their size is known.
func typefaceOf(f *opentype.Font, data []byte) *typeface {
	t := &typeface{has: func(r rune) bool { return has(f, r) }, width: func(string) float64 { return 0 }}
	t.face, _ = shapes.ParseTTF(bytes.NewReader(data)) // else all that it lacks are squares
	return t
}

func has(f *opentype.Font, r rune) bool {
	var buf sfnt.Buffer
	i, err := f.GlyphIndex(&buf, r)
	return err == nil && i != 0
}

// runs sets a text, as Runs does in the lettering of paper. The letters of other fonts
// alone have widths.
func (t *typesetter) runs(s string) []Run {
	s = legible(s)
	if !strings.ContainsFunc(s, func(r rune) bool { return !has(t.font, r) || accent(r) }) {
		return []Run{{Text: s}}
	}
	return others().set(s, t.own())
}

func (t *typesetter) face(size float64) font.Face {
	if f, ok := t.faces[size]; ok {
		return f
	}
	if len(t.faces) >= keptFaces {
		clear(t.faces)
	}
	f, err := opentype.NewFace(t.font, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingVertical})
	if err != nil {
		return nil
	}
	t.faces[size] = f
	return f
}

func (t *typesetter) text(s string, size float64) setText {
	key := setKey{s, size}
	t.mu.Lock()
	defer t.mu.Unlock()
	if st, ok := t.set[key]; ok {
		return st
	}
	if len(t.set) >= keptTexts {
		clear(t.set)
	}
	st := t.setNew(s, size)
	t.set[key] = st
	return st
}

func (t *typesetter) setNew(s string, size float64) setText {
	face := t.face(size)
	if face == nil {
		return setText{}
	}
	runs, at, wide := t.runs(s), []fixed.Int26_6{}, fixed.Int26_6(0)
	var bounds fixed.Rectangle26_6
	for _, run := range runs {
		b, advance := font.BoundString(face, run.Text)
		if run.Text == "" {
			b, advance = contourBounds(run.Contours, size), fixedOf(run.Width*size)
		}
		bounds = bounds.Union(b.Add(fixed.Point26_6{X: wide}))
		at, wide = append(at, wide), wide+advance
	}
	x0, y0 := bounds.Min.X.Floor(), bounds.Min.Y.Floor()
	w, h := bounds.Max.X.Ceil()-x0, bounds.Max.Y.Ceil()-y0
	st := setText{mask: image.NewAlpha(image.Rect(0, 0, max(w, 1), max(h, 1))), base: image.Pt(-x0, -y0), wide: float64(wide) / 64}
	d := font.Drawer{Dst: st.mask, Src: image.Opaque, Face: face}
	for i, run := range runs {
		d.Dot = fixed.P(-x0, -y0)
		d.Dot.X += at[i]
		d.DrawString(run.Text)
		fillContours(st.mask, run.Contours, float64(d.Dot.X)/64, float64(-y0), size)
	}
	return st
}

func fixedOf(v float64) fixed.Int26_6 { return fixed.Int26_6(math.Round(v * 64)) }

// contourBounds is the box of letters of a size, their base line at 0.
func contourBounds(contours [][]Point, size float64) fixed.Rectangle26_6 {
	if len(contours) == 0 {
		return fixed.Rectangle26_6{}
	}
	b := boxOf(slices.Concat(contours...))
	return fixed.Rectangle26_6{Min: fixed.Point26_6{X: fixedOf(b.x0 * size), Y: fixedOf(b.y0 * size)},
		Max: fixed.Point26_6{X: fixedOf(b.x1 * size), Y: fixedOf(b.y1 * size)}}
}

// fillContours fills letters of a size, their base line beginning at x and y.
func fillContours(mask *image.Alpha, contours [][]Point, x, y, size float64) {
	if len(contours) == 0 {
		return
	}
	ras := vector.NewRasterizer(mask.Rect.Dx(), mask.Rect.Dy())
	for _, c := range contours {
		for i, p := range c {
			px, py := float32(x+p.X*size), float32(y+p.Y*size)
			if i == 0 {
				ras.MoveTo(px, py)
			} else {
				ras.LineTo(px, py)
			}
		}
		ras.ClosePath()
	}
	ras.Draw(mask, mask.Rect, image.Opaque, image.Point{})
}

// draw sets a label on whole pixels, so that it stays crisp.
func (t *typesetter) draw(dst *image.RGBA, l Label, c color.NRGBA, v View) {
	st := t.text(l.Text, math.Round(l.Size*v.Scale*4)/4)
	if st.mask == nil {
		return
	}
	p := v.apply(l.At)
	switch l.Align {
	case Centre:
		p.X -= st.wide / 2
	case Right:
		p.X -= st.wide
	}
	at := image.Pt(clampInt(math.Round(p.X)), clampInt(math.Round(p.Y))).Sub(st.base)
	stddraw.DrawMask(dst, st.mask.Bounds().Add(at), image.NewUniform(c), image.Point{}, st.mask, image.Point{}, stddraw.Over)
}

// Width is the width of a text of the given size, in the unit of the size.
func (r *Pixels) Width(text string, size float64) float64 {
	return r.letters.text(text, math.Round(size*4)/4).wide
}
