// Package assets holds the files that the program brings along: the two demo
// plans with the tables of points they were taken off, and the JSON Schema of
// the plan file.
package assets

import "embed"

//go:embed *
var files embed.FS

// Demo is the plan file of the coasting vessel, which opens without a file.
func Demo() []byte { return file("coaster.strakeplan") }

// Skiff is the plan file of the sharp-ended skiff.
func Skiff() []byte { return file("skiff.strakeplan") }

// Schema is the JSON Schema of the plan file.
func Schema() []byte { return file("strakeplan.schema.json") }

// file gives an embedded file; nil where it is not there, which the tests of
// this package rule out.
func file(name string) []byte {
	data, err := files.ReadFile(name)
	if err != nil {
		return nil
	}
	return data
}
