package sourcetest

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
)

// Triangles is a mesh.
type Triangles [][3][3]float64

// Shape gives the half-breadth and height of a hull, mm, at a position along it
// and a share of the girth from its lowest point up to the sheer.
type Shape func(x, share float64) (y, z float64)

// Wigley is Wigley's hull (Wigley 1934; y = B/2·(1-(2x/L)²)·(1-(z/T)²), the waterline at
// height T), L = 600, B = 60, T = 37.5 mm.
func Wigley(x, share float64) (y, z float64) {
	return 30 * (1 - x*x/90000) * (1 - (1-share)*(1-share)), 37.5 * share
}

// Skin is a shape as a mesh, open at the top: along parts along it from one x to
// another, and up parts up each side. side is 1 or -1 for a half, 0 for both.
func Skin(s Shape, from, to float64, along, up int, side float64) Triangles {
	var out Triangles
	for _, k := range []float64{1, -1} {
		if side == -k {
			continue
		}
		at := func(i, j int) [3]float64 {
			x := from + (to-from)*float64(i)/float64(along)
			y, z := s(x, float64(j)/float64(up))
			return [3]float64{x, k * y, z}
		}
		for i := range along {
			for j := range up {
				a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
				if k < 0 {
					b, d = d, b
				}
				out = append(out, [3][3]float64{a, b, c}, [3][3]float64{a, c, d})
			}
		}
	}
	return out
}

// Deck is the deck on a shape, from side to side.
func Deck(s Shape, from, to float64, along int, camber float64) Triangles {
	var out Triangles
	at := func(i int, k float64) [3]float64 {
		x := from + (to-from)*float64(i)/float64(along)
		y, z := s(x, 1)
		return [3]float64{x, k * y, z + camber*(1-k*k)}
	}
	for i := range along {
		for _, k := range []float64{-1, 0} {
			a, b, c, d := at(i, k), at(i+1, k), at(i+1, k+1), at(i, k+1)
			out = append(out, [3][3]float64{a, b, c}, [3][3]float64{a, c, d})
		}
	}
	return out
}

// Mapped is the mesh with each corner moved by to.
func (t Triangles) Mapped(to func(p [3]float64) [3]float64) Triangles {
	out := make(Triangles, len(t))
	for i := range t {
		for k := range t[i] {
			out[i][k] = to(t[i][k])
		}
	}
	return out
}

// BinarySTL is the mesh as a binary STL.
func (t Triangles) BinarySTL() []byte {
	b := bytes.NewBuffer(make([]byte, 80, 84+50*len(t)))
	_ = binary.Write(b, binary.LittleEndian, uint32(len(t))) // a buffer accepts everything
	for i := range t {
		var r [50]byte
		for k := range 9 {
			binary.LittleEndian.PutUint32(r[12+4*k:], math.Float32bits(float32(t[i][k/3][k%3])))
		}
		b.Write(r[:])
	}
	return b.Bytes()
}

// TextSTL is the mesh as a text STL.
func (t Triangles) TextSTL() []byte {
	var b bytes.Buffer
	b.WriteString("solid hull\n")
	for i := range t {
		b.WriteString("facet normal 0 0 0\n outer loop\n")
		for _, p := range t[i] {
			fmt.Fprintf(&b, "  vertex %.9g %.9g %.9g\n", p[0], p[1], p[2])
		}
		b.WriteString(" endloop\nendfacet\n")
	}
	b.WriteString("endsolid hull\n")
	return b.Bytes()
}

// numbered gives the corners, each once, and the triangles by their numbers from 0.
func (t Triangles) numbered() (corners [][3]float64, faces [][3]int) {
	seen := map[[3]float64]int{}
	for i := range t {
		var f [3]int
		for k, p := range t[i] {
			n, there := seen[p]
			if !there {
				n = len(corners)
				seen[p], corners = n, append(corners, p)
			}
			f[k] = n
		}
		faces = append(faces, f)
	}
	return corners, faces
}

// OBJ is the mesh as an OBJ.
func (t Triangles) OBJ() []byte {
	var b bytes.Buffer
	corners, faces := t.numbered()
	b.WriteString("# a hull\no hull\n")
	for _, p := range corners {
		fmt.Fprintf(&b, "v %.12g %.12g %.12g\n", p[0], p[1], p[2])
	}
	for _, f := range faces {
		fmt.Fprintf(&b, "f %d//1 %d//1 %d//1\n", f[0]+1, f[1]+1, f[2]+1)
	}
	return b.Bytes()
}

// ThreeMF is the mesh as a 3MF in a unit; the build moves it by a transform, unless that is
// empty.
func (t Triangles) ThreeMF(unit, transform string) []byte {
	var b strings.Builder
	corners, faces := t.numbered()
	fmt.Fprintf(&b, `<?xml version="1.0" encoding="UTF-8"?><model unit="%s" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources><object id="1" type="model"><mesh><vertices>`, unit)
	for _, p := range corners {
		fmt.Fprintf(&b, `<vertex x="%.12g" y="%.12g" z="%.12g"/>`, p[0], p[1], p[2])
	}
	b.WriteString("</vertices><triangles>")
	for _, f := range faces {
		fmt.Fprintf(&b, `<triangle v1="%d" v2="%d" v3="%d"/>`, f[0], f[1], f[2])
	}
	b.WriteString(`</triangles></mesh></object><object id="2" type="model"><components><component objectid="1"/></components></object></resources><build><item objectid="2"`)
	if transform != "" {
		fmt.Fprintf(&b, ` transform="%s"`, transform)
	}
	b.WriteString("/></build></model>")
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	w, err := z.Create("3D/3dmodel.model")
	if err == nil {
		_, err = w.Write([]byte(b.String()))
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		panic(err) // a buffer accepts everything
	}
	return out.Bytes()
}
