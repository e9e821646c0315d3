package sheets

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// tabled is as near, mm, as the strake table's figures come to the plan's: they are
// rounded to six decimals, and two of them are added.
const tabled = 2e-6

// TestPaperSaysWhatTheTableSays: over random hulls and plans the marks of the tick
// strips and the rows of the cards are the edges in the strake table, with the wedges
// between them; tapers are drawn of the sprung strakes alone, flat shapes of the others,
// and wedges as they lie.
func TestPaperSaysWhatTheTableSays(t *testing.T) {
	wedges := 0
	rapid.Check(t, func(t *rapid.T) {
		k, err := loft.Plank(apptest.AnyPlan(t, apptest.AnyBody(t).Hull()))
		if err != nil {
			t.Skip("refused: ", err)
		}
		table := answer.StrakesOf(k)
		for f := range k.Layers[0].Girths {
			wedges += paperAt(t, k, &table, f)
		}
		shapesAreOfTheirModes(t, k, &table)
		wedgesAreDrawnAsTheyLie(t, k, &table)
	})
	if wedges == 0 {
		t.Error("no random plan had a wedge")
	}
}

// paperAt checks the strips and the card of a frame, and gives how many wedges lie
// there.
func paperAt(t *rapid.T, k *loft.Planking, table *answer.Strakes, frame int) (wedges int) {
	l := k.Layers[0]
	var names []string
	var edges [][2]float64
	for _, st := range table.Strakes {
		for _, c := range st.At {
			if c.Frame != table.Frames[frame] {
				continue
			}
			if n := len(edges); n > 0 && c.Upper-edges[n-1][1] >= wedgeLeast {
				wedges++
				names, edges = append(names, wedgeName), append(edges, [2]float64{edges[n-1][1], c.Upper})
				if !listsWedge(table, l, frame, names[n-1]) {
					t.Fatalf("between %s and %s are %.3f mm at frame %s, and the table lists no wedge there", names[n-1], st.ID, c.Upper-edges[n-1][1], c.Frame)
				}
			}
			names, edges = append(names, st.ID), append(edges, [2]float64{c.Upper, c.Upper + c.WidthFrame})
		}
	}
	card := markingCard(k, l, frame)
	if len(card.rows) != len(names) {
		t.Fatalf("the card of frame %s has %d rows, not %d", table.Frames[frame], len(card.rows), len(names))
	}
	for i, row := range card.rows {
		if row[0] != names[i] || !reads(row[1], edges[i][0]) || !reads(row[2], edges[i][1]) || !reads(row[3], edges[i][1]-edges[i][0]) {
			t.Fatalf("the card of frame %s has %v, where the table has %s at %v", table.Frames[frame], row, names[i], edges[i])
		}
	}
	stripMarks(t, k, frame, edges, wedges)
	return wedges
}

// listsWedge tells whether the table lists a wedge that lies beneath a strake at a
// frame.
func listsWedge(table *answer.Strakes, l *loft.Layer, frame int, below string) bool {
	for i, w := range table.Wedges {
		if laid := l.Wedges[i].Laid; w.Below == below && laid.First <= frame && frame <= laid.Last {
			return true
		}
	}
	return false
}

// reads tells whether a text is a figure to a hundredth of a mm.
func reads(text string, mm float64) bool {
	var got float64
	_, err := fmt.Sscanf(text, "%g", &got)
	return err == nil && math.Abs(got-mm) <= 0.005+tabled
}

// stripMarks checks the marks, the hatching and the names of a strip.
func stripMarks(t *rapid.T, k *loft.Planking, frame int, edges [][2]float64, wedges int) {
	l := k.Layers[0]
	p := tickStrip(k, l, frame, Usual().Tick)
	limits := []float64{0, l.Girths[frame]}
	near := func(at []float64, w float64) bool {
		for _, m := range at {
			if math.Abs(m-w) <= tabled {
				return true
			}
		}
		return false
	}
	var marks, want []float64
	for _, s := range strokes(&p.Drawing, draw.Pencil) {
		marks = append(marks, s.Points[0].Y-tickHead)
	}
	for _, e := range edges {
		want = append(want, e[0], e[1])
	}
	for _, w := range append(want, limits...) {
		if !near(marks, w) {
			t.Fatalf("frame %d: no mark at %.4f", frame, w)
		}
	}
	for _, m := range marks {
		if !near(want, m) && !near(limits, m) {
			t.Fatalf("frame %d: a mark at %.4f, where the table has no edge", frame, m)
		}
	}
	text := words([]draw.Sheet{{Drawing: p.Drawing}})
	if n := strings.Count(text, wedgeName+" "); n != wedges {
		t.Fatalf("frame %d: %d wedges are named, not %d", frame, n, wedges)
	}
}

