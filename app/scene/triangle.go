package scene

import "math"

// chosenShare is how much of the choice's colour a chosen strake takes on.
const chosenShare = 0.6

// triangle fills the pixels of a triangle of some vertices, as a map or as wood, in worker k's rows
// where nothing nearer has been drawn. A pixel belongs to it if the pixel's centre lies inside.
func (r *Renderer) triangle(t *Triangle, f *frame, verts []placed, mapped bool, k int) {
	a, b, c := &verts[t.A], &verts[t.B], &verts[t.C]
	area := (b.x-a.x)*(c.y-a.y) - (c.x-a.x)*(b.y-a.y)
	if area == 0 || area != area {
		return
	}
	w, h := r.drawn.Rect.Dx(), r.drawn.Rect.Dy()
	y0, y1 := pixelSpan(min(a.y, b.y, c.y), max(a.y, b.y, c.y), h)
	x0, x1 := pixelSpan(min(a.x, b.x, c.x), max(a.x, b.x, c.x), w)
	if x0 >= x1 || y0 >= y1 || !anyMine(y0, y1, k) {
		return
	}
	if t.Chosen && !mapped {
		ca, cb, cc := chosen(*a, f.pal), chosen(*b, f.pal), chosen(*c, f.pal)
		a, b, c = &ca, &cb, &cc
	}
	g := gradientsOf(a, b, c, area)
	for y := y0; y < y1; y++ {
		if !mine(y, k) {
			continue
		}
		first, last := spanOf(a, b, c, y, x0, x1)
		switch {
		case first >= last:
		case mapped:
			r.mapSpan(t, &g, a, y, first, last)
		default:
			r.span(t, &g, a, y, first, last)
		}
	}
}

// anyMine reports whether any of the rows from y0 to before y1 belongs to
// worker k.
func anyMine(y0, y1, k int) bool {
	return mine(y0, k) || y0/stripRows != (y1-1)/stripRows
}

func chosen(v placed, pal *Palette) placed {
	light := (v.r + v.g + v.b) / (float32(pal.Wood.R) + float32(pal.Wood.G) + float32(pal.Wood.B))
	mix := func(old float32, to uint8) float32 {
		return old*(1-chosenShare) + float32(to)*min(light, 1.1)*chosenShare
	}
	v.r, v.g, v.b = mix(v.r, pal.ChosenWood.R), mix(v.g, pal.ChosenWood.G), mix(v.b, pal.ChosenWood.B)
	return v
}

// pixelSpan gives the pixels from first to before last whose centres may lie
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

// gradients say how depth, colour, place in the grain and tint change from pixel
// to pixel.
type gradients struct{ zx, zy, rx, ry, gx, gy, bx, by, sx, sy, tx, ty, ix, iy float32 }

func gradientsOf(a, b, c *placed, area float32) gradients {
	d1x, d1y, d2x, d2y := (b.x-a.x)/area, (b.y-a.y)/area, (c.x-a.x)/area, (c.y-a.y)/area
	slope := func(va, vb, vc float32) (dx, dy float32) {
		d1, d2 := vb-va, vc-va
		return d1*d2y - d2*d1y, d2*d1x - d1*d2x
	}
	var g gradients
	g.zx, g.zy = slope(a.z, b.z, c.z)
	g.rx, g.ry = slope(a.r, b.r, c.r)
	g.gx, g.gy = slope(a.g, b.g, c.g)
	g.bx, g.by = slope(a.b, b.b, c.b)
	g.sx, g.sy = slope(a.s, b.s, c.s)
	g.tx, g.ty = slope(a.t, b.t, c.t)
	g.ix, g.iy = slope(a.tint, b.tint, c.tint)
	return g
}

// spanOf gives the pixels of row y from first to before last that lie in a triangle.
func spanOf(a, b, c *placed, y, x0, x1 int) (first, last int) {
	fy := float32(y) + 0.5
	lo, hi := float32(math.MaxFloat32), float32(-math.MaxFloat32)
	cut := func(p, q *placed) {
		if (p.y <= fy) == (q.y <= fy) {
			return
		}
		x := p.x + (q.x-p.x)*(fy-p.y)/(q.y-p.y)
		lo, hi = min(lo, x), max(hi, x)
	}
	cut(a, b)
	cut(b, c)
	cut(c, a)
	first, last = pixelSpan(lo, hi, x1)
	return max(first, x0), last
}

// texel is one texel of the grain, in the units in which places are counted
// along a row.
const texel = 1 << 16

// span fills one row of a triangle with wood.
func (r *Renderer) span(t *Triangle, g *gradients, a *placed, y, first, last int) {
	dx, dy := float32(first)+0.5-a.x, float32(y)+0.5-a.y
	z := a.z + g.zx*dx + g.zy*dy
	cr, cg, cb := a.r+g.rx*dx+g.ry*dy, a.g+g.gx*dx+g.gy*dy, a.b+g.bx*dx+g.by*dy
	gs, gt := int64((a.s+g.sx*dx+g.sy*dy)*texel), int64((a.t+g.tx*dx+g.ty*dy)*texel)
	ds, dt := int64(g.sx*texel), int64(g.tx*texel)
	w := r.drawn.Rect.Dx()
	depth, tags := r.deep.depth[y*w+first:y*w+last], r.deep.tags[y*w+first:y*w+last]
	pix := r.drawn.Pix[y*r.drawn.Stride+4*first : y*r.drawn.Stride+4*last]
	for i := range depth {
		if z < depth[i] && z >= 0 {
			depth[i], tags[i] = z, t.Tag
			n := r.grain[(gt>>16&(grainAcross-1))*grainAlong+gs>>16&(grainAlong-1)]
			p := pix[4*i : 4*i+4 : 4*i+4]
			p[0], p[1], p[2], p[3] = byteOf(cr*n), byteOf(cg*n), byteOf(cb*n), 0xff
		}
		z += g.zx
		cr += g.rx
		cg += g.gx
		cb += g.bx
		gs += ds
		gt += dt
	}
}

// mapSpan fills one row of a triangle with the steps of a map.
func (r *Renderer) mapSpan(t *Triangle, g *gradients, a *placed, y, first, last int) {
	dx, dy := float32(first)+0.5-a.x, float32(y)+0.5-a.y
	z, light, tint := a.z+g.zx*dx+g.zy*dy, a.r+g.rx*dx+g.ry*dy, a.tint+g.ix*dx+g.iy*dy
	w := r.drawn.Rect.Dx()
	depth, tags := r.deep.depth[y*w+first:y*w+last], r.deep.tags[y*w+first:y*w+last]
	pix := r.drawn.Pix[y*r.drawn.Stride+4*first : y*r.drawn.Stride+4*last]
	for i := range depth {
		if z < depth[i] && z >= 0 {
			depth[i], tags[i] = z, t.Tag
			p := pix[4*i : 4*i+4 : 4*i+4]
			step := stepOf(float64(tint))
			c := &r.inks.colours[step+Steps]
			if r.inks.hatched(step, first+i, r.top+y) {
				c = &r.inks.hatch[step+Steps]
			}
			p[0], p[1], p[2], p[3] = byteOf(light*c[0]), byteOf(light*c[1]), byteOf(light*c[2]), 0xff
		}
		z += g.zx
		light += g.rx
		tint += g.ix
	}
}

func byteOf(v float32) uint8 { return uint8(max(0, min(v, 255))) }
