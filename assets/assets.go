// Package assets holds the files that the program brings along: two demo
// plans, the JSON Schema of the plan file and a table of woods. ABOUT.md tells
// of the vessels.
package assets

import _ "embed"

//go:embed coaster.strakeplan
var demo []byte

//go:embed skiff.strakeplan
var skiff []byte

//go:embed strakeplan.schema.json
var schema []byte

//go:embed wood.json
var wood []byte

// Demo is the plan file of the coasting vessel, which opens without a file. It
// is not to be changed, nor are the others.
func Demo() []byte { return demo }

// Skiff is the plan file of the sharp-ended skiff.
func Skiff() []byte { return skiff }

// Schema is the JSON Schema of the plan file.
func Schema() []byte { return schema }

// Wood is the table of species, for hull.ReadWoods.
func Wood() []byte { return wood }
