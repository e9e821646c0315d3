package window

import (
	"cmp"
	"math"
	"slices"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// What the strakes can be sorted by, beside the columns of the table.
const (
	asLaid = -1 - iota
	byFrame
	byLeast
	byGreatest
)

// sorting is how the strakes are sorted. Of asLaid they stand as they lie, from the upper
// limit down.
type sorting struct {
	by    int // a column that tells of the whole strake, or one of the above
	frame int // of byFrame: by what is told of them there
	down  bool
}

// sortNames are what the menus call what is sorted by.
var sortNames = map[int]string{lengthColumn: tongue.Mark("length"), wordColumn: tongue.Mark("verdict"), byLeast: tongue.Mark("least width"), byGreatest: tongue.Mark("greatest width"),
	edgeSetColumn: tongue.Mark("edge-set"), radiusColumn: tongue.Mark("bend radius"), twistColumn: tongue.Mark("twist"), madeColumn: tongue.Mark("made"), verdictColumn: tongue.Mark("verdict, where")}

// sortOffered is what the menus offer, in order.
var sortOffered = []int{lengthColumn, wordColumn, byLeast, byGreatest, edgeSetColumn, radiusColumn, twistColumn, madeColumn}

// Which way something is sorted: the least first, or the greatest.
const leastFirst, greatestFirst = "▲", "▼"

func (o sorting) way() string {
	if o.down {
		return greatestFirst
	}
	return leastFirst
}

// name is what is sorted by.
func (o sorting) name(d *desk.Desk) string {
	if o.by == byFrame {
		return tongue.T("frame %s", d.FrameName(o.frame))
	}
	return tongue.T(sortNames[o.by])
}

// sortBy sorts by something, least first; by what is sorted by, greatest first, and after
// that the strakes stand as they lie again.
func (t *strakeTable) sortBy(by, frame int) {
	now := sorting{by: by, frame: frame}
	switch t.sorted {
	case now:
		now.down = true
	case sorting{by: by, frame: frame, down: true}:
		now = sorting{by: asLaid}
	}
	t.sort(now)
}

func (t *strakeTable) sort(o sorting) {
	t.sorted = o
	t.sync()
	if o.by == asLaid {
		t.desk.Status(tongue.T("The strakes are in the order in which they lie, from the top."))
		return
	}
	how := tongue.T("the least first")
	if o.down {
		how = tongue.T("the greatest first")
	}
	t.desk.Status(tongue.T("The strakes are sorted by %s, %s.", o.name(t.desk), how))
}

// arrange puts the strakes in their order. While a handle is dragged they keep that which
// they have: rows that leap about could not be read.
func (t *strakeTable) arrange() {
	l := t.desk.Layer()
	if t.desk.Grip != nil && len(t.order) == len(l.Strakes) {
		return
	}
	if o := &t.sorted; o.by == byFrame && o.frame >= len(l.Girths) {
		*o = sorting{by: asLaid}
	}
	t.order = t.order[:0]
	for k := range l.Strakes {
		t.order = append(t.order, k)
	}
	t.tellSorted()
	if t.sorted.by == asLaid {
		return
	}
	keys := make([]float64, len(l.Strakes))
	for k, s := range l.Strakes {
		keys[k] = t.sortKey(s)
	}
	slices.SortStableFunc(t.order, func(a, b int) int {
		if math.IsNaN(keys[a]) || math.IsNaN(keys[b]) { // what has no figure comes last either way
			return cmp.Compare(keyless(keys[a]), keyless(keys[b]))
		}
		if t.sorted.down {
			a, b = b, a
		}
		if t.sorted.by == wordColumn || t.sorted.by == verdictColumn {
			return harder(l.Strakes[a].Making.Verdict, l.Strakes[b].Making.Verdict)
		}
		return cmp.Compare(keys[a], keys[b])
	})
}

// keyless is 1 of what is no number, else 0.
func keyless(v float64) int {
	if math.IsNaN(v) {
		return 1
	}
	return 0
}

// harder is 1 where a verdict asks for more work than another, −1 where for less.
func harder(a, b loft.Verdict) int {
	switch {
	case a.Harder(b):
		return 1
	case b.Harder(a):
		return -1
	}
	return 0
}

// ordered is the strake in every row. The toolkit may ask for rows of a plan that has
// fewer or more strakes before the table is brought up to date with it, as when the tab
// that it lies under is chosen.
func (t *strakeTable) ordered() []int {
	if len(t.order) != len(t.desk.Layer().Strakes) {
		t.arrange()
	}
	return t.order
}

// strakeAt is the strake that stands in a row of the table.
func (t *strakeTable) strakeAt(row int) int {
	if order := t.ordered(); row >= 0 && row < len(order) {
		return order[row]
	}
	return row
}

// rowOf is the row in which a strake stands.
func (t *strakeTable) rowOf(strake int) int {
	if row := slices.Index(t.ordered(), strake); row >= 0 {
		return row
	}
	return strake
}

// sortKey is the figure that a strake is sorted by; not a number where it has none.
func (t *strakeTable) sortKey(s *loft.Strake) float64 {
	switch t.sorted.by {
	case byFrame:
		return t.figureAt(s, t.sorted.frame)
	case byLeast, byGreatest:
		return widest(s, t.sorted.by == byGreatest)
	case lengthColumn:
		return s.Length
	case wordColumn, verdictColumn:
		return 0 // which has an order of its own
	case madeColumn:
		return float64(slices.Index(hull.Modes(), s.Making.Mode))
	}
	if t.desk.Shapeless() {
		return math.NaN()
	}
	switch t.sorted.by {
	case edgeSetColumn:
		return s.EdgeSetMax.PerMetre()
	case twistColumn:
		return math.Abs(s.Twist.Degrees())
	}
	if s.FaceRadiusMin <= 0 {
		return math.NaN() // flat
	}
	return s.FaceRadiusMin
}

// widest is the greatest width of a strake, or its least, to cut, mm.
func widest(s *loft.Strake, greatest bool) float64 {
	out := math.NaN()
	for i := range s.At {
		c := &s.At[i]
		if c.Laid && (math.IsNaN(out) || (c.WidthCut > out) == greatest) {
			out = c.WidthCut
		}
	}
	return out
}

// figureAt is the figure that the table tells of a strake at a frame.
func (t *strakeTable) figureAt(s *loft.Strake, frame int) float64 {
	c := &s.At[frame]
	switch {
	case !c.Laid:
		return math.NaN()
	case t.figure == widthToCut:
		return c.WidthCut
	case t.figure == widthOnFrame:
		return c.WidthFrame
	case t.figure == upperEdge:
		return c.Upper
	case t.figure == upperBevel:
		return c.BevelUpper.Degrees()
	case t.figure == lowerBevel:
		return c.BevelLower.Degrees()
	}
	b := t.desk.Bench
	if !b.Reckon() {
		return math.NaN()
	}
	st, ok := b.Rest[b.Side][s.ID]
	switch {
	case !ok || !st.On[frame].Laid:
		return math.NaN()
	case t.figure == benchChange:
		return st.Change[frame]
	}
	return st.On[frame].WidthCut
}

// headed is a column's head, with a sign where the strakes are sorted by it.
func (t *strakeTable) headed(col int) string {
	name := t.columnName(col)
	frame, tells := -1, -1
	if col >= 0 {
		frame, tells = t.columnOf(col)
	}
	switch o := t.sorted; {
	case col < 0 || o.by == asLaid:
		return name
	case frame >= 0 && o.by == byFrame && o.frame == frame, frame < 0 && o.by == tells:
		return o.way() + name
	}
	return name
}

// headTapped sorts by the column whose head is under a place of the window.
func (t *strakeTable) headTapped(at fyne.Position) bool {
	id, ok := kit.CellAt(t.heads, at)
	if !ok || id.Row >= 0 {
		return false
	}
	if id.Col < 0 {
		t.sort(sorting{by: asLaid})
		return true
	}
	if frame, tells := t.columnOf(id.Col); frame >= 0 {
		t.sortBy(byFrame, frame)
	} else {
		t.sortBy(tells, 0)
	}
	return true
}

// tellSorted says over the table how it is sorted, on a button that undoes it.
func (t *strakeTable) tellSorted() {
	text := ""
	if o := t.sorted; o.by != asLaid {
		text = tongue.T("By %s %s ✕", o.name(t.desk), o.way())
	}
	if t.unsort.Text == text {
		return
	}
	t.unsort.SetText(text)
	kit.Show(t.unsort, text != "")
	kit.Show(t.legend, text == "")
	t.head.Refresh()
	t.head.Objects[1].Refresh()
}

// sortItems are what the strakes can be sorted by, for a menu. Chosen once more, an item
// turns the order round, and then puts it back.
func (t *strakeTable) sortItems() []*fyne.MenuItem {
	items := []*fyne.MenuItem{fyne.NewMenuItem(tongue.T("as they lie"), func() { t.sort(sorting{by: asLaid}) }), fyne.NewMenuItemSeparator()}
	for _, by := range sortOffered {
		items = append(items, fyne.NewMenuItem(tongue.T(sortNames[by]), func() { t.sortBy(by, 0) }))
	}
	return append(items, fyne.NewMenuItem(tongue.T("the figure at the chosen frame"), func() {
		if f := t.desk.Choice.Frame; f >= 0 {
			t.sortBy(byFrame, f)
			return
		}
		t.desk.Status(tongue.T("Choose a frame first: the strakes are then sorted by their figures there."))
	}))
}
