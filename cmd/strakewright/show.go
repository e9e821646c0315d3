package main

import (
	"errors"

	"strakewright/app"
)

// show opens the window on a session.
func show(*app.Session) error { return errors.New("there is no window yet") }
