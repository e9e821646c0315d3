package mesh

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Axis is one of the mesh's own axes: "x", "y" or "z", preceded by "-" for the
// opposite direction; empty where it is to be found.
type Axis string

// index is the axis as an index into a corner, and the sign of its direction; -1
// where it is not given.
func (a Axis) index() (i int, sign float64) {
	sign = 1
	if len(a) == 2 && a[0] == '-' {
		a, sign = a[1:], -1
	}
	switch a {
	case "x":
		return 0, sign
	case "y":
		return 1, sign
	case "z":
		return 2, sign
	}
	return -1, sign
}

// axisNames are the names of the axes by their index.
const axisNames = "xyz"

// Half says which half is used of a mesh with both halves.
type Half int

// What can be used of a mesh with both halves; right is the one of greater y.
const (
	BothHalves Half = iota // their mean
	RightHalf
	LeftHalf
)

// String says which half is used.
func (h Half) String() string {
	return [...]string{tongue.T("their mean"), tongue.T("the right half"), tongue.T("the left half")}[h]
}

// Units are the units that a mesh may be in, by name, in mm.
var Units = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8}

// Options say how a mesh is taken off, except for what is left to be found.
// Stations, Every and From are mm at model size along the mesh's own axis, from its
// own origin.
type Options struct {
	Length   Axis        // along the keel; the longest axis if not given
	Up       Axis        // found from the mesh's shape if not given
	Unit     float64     // mm to a unit of the mesh; 0 for the file's own unit, and mm if it names none
	Scale    float64     // N for a model at 1:N of what the mesh shows; 0 means 1
	Half     Half        // which half is used
	Bow      hull.BowEnd // empty puts it at the least x
	Stations []float64   // where it is sliced
	Every    float64     // or the spacing of the slices
	From     *float64    // where they begin, with Every; otherwise within half the spacing of the end
	Progress func(share float64)
}

// told reports whether anything is said about a mesh.
func (o *Options) told() bool {
	return o.Length != "" || o.Up != "" || o.Unit != 0 || o.Scale != 0 || o.Bow != "" || len(o.Stations) > 0 || o.Every != 0 || o.From != nil
}

// Told reports whether anything is said that concerns only a mesh.
func (o *Options) Told() bool { return o.told() }

// check returns an error on what cannot be meant.
func (o *Options) check() error {
	l, _ := o.Length.index()
	u, _ := o.Up.index()
	switch {
	case o.Length != "" && l < 0, o.Up != "" && u < 0:
		return tongue.Errorf("an axis is x, y or z")
	case l >= 0 && l == u:
		return tongue.Errorf("length and up cannot be the same axis")
	case o.Unit < 0 || o.Scale < 0 || o.Every < 0:
		return tongue.Errorf("unit, scale and spacing are above zero")
	case len(o.Stations) > 0 && o.Every > 0:
		return tongue.Errorf("give stations one by one or by their distance apart, not both")
	case len(o.Stations) == 0 && o.Every == 0 && o.From != nil:
		return tongue.Errorf("the start of the stations goes with their distance apart")
	}
	return nil
}
