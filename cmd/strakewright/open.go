package main

import (
	"errors"
	"os"
	"runtime"

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
	return window.Run(s)
}

func (c *openCmd) session() (*app.Session, error) {
	if c.File == "" {
		return app.NewDemo()
	}
	return app.Open(c.File)
}
