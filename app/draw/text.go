package draw

import (
	"image"
	"image/color"
	stddraw "image/draw"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"github.com/strakewright/strakewright/assets/tongue"
)

// typesetter sets labels and keeps them as masks, because the same few labels
// are drawn again at every move of the mouse. Several renderers may use it at
// once.
type typesetter struct {
	mu    sync.Mutex
	font  *opentype.Font
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
	return &typesetter{font: f, faces: map[float64]font.Face{}, set: map[setKey]setText{}}, nil
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
	bounds, advance := font.BoundString(face, s)
	x0, y0 := bounds.Min.X.Floor(), bounds.Min.Y.Floor()
	w, h := bounds.Max.X.Ceil()-x0, bounds.Max.Y.Ceil()-y0
	st := setText{mask: image.NewAlpha(image.Rect(0, 0, max(w, 1), max(h, 1))), base: image.Pt(-x0, -y0), wide: float64(advance) / 64}
	d := font.Drawer{Dst: st.mask, Src: image.Opaque, Face: face, Dot: fixed.P(-x0, -y0)}
	d.DrawString(s)
	return st
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
