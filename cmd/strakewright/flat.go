package main

import (
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
)

type flatCmd struct {
	format
	planArg
	Strake word `required:"" placeholder:"ID" help:"The strake, as 1.05, or in an outer layer as 2/1.05."`
}

// Run lays a strake flat.
func (c *flatCmd) Run(s *streams) error {
	k, err := c.plank(s)
	if err != nil {
		return err
	}
	layer := layerWith(k, string(c.Strake))
	if layer < 0 {
		return misused("--strake %s: %s has no strake of that ID; they run %s", c.Strake, c.Plan, strakeIDs(k))
	}
	f, err := k.Layers[layer].Flat(string(c.Strake))
	if err != nil {
		return c.faultOf("--strake", err)
	}
	return c.give(s, answer.FlatOf(k, layer, f))
}

// layerWith gives the index of the layer that has a strake of that ID, or -1.
func layerWith(k *loft.Planking, id string) int {
	for i, l := range k.Layers {
		for _, st := range l.Strakes {
			if st.ID == id {
				return i
			}
		}
	}
	return -1
}

// strakeIDs names the first and last strake of every layer.
func strakeIDs(k *loft.Planking) string {
	var out []string
	for _, l := range k.Layers {
		out = append(out, tongue.T("from %s to %s", l.Strakes[0].ID, l.Strakes[len(l.Strakes)-1].ID))
	}
	return strings.Join(out, tongue.T(" and "))
}
