package mesh

import (
	"archive/zip"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// Limits of a 3MF.
const (
	largestModel = 1 << 30 // bytes, unpacked
	mostPacked   = 100     // times the packed size: the text of a mesh packs to about a tenth
	deepestPart  = 16      // objects within objects
)

// modelUnits are the units of a 3MF's model in mm (Core Specification 1.3, 3.4).
var modelUnits = map[string]float64{"micron": 0.001, "millimeter": 1, "centimeter": 10, "inch": 25.4, "foot": 304.8, "meter": 1000}

// modelIn is the part of the package that holds the model, or nil. It is in the
// folder 3D (Core Specification 1.3, 2.1.1).
func modelIn(z *zip.Reader) *zip.File {
	var found *zip.File
	for _, f := range z.File {
		name := strings.ToLower(strings.TrimPrefix(f.Name, "/"))
		if !strings.HasSuffix(name, ".model") {
			continue
		}
		if name == "3d/3dmodel.model" || found == nil {
			found = f
		}
	}
	return found
}

// object is an object of a model: a mesh of its own, or several other objects
// together.
type object struct {
	mesh  held
	parts []part
}

// part is an object placed within another, or within the build: rows of a point times the
// matrix, as in the specification.
type part struct {
	object string
	to     [12]float64
}

// model is what is collected from the XML.
type model struct {
	unit    float64
	objects map[string]*object
	build   []part
	corners int
}

func broken(err error) error {
	return fault.Fault{What: tongue.T("the 3MF cannot be read (%s)", err.Error()), Mend: tongue.T("export it again, or as STL")}.Because(err)
}

// read3MF reads a 3MF: everything that its build places. unit is in mm.
func read3MF(ctx context.Context, f *os.File, size int64, progress func(float64)) (h *held, unit float64, err error) {
	z, err := zip.NewReader(f, size)
	if err != nil {
		return nil, 0, broken(err)
	}
	in := modelIn(z)
	if in.UncompressedSize64 > min(largestModel, mostPacked*in.CompressedSize64+1<<20) {
		return nil, 0, fault.Fault{What: tongue.T("it unpacks to %d MB, far more than a mesh of its size would", in.UncompressedSize64>>20), Mend: tongue.T("export it again, or as STL")}
	}
	r, err := in.Open()
	if err != nil {
		return nil, 0, broken(err)
	}
	defer func() { _ = r.Close() }() // only read from
	m := &model{unit: 1, objects: map[string]*object{}}
	bounded := &telling{r: io.LimitReader(r, largestModel), size: int64(min(in.UncompressedSize64, largestModel)), progress: progress}
	if err := m.read(ctx, bounded); err != nil {
		return nil, 0, err
	}
	h = &held{}
	for _, p := range m.build {
		if err := m.put(ctx, h, p, []part{}); err != nil {
			return nil, 0, err
		}
	}
	return h, m.unit, nil
}

// read collects the model.
func (m *model) read(ctx context.Context, r io.Reader) error {
	d := xml.NewDecoder(r)
	var now *object
	for n := 0; ; n++ {
		if n%lookEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		token, err := d.RawToken()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return broken(err)
		}
		e, begins := token.(xml.StartElement)
		if !begins {
			continue
		}
		line, _ := d.InputPos()
		if now, err = m.element(e, now, line); err != nil {
			return err
		}
	}
}