var (
	taperPage = regexp.MustCompile(`Taper, layer 1, cut (\d+): ((?:\d\.\d\d, )+)each once`)
	flatPage  = regexp.MustCompile(`(?:Strake|Garboard) (\d\.\d\d), layer 1: `)
	wedgePage = regexp.MustCompile(`(Wedge|Stealer) under (\d\.\d\d), layer 1: cut 2, one a side\. ([\d.]+) mm wide at frame (\S+), its point ([\d.]+) mm from there towards frame (\S+)\.`)
)

// shapesAreOfTheirModes checks that sprung strakes have a taper, in the set that the table
// has them in, and the others a flat shape.
func shapesAreOfTheirModes(t *rapid.T, k *loft.Planking, table *answer.Strakes) {
	text := words(flatStrakes(k, 1, Usual()))
	drawn := map[string]string{}
	for _, m := range taperPage.FindAllStringSubmatch(text, -1) {
		set := strings.Split(strings.TrimSuffix(m[2], ", "), ", ")
		if m[1] != fmt.Sprint(2*len(set)) {
			t.Fatalf("of %s %s are cut", m[2], m[1])
		}
		for _, id := range set {
			drawn[id] += "taper of " + strings.Join(set, " ")
		}
	}
	for _, m := range flatPage.FindAllStringSubmatch(text, -1) {
		drawn[m[1]] += "flat"
	}
	laid := 0
	for _, st := range table.Strakes {
		want := "flat"
		if st.Mode == string(hull.Sprung) {
			want = "taper of " + strings.Join(st.Set, " ")
		}
		if len(st.At) == 0 {
			want = ""
		} else {
			laid++
		}
		if drawn[st.ID] != want {
			t.Fatalf("%s, %s, is drawn as %q, not %q", st.ID, st.Mode, drawn[st.ID], want)
		}
	}
	if len(drawn) != laid {
		t.Fatalf("%d strakes are drawn, not %d", len(drawn), laid)
	}
}

// wedgesAreDrawnAsTheyLie checks that the pages of wedges are those of the table, and
// their patterns as wide at the frames as the gaps between the strakes.
func wedgesAreDrawnAsTheyLie(t *rapid.T, k *loft.Planking, table *answer.Strakes) {
	l := k.Layers[0]
	pages := wedgePage.FindAllStringSubmatch(words(wedgePatterns(k, 1, Usual())), -1)
	if len(pages) != len(table.Wedges) || len(l.Wedges) != len(pages) {
		t.Fatalf("%d wedges are drawn, and the table has %d", len(pages), len(table.Wedges))
	}
	for i, w := range table.Wedges {
		page := pages[i]
		if (page[1] == "Stealer") != w.Stealer || page[2] != w.Below || !reads(page[3], w.Width) || page[4] != w.To || page[6] != w.From {
			t.Fatalf("the page says %q of %+v", page[0], w)
		}
		outline, frames := wedgeOutline(l, l.Wedges[i])
		n := l.StrakeNamed(w.Below)
		for _, f := range frames {
			above, below := n, n+1 // those that are laid there
			for above > 0 && !l.Strakes[above].At[f].Laid {
				above--
			}
			for below < len(l.Strakes)-1 && !l.Strakes[below].At[f].Laid {
				below++
			}
			a, b := l.Strakes[above].At[f], l.Strakes[below].At[f]
			gap := b.Upper - a.Upper - a.WidthFrame
			along := l.Bands[w.Band-1].WedgeAt(l.Strakes[n].Number-1, f)
			if math.Abs(gap-along) > 1e-6 {
				t.Fatalf("the wedge under %s is %.4f mm at frame %d, where the strakes leave %.4f", w.Below, along, f, gap)
			}
			within := 1e-6
			if above != n { // the wedge goes by the slant of its own strake, which is gone there: its neighbour's is nearly that
				within += 0.01 * gap
			}
			if across := a.WidthCut + a.Creep; across > 0 && math.Abs(l.Wedges[i].Laid.Widths[f]-gap*across/a.WidthFrame) > within {
				t.Fatalf("the wedge under %s is drawn %.4f mm wide at frame %d, not %.4f", w.Below, l.Wedges[i].Laid.Widths[f], f, gap*across/a.WidthFrame)
			}
		}
		if len(outline) < 2 {
			t.Fatalf("the wedge under %s has no outline", w.Below)
		}
	}
}
