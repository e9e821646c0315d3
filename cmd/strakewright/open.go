package main

import (
	"errors"
	"fmt"
	"os"
	"runtime"
	"strings"

	"strakewright/app"
	"strakewright/app/window"
)

type openCmd struct {
	File string `arg:"" optional:"" help:"A plan or a hull source."`
}

// Run opens the window and stays until it is closed.
func (c *openCmd) Run(*streams) error {
	s, err := c.session()
	if err != nil {
		return err
	}
	if runtime.GOOS == "linux" && os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
		return errors.New("there is no display to open a window on; strakewright --help names the commands that need none")
	}
	return show(s)
}

// show runs the window. The window library panics where the display that is
// named does not answer, and that is the user's to mend.
func show(s *app.Session) (err error) {
	defer func() {
		switch r := recover(); {
		case r == nil:
		case strings.Contains(fmt.Sprint(r), "GLFW library is not initialized"):
			err = fmt.Errorf("the display %q does not answer; strakewright --help names the commands that need none", os.Getenv("DISPLAY"))
		default:
			panic(r)
		}
	}()
	return window.Run(s)
}

func (c *openCmd) session() (*app.Session, error) {
	if c.File == "" {
		return app.NewDemo()
	}
	return app.Open(c.File)
}
