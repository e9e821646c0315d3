package hull

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
)

// extra holds the keys of an object of a plan file that this version does not
// know, kept to be written back. It never changes once read, so copies of a
// plan share it.
type extra struct {
	values map[string]json.RawMessage // compact
}

// newExtra keeps the remaining values of an object, or returns nil if there are
// none.
func newExtra(left map[string]node) *extra {
	if len(left) == 0 {
		return nil
	}
	e := &extra{values: map[string]json.RawMessage{}}
	for key, n := range left {
		var b bytes.Buffer
		if err := json.Compact(&b, n.raw); err != nil {
			panic(err) // the whole file has been checked to be JSON
		}
		e.values[key] = b.Bytes()
	}
	return e
}

// members gives the kept keys in the order of their names.
func (e *extra) members() object {
	if e == nil {
		return nil
	}
	var o object
	for _, key := range slices.Sorted(maps.Keys(e.values)) {
		o = append(o, member{key, e.values[key]})
	}
	return o
}
