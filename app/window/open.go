package window

import (
	"context"
	"path/filepath"

	"strakewright/app"
	"strakewright/app/trace"
	"strakewright/hull"
)

// open asks for a plan or hull source and opens it, after asking about changes.
func (d *desk) open() {
	d.askFirst("open another plan", func() { d.askFile(d.folder(), openable, d.load) })
}

// openable are the endings of what can be opened: plans, tables, drawings, and
// pictures, which go to be traced.
var openable = extensions(append([]string{app.Extension, ".csv", ".txt", ".tsv", ".svg", ".dxf", trace.KeptSuffix}, trace.Endings...)...)

// load opens a file in place of the plan at hand; a picture goes to be traced.
func (d *desk) load(path string) {
	if picture, ok := trace.PictureOf(path); ok {
		d.picture(picture)
		return
	}
	var s *app.Session
	var drawing hull.Checked
	d.work("Opening "+filepath.Base(path)+"…", func(ctx context.Context) (err error) {
		if drawing = hull.CheckFile(path); isDrawing(&drawing) {
			return nil
		}
		s, err = app.OpenContext(ctx, path)
		return err
	}, func() {
		if s == nil {
			d.outlines(path, &drawing)
			return
		}
		d.replace(s)
		d.offerRecovery()
	})
}

// openDemo opens the demo plan.
func (d *desk) openDemo() {
	d.askFirst("open the demo plan", func() {
		s, err := app.NewDemo()
		if err != nil {
			d.say(sentence(err))
			return
		}
		d.replace(s)
	})
}

// export asks for a file and writes the strake table there.
func (d *desk) export() {
	d.settle()
	d.askFileName("Export the strake table", d.fileName()+" strakes.csv", func(path string, replace bool) error {
		if err := d.s.ExportTable(path, replace); err != nil {
			return err
		}
		d.status("Table written to " + path)
		d.tellSaves()
		return nil
	})
}

// lookAt opens the dialog on a drawing when nothing else is asked any more.
func (d *desk) lookAt(path string, c *hull.Checked) {
	open := func() {
		d.askFirst("open the drawing", func() { d.outlines(path, c) })
	}
	if d.offered != nil {
		d.offered.SetOnClosed(open)
		return
	}
	open()
}
