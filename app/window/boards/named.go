package boards

import (
	"strings"

	"github.com/strakewright/strakewright/app/scene"
)

// maps are what the hull can show, in the order of its menu.
var maps = []scene.Tinting{scene.Bare, scene.ByEdgeSet, scene.ByFit}

// word is the name of a view or a map as a shell takes it.
func word(name string) string {
	name, _, _ = strings.Cut(name, ",")
	return strings.ReplaceAll(strings.ToLower(name), " ", "-")
}

// Prospects are the named views of the hull, as a shell takes them.
func Prospects() (out []string) {
	for _, p := range prospects {
		out = append(out, word(p.name))
	}
	return out
}

// Maps are what the hull can show, likewise.
func Maps() (out []string) {
	for _, t := range maps {
		out = append(out, word(tintings[t].name))
	}
	return out
}

// LookFrom looks at the hull from one of Prospects, by its place there.
func (w *Drawings) LookFrom(i int) { w.hull.lookFrom(prospects[i].of) }

// Tint shows one of Maps on the hull, by its place there.
func (w *Drawings) Tint(i int) {
	w.hull.tinting = maps[i]
	w.hull.follow()
	w.hull.board.Refresh()
}

// LayStrip lays a strip of what is chosen over the bare frames.
func (w *Drawings) LayStrip() { w.hull.strip.lay() }
