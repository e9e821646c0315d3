package mesh

import (
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// Axis is an axis of the mesh's own: "x", "y" or "z", with "-" before it for the
// other way; empty where it is to be found.
type Axis string

// index is the axis as an index of a corner, and the sign of its direction; -1 where
// it is not told.
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

// Half is what is taken of a mesh of both halves.
type Half int

// What can be taken of a mesh of both halves; right is the one of greater y.
const (
	BothHalves Half = iota // their mean
	RightHalf
	LeftHalf
)

// String tells what is taken.
func (h Half) String() string {
	return [...]string{tongue.T("their mean"), tongue.T("the right half"), tongue.T("the left half")}[h]
}

// Units are the units that a mesh may be in, by name, in mm.
var Units = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8}

// Options tell how a mesh is taken off, as far as it is not left to be found.
// Stations, Every and From are mm at model size along the mesh's own axis, from its
// own origin.
type Options struct {
	Length   Axis        // along the keel; the longest if not told
	Up       Axis        // found by the mesh's shape if not told
	Unit     float64     // mm to a unit of the mesh; 0 as the file says, and mm if it does not
	Scale    float64     // N for a model at 1:N of what the mesh shows; 0 is 1
	Half     Half        // what is taken of both halves
	Bow      hull.BowEnd // empty is at the least x
	Stations []float64   // where it is sliced
	Every    float64     // or so far apart
	From     *float64    // beginning there, with Every; else within half of that of the end
	Progress func(share float64)
}

// told tells whether anything is said of a mesh.
func (o *Options) told() bool {
	return o.Length != "" || o.Up != "" || o.Unit != 0 || o.Scale != 0 || o.Bow != "" || len(o.Stations) > 0 || o.Every != 0 || o.From != nil
}

// Told tells whether anything is said that only a mesh can be told.
func (o *Options) Told() bool { return o.told() }

// check gives what cannot be meant.
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
