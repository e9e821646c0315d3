package export

import (
	"context"
	"math"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/sheets/paper"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// speaker is a test that fails with words: one of rapid, or of the library.
type speaker interface {
	Helper()
	Context() context.Context
	Fatalf(format string, args ...any)
	Fatal(args ...any)
}

// margin is what a printer leaves blank on each side, mm.
const margin = 8

// TestNothingIsDrawnOffThePaper: over random plans on all papers every line, ground, mark
// and letter of every page lies within what a printer prints on, and each page is used.
func TestNothingIsDrawnOffThePaper(t *testing.T) {
	plans := 0
	const enough = 3 // each is drawn for every paper; with the demo hulls some 2 s of CPU
	rapid.Check(t, func(t *rapid.T) {
		if plans++; plans > enough {
			return
		}
		k, err := loft.Plank(apptest.AnyPlan(t, apptest.AnyBody(t).Hull()))
		if err != nil {
			t.Skip("refused: ", err)
		}
		for _, p := range Papers {
			printable(t, k, p)
		}
	})
}

// TestTheDemoIsLean: on every paper the room of the demo's pages is used, and the booklet (on A3 with cards) takes no more of
// them than the figure; nothing is drawn off any paper.
func TestTheDemoIsLean(t *testing.T) {
	k := apptest.Demo(t, "A")
	for p, most := range map[Paper]int{A4: 30, Letter: 31, Legal: 26, A3: 16, Roll: 4} {
		set := printable(t, k, p)
		if set.Use() < 0.8 {
			t.Errorf("%s: %.0f %% of the pages' room is used", p, 100*set.Use())
		}
		if pages := set.Pages(); pages > most {
			t.Errorf("%s: the booklet takes %d pages", p, pages)
		}
	}
}

// TestASmallBookletIsLean: of one of few pages a badly used last page weighs most. Its sheets alone, without the
// front, cover 4.6 pages of Legal paper and 2.6 of A3 with cards: one page less could not hold them.
func TestASmallBookletIsLean(t *testing.T) {
	p, err := hull.OpenFile(filepath.Join("..", "..", "assets", "skiff.strakeplan"))
	if err != nil {
		t.Fatal(err)
	}
	k, err := loft.Plank(p)
	if err != nil {
		t.Fatal(err)
	}
	for p, least := range map[Paper]struct{ whole, sheets float64 }{A4: {0.85, 0.8}, Letter: {0.8, 0.8}, Legal: {0.8, 0.76}, A3: {0.72, 0.65}, Roll: {0.84, 0.8}} {
		set := printable(t, k, p)
		if set.Use() < least.whole {
			t.Errorf("%s: %.0f %% of the pages' room is used", p, 100*set.Use())
		}
		alone, err := paper.Pages(set.sheets, set.setup)
		if err != nil {
			t.Fatal(err)
		}
		if use := paper.MeanUse(alone); use < least.sheets {
			t.Errorf("%s: %.0f %% of the room is used by the sheets alone", p, 100*use)
		}
	}
}

func printable(t speaker, k *loft.Planking, size Paper) *Set {
	t.Helper()
	s := Usual(k.Plan)
	s.Paper, s.Cards = size, size == A3
	set, err := Make(t.Context(), k, s)
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range set.booklet.Pages {
		for _, it := range p.Drawing.Items {
			from, to := draw.Bounds(it)
			if off := math.Max(math.Max(margin-from.X, margin-from.Y), math.Max(to.X-p.Width+margin, to.Y-p.Height+margin)); off > 1e-6 {
				if l, ok := it.(draw.Label); ok {
					t.Fatalf("%s, page %d, %s: %q stands %.2f mm off what is printed on", size, i+1, p.Title, l.Text, off)
				}
				t.Fatalf("%s, page %d, %s: %T is drawn %.2f mm off what is printed on", size, i+1, p.Title, it, off)
			}
		}
	}
	return set
}
