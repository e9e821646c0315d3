package source

import (
	"context"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/mesh"
)

// Mesh is the kind of a surface of triangles: STL, OBJ, 3MF.
const Mesh Kind = "mesh"

// IsMesh reports whether the file at a path is a mesh, by its contents.
func IsMesh(path string) bool { return mesh.FormatOf(path) != "" }

// CheckMesh is Check for a mesh; the fault of reading that was stopped wraps
// the context's error. Any other file is a fault.
func CheckMesh(ctx context.Context, path string, how mesh.Options) Checked {
	if !IsMesh(path) {
		c := Check(path, drawing.Options{})
		if len(c.Faults) == 0 {
			c.Faults = []fault.Fault{{File: path, What: tongue.T("it is not a mesh, so it takes no stations, axes or unit"), Mend: tongue.T("leave these options out")}}
		}
		return c
	}
	m, faults := mesh.Check(ctx, path, how)
	if m.Format == "" {
		return Checked{Faults: faults}
	}
	return Checked{Kind: Mesh, Hull: &m.Hull, Notes: m.Notes, Faults: faults}
}

// TakeOffMesh is TakeOff for a mesh.
func TakeOffMesh(ctx context.Context, path string, how mesh.Options) (p *hull.Plan, notes []string, err error) {
	c := CheckMesh(ctx, path, how)
	if len(c.Faults) > 0 {
		return nil, nil, c.Faults[0]
	}
	return hull.NewPlan(keep.Title(path), *c.Hull), c.Notes, nil
}

// checkedMesh is Check for a mesh with nothing given about it; of a drawing's
// options only the half applies to it.
func checkedMesh(path string, how drawing.Options) Checked {
	half := how.Half
	how.Half = drawing.BothHalves
	if how != (drawing.Options{}) {
		return Checked{Faults: []fault.Fault{{File: path, What: tongue.T("it is not a drawing, so it takes no drawn scale or table beside it"), Mend: tongue.T("leave these options out")}}}
	}
	return CheckMesh(context.Background(), path, mesh.Options{Half: mesh.Half(half)})
}
