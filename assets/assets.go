// Package assets holds the files that the program brings along: two demo
// plans, the JSON Schema of the plan file, a table of woods and the notices of licences. ABOUT.md tells
// of the vessels.
package assets

import (
	"embed"
	"io/fs"
)

//go:embed coaster.strakeplan
var demo []byte

//go:embed skiff.strakeplan
var skiff []byte

//go:embed strakeplan.schema.json
var schema []byte

//go:embed wood.json
var wood []byte

//go:embed licences.txt
var licences string

//go:embed book/*.md book/*.csv book/pictures/*.png book/plans/*.strakeplan
var book embed.FS

//go:embed strakewright.svg
var icon []byte

// Icon is the program's icon, as SVG.
func Icon() []byte { return icon }

// Demo is the plan file of the coasting vessel, which opens without a file. It
// is not to be changed, nor are the others.
func Demo() []byte { return demo }

// Skiff is the plan file of the sharp-ended skiff.
func Skiff() []byte { return skiff }

// Schema is the JSON Schema of the plan file.
func Schema() []byte { return schema }

// Licences is the notices of all modules that the program is built with, and of
// Go, as "go run ./cmd/dev licences" gathers them.
func Licences() string { return licences }

// Wood is the table of species, for hull.ReadWoods.
func Wood() []byte { return wood }

// Book is the picture book: its pages in Markdown, README.md the first, their pictures in
// the folder pictures, and the tables and plans that a reader may begin with.
func Book() fs.FS {
	in, err := fs.Sub(book, "book")
	if err != nil {
		panic(err) // which only a name that is no path gives
	}
	return in
}