// element takes in an element, and gives the object to which the following ones
// belong.
func (m *model) element(e xml.StartElement, now *object, line int) (*object, error) {
	switch e.Name.Local {
	case "model":
		if u := attribute(e, "unit"); u != "" {
			mm, known := modelUnits[u]
			if !known {
				return nil, fault.Fault{Line: line, What: tongue.T("the unit %s is not one of 3MF's", fault.Name(u)), Mend: tongue.T("write it out in mm")}
			}
			m.unit = mm
		}
	case "object":
		now = &object{}
		m.objects[attribute(e, "id")] = now
	case "vertex":
		if now == nil {
			break
		}
		p, err := cornerOf([]string{attribute(e, "x"), attribute(e, "y"), attribute(e, "z")}, line)
		if err != nil {
			return nil, err
		}
		return now, now.mesh.corner(p)
	case "triangle":
		if now == nil {
			break
		}
		face, err := triangleOf(e, len(now.mesh.corners), line)
		if err != nil {
			return nil, err
		}
		return now, now.mesh.add(face[0], face[1], face[2])
	case "component", "item":
		p, err := partOf(e, line)
		switch {
		case err != nil:
			return nil, err
		case e.Name.Local == "item":
			m.build = append(m.build, p)
		case now != nil:
			now.parts = append(now.parts, p)
		}
	}
	return now, nil
}

// attribute is the attribute with a local name, or empty.
func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func triangleOf(e xml.StartElement, corners, line int) (face [3]int32, err error) {
	for k, name := range []string{"v1", "v2", "v3"} {
		i, err := strconv.Atoi(attribute(e, name))
		if err != nil || i < 0 || i >= corners {
			return face, fault.Fault{Line: line, What: tongue.T("a triangle names corner %s of an object with %d", fault.Name(attribute(e, name)), corners), Mend: tongue.T("export the mesh again")}
		}
		face[k] = int32(i)
	}
	return face, nil
}

func partOf(e xml.StartElement, line int) (part, error) {
	p := part{object: attribute(e, "objectid"), to: [12]float64{0: 1, 4: 1, 8: 1}}
	text := attribute(e, "transform")
	if text == "" {
		return p, nil
	}
	words := strings.Fields(text)
	if len(words) != len(p.to) {
		return p, fault.Fault{Line: line, What: tongue.T("a transform has %d numbers in place of 12", len(words)), Mend: tongue.T("export it again")}
	}
	for k, w := range words {
		v, err := number(w)
		if err != nil {
			return p, fault.Fault{Line: line, What: tongue.T("%s is not a number", fault.Name(w)), Mend: tongue.T("export it again")}
		}
		p.to[k] = v
	}
	return p, nil
}

// put adds an object with everything in it, placed by the enclosing parts, the
// outermost first.
func (m *model) put(ctx context.Context, h *held, p part, round []part) error {
	o, there := m.objects[p.object]
	switch {
	case !there:
		return fault.Fault{What: tongue.T("it names an object %s that its model does not have", fault.Name(p.object)), Mend: tongue.T("export it again in one part, or as STL")}
	case len(round) >= deepestPart:
		return fault.Fault{What: tongue.T("its objects nest too deep"), Mend: tongue.T("export it again, or as STL")}
	case ctx.Err() != nil:
		return ctx.Err()
	}
	round = append(slices.Clip(round), p)
	first := int32(len(h.corners))
	for _, c := range o.mesh.corners {
		for k := len(round) - 1; k >= 0; k-- {
			c = round[k].placed(c)
		}
		if err := h.corner(c); err != nil {
			return err
		}
	}
	for _, t := range o.mesh.triangles {
		if err := h.add(first+t[0], first+t[1], first+t[2]); err != nil {
			return err
		}
	}
	for _, q := range o.parts {
		if m.corners++; m.corners > mostCorners {
			return fault.Fault{What: tongue.T("its objects have too many parts"), Mend: tongue.T("export it again, or as STL")}
		}
		if err := m.put(ctx, h, q, round); err != nil {
			return err
		}
	}
	return nil
}

// placed is where the part puts a point.
func (p *part) placed(c mgl64.Vec3) mgl64.Vec3 {
	m := &p.to
	return mgl64.Vec3{
		c[0]*m[0] + c[1]*m[3] + c[2]*m[6] + m[9],
		c[0]*m[1] + c[1]*m[4] + c[2]*m[7] + m[10],
		c[0]*m[2] + c[1]*m[5] + c[2]*m[8] + m[11],
	}
}
