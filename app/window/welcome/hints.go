package welcome

import (
	"slices"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/assets/tongue"
)

// hint is a piece of advice that is given until the builder has closed it.
type hint struct{ key, head, text string }

// hints are given one at a time, in this order.
var hints = []hint{
	{"handles", tongue.Mark("Drag any handle of a band line"), tongue.Mark("The strakes, the table and the lofted hull follow as you drag, and the short dashes show where a strip would lie by itself. One Undo takes a whole drag back.")},
	{"nearer", tongue.Mark("Look closer"), tongue.Mark("Turn the wheel over a drawing to zoom, drag the paper to move it, and double-click to see the whole again. The hull turns as you drag it.")},
	{"table", tongue.Mark("Read the widths"), tongue.Mark("Each row of the table is a strake, each column a frame: ▾ says that the strip is planed down there, ◂▸ that it is too narrow. Point at a width to read more.")},
	{"problems", tongue.Mark("See what is in the way"), tongue.Mark("The Problems tab, at the left, lists what needs your attention. When it is empty, the planking can be laid as it is drawn.")},
	{"next", tongue.Mark("From the screen to the bench"), tongue.Mark("Compare strips… helps you choose the wood, Ctrl+P draws everything full size on paper, and the Bench tab goes with you while you plank.")},
}

// closedKey keeps which hints are closed for good.
const closedKey = "hints.closed"

func closedHints(p fyne.Preferences) []string { return p.StringList(closedKey) }

// nextHint is the first that is not closed, and its number; nil where all are.
func nextHint(p fyne.Preferences) (h *hint, number int) {
	closed := closedHints(p)
	for i := range hints {
		if !slices.Contains(closed, hints[i].key) {
			return &hints[i], i + 1
		}
	}
	return nil, 0
}

// closeHint closes one for good.
func closeHint(p fyne.Preferences, h *hint) {
	p.SetStringList(closedKey, append(slices.Clone(closedHints(p)), h.key))
}

// closeHints closes all for good.
func closeHints(p fyne.Preferences) {
	var all []string
	for _, h := range hints {
		all = append(all, h.key)
	}
	p.SetStringList(closedKey, all)
}
