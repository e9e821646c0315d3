package export

import (
	"bytes"
	"context"
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/proof"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// coaster is the demo plan, with a frame whose name no file may have.
func coaster(t testing.TB) *loft.Planking {
	t.Helper()
	return apptest.Demo(t, `A/..\:*`)
}

func made(t testing.TB, k *loft.Planking, s Settings) *Set {
	t.Helper()
	set, err := Make(context.Background(), k, s)
	require.NoError(t, err)
	return set
}

// usual is the set with the default settings.
func usual(t testing.TB, k *loft.Planking) *Set {
	t.Helper()
	return made(t, k, Usual(k.Plan))
}

func written(t testing.TB, set *Set, dir string) *Written {
	t.Helper()
	w, err := set.Write(context.Background(), dir, false, nil)
	require.NoError(t, err)
	return w
}

func TestEverySheetAndTableIsWritten(t *testing.T) {
	set := usual(t, coaster(t))
	dir := t.TempDir()
	var steps []Progress
	w, err := set.Write(context.Background(), dir, false, func(p Progress) { steps = append(steps, p) })
	require.NoError(t, err)
	there := tree(t, dir)
	for _, name := range w.Files {
		assert.NotEmpty(t, there[name], name)
	}
	files := 0
	for name := range there {
		if !strings.HasSuffix(name, "/") {
			files++
		}
	}
	assert.Len(t, w.Files, files, "nothing else is left in the folder")
	for _, want := range []string{"booklet.pdf", "tables.xlsx", "tables/cutting-list.csv", "tables/strakes-layer-2-port.csv", "pdf/tick-strips.pdf", "pdf/flat-strakes.pdf"} {
		assert.Contains(t, w.Files, want)
	}
	for _, s := range set.sheets {
		assert.Contains(t, there, "svg/"+s.Name+".svg")
		_, dxf := there["dxf/"+s.Name+".dxf"]
		assert.Equal(t, s.Cut, dxf, s.Name)
	}

	// It reports its progress, which never goes back and ends complete.
	last := 0
	for _, p := range steps {
		assert.GreaterOrEqual(t, p.Done, last)
		assert.LessOrEqual(t, p.Done, p.All)
		last = p.Done
	}
	assert.Equal(t, steps[0].All, last)
}

func TestTheSameSettingsGiveTheSameBytes(t *testing.T) {
	k := coaster(t)
	a, b := t.TempDir(), t.TempDir()
	written(t, usual(t, k), a)
	written(t, usual(t, k), b)
	first, second := tree(t, a), tree(t, b)
	require.Len(t, second, len(first))
	for name := range first {
		assert.Equal(t, first[name], second[name], name)
	}
}

// pdfPages asks poppler for the number of pages and the size of the first.
func pdfPages(t *testing.T, path string) (pages int, width, height float64) {
	t.Helper()
	out, err := exec.Command(proof.Installed(t, "pdfinfo"), path).CombinedOutput()
	require.NoError(t, err, string(out))
	pages, err = strconv.Atoi(regexp.MustCompile(`Pages: +(\d+)`).FindStringSubmatch(string(out))[1])
	require.NoError(t, err)
	size := regexp.MustCompile(`Page size: +([\d.]+) x ([\d.]+) pts`).FindStringSubmatch(string(out))
	for i, v := range []*float64{&width, &height} {
		pt, err := strconv.ParseFloat(size[i+1], 64)
		require.NoError(t, err)
		*v = pt * 25.4 / 72
	}
	return pages, width, height
}

func TestPDFsAreSoundAndOfTheirSize(t *testing.T) {
	qpdf := proof.Installed(t, "qpdf")
	k := coaster(t)
	for paper, size := range map[Paper][2]float64{A4: {210, 297}, A3: {297, 420}, Letter: {215.9, 279.4}, Legal: {215.9, 355.6}} {
		s := Usual(k.Plan)
		s.Paper = paper
		set := made(t, k, s)
		dir := t.TempDir()
		w := written(t, set, dir)
		pages, width, height := pdfPages(t, filepath.Join(dir, "booklet.pdf"))
		assert.Equal(t, set.Pages(), pages)
		assert.InDelta(t, size[0], width, 0.05)
		assert.InDelta(t, size[1], height, 0.05)
		inSections := 0
		for _, f := range w.Files {
			if strings.HasSuffix(f, ".pdf") {
				out, err := exec.Command(qpdf, "--check", filepath.Join(dir, f)).CombinedOutput()
				require.NoError(t, err, "%s: %s", f, out)
				assert.Contains(t, string(out), "No syntax or stream encoding errors", f)
			}
			if strings.HasPrefix(f, "pdf/") {
				n, _, _ := pdfPages(t, filepath.Join(dir, f))
				assert.NotZero(t, n, f)
				inSections += n
			}
		}
		assert.LessOrEqual(t, inSections, set.Pages()+len(set.Sections()), "on pages of their own, sections take hardly more")
	}
}

// TestEveryStrakeHasItsShape looks for their numbers in the text that poppler
// extracts.
func TestEveryStrakeHasItsShape(t *testing.T) {
	k := coaster(t)
	dir := t.TempDir()
	s := Usual(k.Plan)
	s.Cards = true
	written(t, made(t, k, s), dir)
	for _, section := range []string{"flat-strakes", "tick-strips", "frame-marking-cards", "bevels", "bending"} {
		out, err := exec.Command(proof.Installed(t, "pdftotext"), "-layout", filepath.Join(dir, "pdf", section+".pdf"), "-").Output()
		require.NoError(t, err)
		for _, l := range k.Layers {
			for _, st := range l.Strakes {
				_, short, outer := strings.Cut(st.ID, "/")
				if !outer {
					short = st.ID
				}
				assert.Contains(t, string(out), short, "%s: strake %s", section, st.ID)
			}
		}
	}
}

// TestGirthsAlone: a hull without a shape gets what follows from its girths,
// and nothing that would be invented.
func TestGirthsAlone(t *testing.T) {
	var h hull.Hull
	h.SetGirths([]hull.Girth{{Frame: "A", X: 0, Girth: 80, Turn: 1}, {Frame: "B", X: 50, Girth: 92, Turn: 1.5}, {Frame: "C", X: 100, Girth: 70, Turn: 1.2}})
	k, err := loft.Plank(hull.NewPlan("punt", h))
	require.NoError(t, err)
	set := usual(t, k)
	assert.Equal(t, []string{"Wood to buy", "Tick strips", "Bevels", "Order of laying"}, set.Sections())
	assert.Contains(t, strings.Join(set.summary, "\n"), "need the hull's shape, so this set leaves them out")
	assert.Contains(t, written(t, set, t.TempDir()).Files, "tables/cutting-list.csv")
	s := Usual(k.Plan)
	s.Blocks = &Blocks{"A", "B", 5}
	_, err = Make(context.Background(), k, s)
	require.ErrorIs(t, err, loft.ErrShapeless)
	demo := coaster(t)
	all := Usual(demo.Plan)
	all.Cards = true
	assert.Equal(t, []string{"Wood to buy", "Numbering map", "Filler blocks", "Tick strips", "Frame marking cards", "Sheet wood", "Flat strakes", "Wedges", "Drop strakes", "Bevels", "Bending", "Order of laying"},
		made(t, demo, all).Sections(), "in the order of the work")
}

func TestOneLayerAlone(t *testing.T) {
	k := coaster(t)
	s := Usual(k.Plan)
	all := made(t, k, s)
	count := map[int]int{}
	for _, sheet := range all.sheets {
		for n := 1; n <= 2; n++ {
			if strings.Contains(sheet.Title, fmt.Sprintf("layer %d", n)) {
				count[n]++
			}
		}
	}
	require.NotZero(t, count[1])
	require.NotZero(t, count[2])
	for n := 1; n <= 2; n++ {
		s.Layer = n
		one := made(t, k, s)
		assert.Len(t, one.sheets, len(all.sheets)-count[3-n])
		for _, sheet := range one.sheets {
			assert.NotContains(t, sheet.Title, fmt.Sprintf("layer %d", 3-n))
		}
		for _, table := range one.tables {
			assert.NotContains(t, table.Name, fmt.Sprintf("layer-%d", 3-n))
		}
		assert.Contains(t, strings.Join(one.summary, "\n"), fmt.Sprintf("Layer %d:", n))
		assert.Contains(t, strings.Join(one.summary, "\n"), "Whole strips laid edge to edge:\nBand 1, ")
		assert.NotContains(t, strings.Join(one.summary, "\n"), fmt.Sprintf("Layer %d:", 3-n))
	}
}

func TestSomeSectionsAlone(t *testing.T) {
	k := coaster(t)
	s := Usual(k.Plan)
	all := made(t, k, s)
	s.Sections = []string{"Tick strips", "Wedges"}
	some := made(t, k, s)
	assert.Equal(t, all.Sections(), some.Sections(), "the others can be chosen again")
	assert.Less(t, some.Pages(), all.Pages())
	for _, sheet := range some.sheets {
		assert.Contains(t, s.Sections, sheet.Section)
	}
	s.Sections = []string{}
	none := made(t, k, s)
	assert.Empty(t, none.sheets)
	assert.Contains(t, written(t, none, t.TempDir()).Files, "tables.xlsx", "tables alone can be had")
}

func TestBlocksBetweenTwoFrames(t *testing.T) {
	k := coaster(t)
	s := Usual(k.Plan)
	frames := k.Plan.Hull.Frames
	s.Blocks = &Blocks{From: frames[3].Name, To: frames[2].Name, Spacing: 4}
	s.Sections = []string{"Filler blocks"}
	set := made(t, k, s)
	require.NotEmpty(t, set.sheets)
	assert.Contains(t, set.sheets[0].Title, "frames "+frames[2].Name+" to "+frames[3].Name)
}

func TestRollHoldsLongSheetsInOnePiece(t *testing.T) {
	k := coaster(t)
	s := Usual(k.Plan)
	a4 := made(t, k, s)
	s.Paper = Roll
	roll := made(t, k, s)
	assert.Less(t, roll.Pages(), a4.Pages()/2)
	w := roll.Page(0).Width
	assert.True(t, w == s.RollWidth || roll.Page(0).Height == s.RollWidth)
}

func TestPrintersErrorIsTakenOut(t *testing.T) {
	k := coaster(t)
	s := Usual(k.Plan)
	s.BarX, s.BarY = 99, 101
	set := made(t, k, s)
	for i := range set.Pages() {
		p := set.Page(i)
		across, along := p.Scale.X, p.Scale.Y
		if p.Width > p.Height { // it is turned in the printer
			across, along = along, across
		}
		assert.InDelta(t, 100.0/99, across, 1e-12)
		assert.InDelta(t, 100.0/101, along, 1e-12)
	}
	assert.Contains(t, strings.Join(set.summary, "\n"), "measured 99 mm across the paper and 101 mm along it")
}

func TestSettingsThatDoNotGo(t *testing.T) {
	k := coaster(t)
	first := k.Plan.Hull.Frames[0].Name
	for want, spoil := range map[string]func(*Settings){
		"layers 1 to 2":                   func(s *Settings) { s.Layer = 3 },
		"more than a printer's error":     func(s *Settings) { s.BarY = 50 },
		"give it from 0 to 1000 mm":       func(s *Settings) { s.Overhang = -1 },
		"give it from 100 to 2000 mm":     func(s *Settings) { s.Paper, s.RollWidth = Roll, 20 },
		"blocks from frame ZZ":            func(s *Settings) { s.Blocks = &Blocks{"ZZ", first, 5} },
		"blocks to frame ZZ":              func(s *Settings) { s.Blocks = &Blocks{first, "ZZ", 5} },
		"to itself":                       func(s *Settings) { s.Blocks = &Blocks{first, first, 5} },
		"give it from 0.1 to 1000 mm":     func(s *Settings) { s.Blocks = &Blocks{first, "C", 0} },
		"overhang of 400 mm is longer th": func(s *Settings) { s.Overhang = 400 },
	} {
		q := *k.Plan
		q.Layers = append([]hull.Layer{}, q.Layers...)
		q.Layers[0].Stock.Length = 300
		kk, err := k.Replank(&q)
		require.NoError(t, err)
		s := Usual(kk.Plan)
		spoil(&s)
		_, err = Make(context.Background(), kk, s)
		assert.ErrorContains(t, err, want)
	}
	_, err := ReadPaper("a5")
	assert.ErrorContains(t, err, `"a5" is not a paper: choose a4, a3, letter, legal or roll`)
	p, err := ReadPaper("Letter")
	require.NoError(t, err)
	assert.Equal(t, Letter, p)
}

func TestStoppedSetsAndBooklets(t *testing.T) {
	k := coaster(t)
	ended, stop := context.WithCancel(context.Background())
	stop()
	_, err := Make(ended, k, Usual(k.Plan))
	require.ErrorIs(t, err, context.Canceled)

	set := usual(t, k)
	root := t.TempDir()
	for _, after := range []int{1, set.Pages() / 2, set.Pages() + 3} { // in the booklet, and after it
		ctx, stop := context.WithCancel(context.Background())
		_, err = set.Write(ctx, filepath.Join(root, "bench"), false, func(p Progress) {
			if p.Done >= after {
				stop()
			}
		})
		require.ErrorIs(t, err, context.Canceled)
		assert.Empty(t, tree(t, root))
	}
}

func TestFileNames(t *testing.T) {
	for name, want := range map[string]string{
		"tick-strips-layer-1": "tick-strips-layer-1", "Numbering map": "numbering-map", `a/..\:*b`: "a------b",
		"": "sheet", "...": "sheet", "Spant Ä": "spant-ä", strings.Repeat("x", 300): strings.Repeat("x", 80),
	} {
		assert.Equal(t, want, fileName(name))
	}
	sheets := []draw.Sheet{{Name: "A"}, {Name: "a"}, {Name: "a/"}, {Name: "b"}}
	nameApart(sheets)
	assert.Equal(t, []string{"a", "a-2", "a-3", "b"}, []string{sheets[0].Name, sheets[1].Name, sheets[2].Name, sheets[3].Name})
}

// sixty is the demo plan in strips so narrow that it has 60 strakes a side.
func sixty(tb testing.TB) *loft.Planking {
	tb.Helper()
	k := coaster(tb)
	q := *k.Plan
	q.Layers = append([]hull.Layer{}, q.Layers...)
	for i := range q.Layers {
		l := &q.Layers[i]
		l.Stock.Width *= 0.6
		l.Bands = append([]hull.Band{}, l.Bands...)
		for b := range l.Bands {
			l.Bands[b] = hull.Band{Strakes: 60 / len(q.Layers) / len(l.Bands)}
		}
	}
	k, err := loft.Plank(&q)
	require.NoError(tb, err)
	n := 0
	for _, l := range k.Layers {
		n += len(l.Strakes)
	}
	require.Equal(tb, 60, n)
	return k
}

// BenchmarkBooklet makes the booklet of a plan of 60 strakes, from its planking
// to the last byte.
func BenchmarkBooklet(b *testing.B) {
	k := sixty(b)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for b.Loop() {
		var out bytes.Buffer
		require.NoError(b, usual(b, k).Booklet(context.Background(), &out, nil))
		b.ReportMetric(float64(out.Len())/1e6, "MB")
	}
	runtime.ReadMemStats(&after)
	b.ReportMetric(float64(after.Sys)/(1<<20), "MiB-of-memory")
}

// BenchmarkFolder writes all of it.
func BenchmarkFolder(b *testing.B) {
	k := sixty(b)
	for b.Loop() {
		written(b, usual(b, k), b.TempDir())
	}
}
