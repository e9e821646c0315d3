package main

import (
	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets"
)

type licencesCmd struct{ format }

// Run gives the notices of all that the program is built with.
func (c *licencesCmd) Run(s *streams) error { return c.give(s, answer.LicencesOf(assets.Licences())) }
