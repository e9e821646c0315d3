package scene

import "math"

// chosenShare is how much of a chosen strake's colour is that of choice.
const chosenShare = 0.6

// triangle fills a triangle's pixels in worker k's rows where nothing nearer
// has been drawn. A pixel belongs to it when its middle lies inside.
func (r *Renderer) triangle(t *Triangle, pal *Palette, k int) {
	a, b, c := r.verts[t.A], r.verts[t.B], r.verts[t.C]
	area := (b.x-a.x)*(c.y-a.y) - (c.x-a.x)*(b.y-a.y)
	if area == 0 || area != area {
		return
	}
	w, h := r.img.Rect.Dx(), r.img.Rect.Dy()
	y0, y1 := pixelSpan(min(a.y, b.y, c.y), max(a.y, b.y, c.y), h)
	x0, x1 := pixelSpan(min(a.x, b.x, c.x), max(a.x, b.x, c.x), w)
	if x0 >= x1 || y0 >= y1 {
		return
	}
	if t.Chosen {
		a, b, c = chosen(a, pal), chosen(b, pal), chosen(c, pal)
	}
	g := gradientsOf(a, b, c, area)
	for y := y0; y < y1; y++ {
		if mine(y, k) {
			r.span(t, &g, a, b, c, y, x0, x1)
		}
	}
}

func chosen(v placed, pal *Palette) placed {
	light := (v.r + v.g + v.b) / (float32(pal.Wood.R) + float32(pal.Wood.G) + float32(pal.Wood.B))
	mix := func(old float32, to uint8) float32 {
		return old*(1-chosenShare) + float32(to)*min(light, 1.1)*chosenShare
	}
	v.r, v.g, v.b = mix(v.r, pal.ChosenWood.R), mix(v.g, pal.ChosenWood.G), mix(v.b, pal.ChosenWood.B)
	return v
}

// pixelSpan gives the pixels from first to before last whose middles may lie
// between lo and hi.
func pixelSpan(lo, hi float32, size int) (first, last int) {
	lo, hi = max(lo-0.5, 0), min(hi-0.5, float32(size))
	if !(lo <= hi) {
		return 0, 0
	}
	first, last = int(lo), min(int(hi)+1, size) // neither is below 0, so that int rounds down
	if float32(first) < lo {
		first++
	}
	return first, last
}

// gradients is how depth and colour change from pixel to pixel.
type gradients struct{ zx, zy, rx, ry, gx, gy, bx, by float32 }

func gradientsOf(a, b, c placed, area float32) gradients {
	d1x, d1y, d2x, d2y := b.x-a.x, b.y-a.y, c.x-a.x, c.y-a.y
	slope := func(va, vb, vc float32) (dx, dy float32) {
		d1, d2 := vb-va, vc-va
		return (d1*d2y - d2*d1y) / area, (d2*d1x - d1*d2x) / area
	}
	var g gradients
	g.zx, g.zy = slope(a.z, b.z, c.z)
	g.rx, g.ry = slope(a.r, b.r, c.r)
	g.gx, g.gy = slope(a.g, b.g, c.g)
	g.bx, g.by = slope(a.b, b.b, c.b)
	return g
}

// span fills one row of a triangle.
func (r *Renderer) span(t *Triangle, g *gradients, a, b, c placed, y, x0, x1 int) {
	fy := float32(y) + 0.5
	lo, hi := float32(math.MaxFloat32), float32(-math.MaxFloat32)
	cut := func(p, q placed) {
		if (p.y <= fy) == (q.y <= fy) {
			return
		}
		x := p.x + (q.x-p.x)*(fy-p.y)/(q.y-p.y)
		lo, hi = min(lo, x), max(hi, x)
	}
	cut(a, b)
	cut(b, c)
	cut(c, a)
	first, last := pixelSpan(lo, hi, x1)
	first = max(first, x0)
	if first >= last {
		return
	}
	dx, dy := float32(first)+0.5-a.x, fy-a.y
	z := a.z + g.zx*dx + g.zy*dy
	cr, cg, cb := a.r+g.rx*dx+g.ry*dy, a.g+g.gx*dx+g.gy*dy, a.b+g.bx*dx+g.by*dy
	w := r.img.Rect.Dx()
	depth, tags := r.depth[y*w+first:y*w+last], r.tags[y*w+first:y*w+last]
	pix := r.img.Pix[y*r.img.Stride+4*first : y*r.img.Stride+4*last]
	for i := range depth {
		if z < depth[i] && z >= 0 {
			depth[i], tags[i] = z, t.Tag
			p := pix[4*i : 4*i+4 : 4*i+4]
			p[0], p[1], p[2], p[3] = byteOf(cr), byteOf(cg), byteOf(cb), 0xff
		}
		z += g.zx
		cr += g.rx
		cg += g.gx
		cb += g.bx
	}
}

func byteOf(v float32) uint8 { return uint8(max(0, min(v, 255))) }
