package sight

import (
	"cmp"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"gonum.org/v1/gonum/mat"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// ship is a layer of the hull as it stands in space on the side that is seen.
type ship struct {
	l         *loft.Layer
	thickness float64 // mm, of the layer's planks
	sign      float64 // of y on that side, so that the axes are right-handed
}

// shipOf is the layer of a hull (from 0) on a side. The bow lies at the least x or at
// the greatest, which with z up determines on which side of the keel starboard is.
func shipOf(k *loft.Planking, layer int, side hull.Side) ship {
	s := ship{l: k.Layers[layer], thickness: k.Plan.Layers[layer].Stock.Thickness, sign: 1}
	if (k.Plan.Hull.Bow == hull.BowFirst) != (side == hull.Starboard) {
		s.sign = -1
	}
	return s
}

// across is the ship with its sides exchanged.
func (s ship) across() ship {
	s.sign = -s.sign
	return s
}

// outline is the outline of a frame on a face of the planking.
type outline struct {
	s     ship
	frame int
	out   float64 // mm off the layer's surface, outwards
}

func (s ship) outline(frame int, face Face) outline {
	o := outline{s: s, frame: frame}
	if face == OnPlank {
		o.out = s.thickness
	}
	return o
}

func (o outline) girth() float64 { return o.s.l.Surface.Girth(o.frame) }

// at is the place at a given girth, mm, below the upper limit, continued along the
// tangent past the limits, and the outward normal there.
func (o outline) at(down float64) (p, normal mgl64.Vec3) {
	held := min(max(down, 0), o.girth())
	p, normal = o.s.l.Surface.FaceDown(o.frame, held)
	p = p.Add(normal.Mul(o.out))
	p[1], normal[1] = p[1]*o.s.sign, normal[1]*o.s.sign
	if down != held {
		p = p.Add(o.tangent(held).Mul(down - held))
	}
	return p, normal
}

// tangent is the derivative of the place by the girth.
func (o outline) tangent(down float64) mgl64.Vec3 {
	const step = 0.02 // mm: the places are accurate to 1e-9, and bend by less within it
	lo, hi := max(down-step, 0), min(down+step, o.girth())
	a, _ := o.at(lo)
	b, _ := o.at(hi)
	return b.Sub(a).Mul(1 / (hi - lo))
}

// place is a mark projected back onto an outline.
type place struct {
	down    float64      // mm of girth below the upper limit
	k       mgl64.Vec2   // mm per px: derivative of the girth by the mark
	own     float64      // mm²: the contribution of the mark's own error
	by      *mat.Dense   // px: derivative of the mark by all free parameters
	byPlace mgl64.Mat2x3 // px per mm
	held    bool         // the frame's shift is one of the free parameters
	off     float64      // px: how far the mark lies off the outline
	doubt   Doubt
}

// samples is the number of places along a frame at which a mark is looked for.
const samples = 160

// Limits for accepting a place.
const (
	beyond   = 0.02 // of the girth: how far past its ends an outline is continued straight
	facing   = 0.05 // the least cosine between the normal and the direction to the camera
	offFrame = 1e-3 // the chance that a mark of a frame lies that far off it
	nearly   = 4.0  // squares of standard errors by which one place may fit worse than another and still be meant
)

// sampled is a place of an outline as the camera sees it.
type sampled struct {
	down  float64
	at    mgl64.Vec2
	faces bool    // the camera
	far   float64 // from the mark, in squares of standard errors
}

// sample gives an outline from slightly above its upper end to slightly below its lower
// one, as far as it lies in front of the camera. turned says whether a place must face
// it.
func (t *taken) sample(o outline, turned bool) []sampled {
	shift := mgl64.Vec3{}
	if k, ok := t.a.frames[o.frame]; ok {
		shift = t.shifts[k]
	}
	var out []sampled
	for i := range samples + 1 {
		down := o.girth() * (-beyond + (1+2*beyond)*float64(i)/samples)
		p, n := o.at(down)
		if v, ok := t.see(p.Add(shift)); ok {
			out = append(out, sampled{down: down, at: v.at, faces: !turned || -v.toward.Dot(n) > facing})
		}
	}
	return out
}

// back projects a mark onto an outline: to the place that is seen nearest to it, by the
// errors of the mark and of the camera together. turned says whether places on the far
// side of the hull are to be refused.
func (t *taken) back(m Mark, o outline, turned bool) place {
	seen := t.sample(o, turned)
	if len(seen) == 0 {
		return place{doubt: Hidden}
	}
	near := slices.MinFunc(seen, func(a, b sampled) int { return cmp.Compare(a.at.Sub(m.vec()).Len(), b.at.Sub(m.vec()).Len()) })
	whole, ok := t.errors(m, o, near.down)
	if !ok {
		return place{doubt: Hidden}
	}
	inverse := whole.Inv()
	best, any := -1, 0
	for i := range seen {
		r := seen[i].at.Sub(m.vec())
		seen[i].far = r.Dot(inverse.Mul2x1(r))
		if seen[i].far < seen[any].far {
			any = i
		}
		if seen[i].faces && (best < 0 || seen[i].far < seen[best].far) {
			best = i
		}
	}
	if best < 0 || seen[any].far < reachOf(offFrame, 1) && seen[best].far > seen[any].far+clearly {
		return place{doubt: Hidden}
	}
	out, ok := t.refined(m, o, seen[best].down, inverse)
	if !ok {
		return place{doubt: Hidden}
	}
	if t.again(seen, seen[best].far, &out, o) {
		out.doubt = Twofold
	}
	return out
}

// again reports whether the outline passes a mark nearly as closely at another girth.
func (t *taken) again(seen []sampled, far float64, found *place, o outline) bool {
	wide := 6*math.Sqrt(found.variance(t)) + 2*o.girth()/samples
	for i := 1; i+1 < len(seen); i++ {
		s := seen[i]
		if s.faces && s.far < far+nearly && s.far <= seen[i-1].far && s.far <= seen[i+1].far && math.Abs(s.down-found.down) > wide {
			return true
		}
	}
	return false
}

// errors is the whole covariance of a mark about a place of an outline, px².
func (t *taken) errors(m Mark, o outline, down float64) (mgl64.Mat2, bool) {
	p, _ := o.at(down)
	obs := observed{at: m.vec(), cov: m.cov(), place: p, frame: o.frame}
	v, by, ok := t.a.follow(t.solution, &obs)
	if !ok {
		return mgl64.Mat2{}, false
	}
	_, held := t.a.frames[o.frame]
	c := t.a.spread(&obs, &v, !held).Add(carried(by, by, t.cov))
	return c, c.Det() > 0
}

// refined is the place nearest to a mark in the metric of its errors, starting from one
// close by.
func (t *taken) refined(m Mark, o outline, down float64, inverse mgl64.Mat2) (place, bool) {
	var out place
	_, out.held = t.a.frames[o.frame]
	for range 12 {
		p, _ := o.at(down)
		obs := observed{at: m.vec(), place: p, frame: o.frame}
		v, by, ok := t.a.follow(t.solution, &obs)
		if !ok {
			return out, false
		}
		d := v.byPlace.Mul3x1(o.tangent(min(max(down, 0), o.girth())))
		wd := inverse.Mul2x1(d)
		if !(d.Dot(wd) > 0) {
			return out, false
		}
		out.k, out.by, out.byPlace = wd.Mul(1/d.Dot(wd)), by, v.byPlace
		r := m.vec().Sub(v.at)
		step := out.k.Dot(r)
		rest := r.Sub(d.Mul(step))
		out.off = rest.Len()
		out.doubt = NoDoubt
		if rest.Dot(inverse.Mul2x1(rest)) > reachOf(offFrame, 1) {
			out.doubt = Astray
		}
		down = min(max(down+step, -beyond*o.girth()), (1+beyond)*o.girth())
		if math.Abs(step) < 1e-6 {
			break
		}
	}
	out.down = down
	out.own = out.k.Dot(m.cov().Mul2x1(out.k))
	return out, finite(down)
}

// variance is the variance of the girth of one place, mm².
func (p *place) variance(t *taken) float64 { return t.apart(nil, p) }

// apart is the variance of the girth between two places of one frame, mm²: their own
// errors, and the effect of the camera's and the frame's on both. Without from it is
// that of the girth at to.
func (t *taken) apart(from, to *place) float64 {
	n := t.cov.SymmetricDim()
	row := mat.NewVecDense(n, nil)
	var lean mgl64.Vec3
	v, held := 0.0, true
	for _, end := range []struct {
		p    *place
		sign float64
	}{{from, -1}, {to, 1}} {
		if end.p == nil {
			continue
		}
		v += end.p.own
		held = held && end.p.held
		for j := range n {
			row.SetVec(j, row.AtVec(j)+end.sign*(end.p.k[0]*end.p.by.At(0, j)+end.p.k[1]*end.p.by.At(1, j)))
		}
		lean = lean.Add(end.p.byPlace.Transpose().Mul2x1(end.p.k).Mul(end.sign))
	}
	v += mat.Inner(row, t.cov, row)
	if !held {
		v += t.a.stands * t.a.stands * lean.Dot(lean)
	}
	return v
}
