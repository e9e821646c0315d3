package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"strings"

	"github.com/strakewright/strakewright/app"
	"github.com/strakewright/strakewright/app/trace"
	"github.com/strakewright/strakewright/app/window"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/mesh"
	"github.com/strakewright/strakewright/hull/source"
)

type openCmd struct {
	File string `arg:"" optional:"" help:"A plan, a hull source, or a picture to trace."`
}

// Run opens the window and stays until it is closed. A drawing of which something
// is to be said is first looked at there, and a picture is traced. Of a file that
// cannot be opened the window says so, for whoever opened it by its icon sees no
// shell; the shell is told when the window is closed.
func (c *openCmd) Run(m *streams) error {
	s, found, err := c.session(m)
	seen := runtime.GOOS != "linux" || os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
	switch {
	case err != nil && seen:
		return c.refused(err)
	case err != nil:
		return err
	case !seen:
		return tongue.New("there is no display to open a window on; strakewright --help names the commands that need none")
	}
	picture, traced := c.picture()
	return show(func() error {
		switch {
		case found != nil && (found.Drawing != nil || found.Kind == source.Mesh):
			return window.RunOnDrawing(s, c.File, found)
		case found != nil:
			return window.RunOnSource(s, c.File, found)
		case traced:
			return window.RunOnPicture(s, picture)
		case c.File == "":
			return window.RunWelcome(s)
		}
		return window.Run(s)
	})
}

// refused opens the window on the demo plan and says there why the file was not
// opened. That is the error in any case.
func (c *openCmd) refused(why error) error {
	s, err := app.NewDemo()
	if err == nil {
		err = show(func() error { return window.RunInPlaceOf(s, c.File, why) })
	}
	if err != nil {
		return errors.Join(why, err)
	}
	return why
}

// show runs the window. The window library panics where the display that is
// named does not answer, and that is the user's to mend.
func show(run func() error) (err error) {
	defer func() {
		switch r := recover(); {
		case r == nil:
		case strings.Contains(fmt.Sprint(r), "GLFW library is not initialized"):
			err = tongue.Errorf("the display %q does not answer; strakewright --help names the commands that need none", os.Getenv("DISPLAY"))
		default:
			panic(r)
		}
	}()
	return run()
}

// picture gives the file, if it is there and is a picture to be traced on, or the
// tracing of one.
func (c *openCmd) picture() (string, bool) {
	_, ok := trace.PictureOf(c.File)
	_, err := os.Stat(c.File)
	return c.File, ok && err == nil
}

// session opens the file; of a picture it gives the demo plan to go on from. A drawing
// that tells everything is a plan; of one that leaves something to be said, as a mesh
// always does, it gives what was found, and the demo plan to go on from. One in which no
// line was found is at fault. Of another source it gives what was found beside the
// session where this is to be told.
func (c *openCmd) session(m *streams) (*app.Session, *source.Checked, error) {
	if _, traced := c.picture(); traced || c.File == "" {
		s, err := app.NewDemo()
		return s, nil, err
	}
	if source.IsMesh(c.File) {
		return c.mesh(m)
	}
	found := source.Check(c.File, drawing.Options{})
	if d := found.Drawing; d != nil && len(d.Outlines) > 0 && len(found.Faults)+len(found.Notes) > 0 {
		s, err := app.NewDemo()
		return s, &found, err
	}
	s, err := app.Open(c.File)
	if err == nil && found.Kind != source.PlanFile && len(found.Notes) > 0 {
		return s, &found, nil
	}
	return s, nil, err
}

// mesh reads a mesh, of which something is always left to be said; one that cannot be
// read is at fault.
func (c *openCmd) mesh(m *streams) (*app.Session, *source.Checked, error) {
	var found source.Checked
	err := meshFlags{}.slicing(m, drawingFlags{}, func(ctx context.Context, how mesh.Options) error {
		if found = source.CheckMesh(ctx, c.File, how); found.Kind == "" {
			return found.Faults[0]
		}
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	s, err := app.NewDemo()
	return s, &found, err
}
