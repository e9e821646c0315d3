package tables_test

import (
	"bytes"
	"cmp"
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw/proof"
	"github.com/strakewright/strakewright/app/tables"
	"github.com/strakewright/strakewright/assets"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// coaster is the demo plan, with a frame whose name is a formula.
func coaster(t testing.TB) *loft.Planking {
	t.Helper()
	return apptest.Demo(t, `=1+1`)
}

func all(t testing.TB, k *loft.Planking, s tables.Settings) []tables.Table {
	t.Helper()
	cuts, err := tables.Cut(context.Background(), k, s)
	require.NoError(t, err)
	return tables.All(k, s, cuts)
}

func named(t testing.TB, all []tables.Table, name string) tables.Table {
	t.Helper()
	for _, a := range all {
		if a.Name == name {
			return a
		}
	}
	t.Fatalf("there is no table %s", name)
	return tables.Table{}
}

// col gives the place of a column.
func col(t testing.TB, a tables.Table, key string) int {
	t.Helper()
	for i, c := range a.Columns {
		if c.Key == key {
			return i
		}
	}
	t.Fatalf("%s has no column %s", a.Name, key)
	return -1
}

func TestTablesHoldWhatIsPlanked(t *testing.T) {
	k := coaster(t)
	ts := all(t, k, tables.Settings{Overhang: 15})
	var names []string
	for _, a := range ts {
		names = append(names, a.Name)
		for _, r := range a.Rows {
			require.Len(t, r, len(a.Columns), a.Name)
			for i, v := range r {
				requireKind(t, a.Columns[i], v)
			}
		}
	}
	assert.Equal(t, []string{"strakes-layer-1-starboard", "strakes-layer-1-port", "strakes-layer-2-starboard", "strakes-layer-2-port",
		"bevels", "wedges", "drop-strakes", "cutting-list", "strips", "sheet-wood"}, names)
	for n, l := range k.Layers {
		for _, side := range []string{"starboard", "port"} {
			a := named(t, ts, fmt.Sprintf("strakes-layer-%d-%s", n+1, side))
			width, frame := col(t, a, "width_frame_mm"), col(t, a, "frame")
			for i, f := range k.Plan.Hull.Frames {
				sum := 0.0
				for _, r := range a.Rows {
					if r[frame] == f.Name {
						sum += r[width].(float64)
					}
				}
				for _, b := range l.Bands {
					for n := range b.Weights {
						sum += b.WedgeAt(n, i)
					}
				}
				assert.InDelta(t, l.Girths[i], sum, 1e-3, "strakes and wedges share the girth of frame %s", f.Name)
			}
		}
	}
	wedges, drops := 0, 0
	for _, l := range k.Layers {
		wedges, drops = wedges+len(l.Wedges), drops+len(l.Drops)
	}
	assert.NotZero(t, wedges)
	assert.Len(t, named(t, ts, "wedges").Rows, wedges)
	assert.Len(t, named(t, ts, "drop-strakes").Rows, drops)
}

func requireKind(t *testing.T, c tables.Column, v any) {
	t.Helper()
	if v == nil { // a wedge comes from no strip in particular, a strake from a strip, a sheet or a block
		require.Contains(t, []string{"stock_length_mm", "strip", "strip_at_mm", "planed_mm", "stock_width_mm", "mode", "sheet", "waste_mm2"}, c.Key)
		return
	}
	switch c.Kind {
	case tables.Text:
		require.IsType(t, "", v, c.Key)
	case tables.Whole:
		require.IsType(t, 0, v, c.Key)
	default:
		require.IsType(t, 0.0, v, c.Key)
		require.False(t, math.IsNaN(v.(float64)) || math.IsInf(v.(float64), 0), c.Key)
	}
}

// TestBevelRise: 45 degrees rise 10 mm in 10.
func TestBevelRise(t *testing.T) {
	a := named(t, all(t, coaster(t), tables.Settings{}), "bevels")
	deg, rise := col(t, a, "bevel_lower_deg"), col(t, a, "rise_lower_mm")
	most := 0.0
	for _, r := range a.Rows {
		d := r[deg].(float64)
		most = max(most, d)
		assert.InDelta(t, 10*math.Tan(d*math.Pi/180), r[rise].(float64), 2e-6)
	}
	assert.Greater(t, most, 1.0)
}

// TestSquareEdgesHaveNoRows: of a layer with square edges the table of bevels has the
// strakes that are planed at wale and rabbet alone; drop strakes have their nibs.
func TestSquareEdgesHaveNoRows(t *testing.T) {
	p := coaster(t).Plan.Clone()
	for i := range p.Layers {
		p.Layers[i].Edges = hull.Square
	}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	ts := all(t, k, tables.Settings{Layer: 1})
	a := named(t, ts, "bevels")
	strake := col(t, a, "strake")
	ids := map[string]bool{}
	for _, r := range a.Rows {
		ids[r[strake].(string)] = true
	}
	strakes := k.Layers[0].Strakes
	assert.Equal(t, map[string]bool{strakes[0].ID: true, strakes[len(strakes)-1].ID: true}, ids)
	d := named(t, ts, "drop-strakes")
	require.Len(t, d.Rows, len(k.Layers[0].Drops))
	for i, r := range d.Rows {
		assert.InDelta(t, k.Layers[0].Drops[i].Nib, r[col(t, d, "nib_mm")].(float64), 1e-6)
		assert.Positive(t, r[col(t, d, "nib_mm")])
	}
}

// allSprung has all strakes of the first layer laid from strips; those of the second
// are left to the rules.
func allSprung(p *hull.Plan) {
	for b := range p.Layers[0].Bands {
		p.Layers[0].Bands[b].Modes = slices.Repeat([]hull.Mode{hull.Sprung}, 60)
	}
}

// TestSheetWoodHoldsTheSpiledStrakes: the rows of the cutting list that name a sheet are
// those that the table of sheets counts, and every block has its row on both sides.
func TestSheetWoodHoldsTheSpiledStrakes(t *testing.T) {
	k := coaster(t)
	ts := all(t, k, tables.Settings{Overhang: 15})
	cuts, sheets := named(t, ts, "cutting-list"), named(t, ts, "sheet-wood")
	type sheet struct{ layer, number any }
	counted, blocks := map[sheet]int{}, 0
	for _, r := range cuts.Rows {
		if n := r[col(t, cuts, "sheet")]; n != nil {
			assert.Equal(t, "spiled", r[col(t, cuts, "mode")])
			counted[sheet{r[col(t, cuts, "layer")], n}]++
		}
		if r[col(t, cuts, "mode")] == "block" {
			blocks++
		}
	}
	assert.NotEmpty(t, counted)
	for _, r := range sheets.Rows {
		if r[col(t, sheets, "kind")] == "block" {
			blocks--
			continue
		}
		assert.Equal(t, counted[sheet{r[col(t, sheets, "layer")], r[col(t, sheets, "number")]}], r[col(t, sheets, "pieces")])
		delete(counted, sheet{r[col(t, sheets, "layer")], r[col(t, sheets, "number")]})
	}
	assert.Empty(t, counted)
	assert.Zero(t, blocks)
}

func TestCuttingListMakesUpTheStrakes(t *testing.T) {
	k := coaster(t)
	for i := range k.Plan.Layers {
		require.Greater(t, k.Plan.Layers[i].Stock.Length, 160.0)
	}
	short := k.Plan.Clone()
	allSprung(short)
	short.Layers[0].Stock.Length = 160 // some strakes must be butted
	k, err := loft.Plank(short)
	require.NoError(t, err)
	a := named(t, all(t, k, tables.Settings{Overhang: 12, Layer: 1}), "cutting-list")
	laid := map[string]float64{}
	butted := 0
	for _, r := range a.Rows {
		id, kind := r[col(t, a, "id")].(string), r[col(t, a, "kind")].(string)
		length, over, cut := r[col(t, a, "length_mm")].(float64), r[col(t, a, "overhang_mm")].(float64), r[col(t, a, "cut_length_mm")].(float64)
		assert.InDelta(t, length+over, cut, 2e-6)
		assert.Equal(t, 1, r[col(t, a, "layer")], "only the layer asked for")
		if kind == "wedge" || kind == "stealer" {
			assert.InDelta(t, 1.1*length, cut, 2e-6)
			continue
		}
		assert.LessOrEqual(t, cut, 160+1e-6)
		piece, pieces := r[col(t, a, "piece")].(int), r[col(t, a, "pieces")].(int)
		if pieces > 1 {
			butted++
		}
		want := 0.0
		if piece == pieces {
			want = 12
		}
		assert.Equal(t, want, over, "only the free end hangs over")
		laid[r[col(t, a, "side")].(string)+id] += length
		w := func(key string) float64 { return r[col(t, a, key)].(float64) }
		assert.LessOrEqual(t, w("width_narrowest_mm"), min(w("width_first_mm"), w("width_last_mm")))
		assert.GreaterOrEqual(t, w("width_widest_mm"), max(w("width_first_mm"), w("width_last_mm")))
	}
	assert.NotZero(t, butted)
	for _, st := range k.Layers[0].Strakes {
		assert.InDelta(t, st.Length, laid["starboard"+st.ID], 1e-4)
		assert.InDelta(t, st.Length, laid["port"+st.ID], 1e-4)
	}
}

// TestCuttingListTellsTheCuts: a sprung strake's pieces are as wide as its straight
// cuts leave its strip, and no wider than that; both sheets tell the same widths.
func TestCuttingListTellsTheCuts(t *testing.T) {
	p, err := hull.ReadPlan(bytes.NewReader(assets.Skiff()), "skiff")
	require.NoError(t, err)
	k, err := loft.Plank(p)
	require.NoError(t, err)
	l := k.Layers[0]
	tabs := all(t, k, tables.Settings{Layer: 1})
	a := named(t, tabs, "cutting-list")
	sprung, other := 0, 0
	for _, r := range a.Rows {
		n := l.StrakeNamed(r[col(t, a, "id")].(string))
		if n < 0 {
			continue
		}
		st := l.Strakes[n]
		c, text := l.CutsOf(st, st.At), r[col(t, a, "straight_cuts")].(string)
		if c == nil {
			assert.Empty(t, text)
			other++
			continue
		}
		sprung++
		assert.Equal(t, answer.CutsText(l, c, answer.MM{}), text)
		assert.LessOrEqual(t, r[col(t, a, "width_widest_mm")].(float64), st.Strip)
		assert.InDelta(t, c.WidthAt(st, 0), r[col(t, a, "width_first_mm")].(float64), 1e-6)
	}
	assert.Positive(t, sprung)
	assert.Positive(t, other)

	b := named(t, tabs, "strakes-layer-1-port")
	for _, r := range b.Rows {
		st := l.Strakes[l.StrakeNamed(r[col(t, b, "strake")].(string))]
		planed := r[col(t, b, "planed_mm")]
		if c := l.CutsOf(st, st.At); c == nil {
			assert.Nil(t, planed)
		} else {
			assert.LessOrEqual(t, planed.(float64), st.Strip)
		}
	}
}

// TestPiecesLieInTheirStrips: every piece lies in its strip, clear of the others
// by the kerf, and the strips are those that are counted; from the box as many
// as there are.
func TestPiecesLieInTheirStrips(t *testing.T) {
	k := coaster(t)
	p := k.Plan.Clone()
	first := p.Layers[0].Stock
	allSprung(p)
	p.Box = []hull.Strips{{Width: first.Width, Thickness: first.Thickness, Length: 700, Species: first.Species, Count: 3}}
	k, err := loft.Plank(p)
	require.NoError(t, err)
	ts := all(t, k, tables.Settings{Overhang: 15})
	cuts, strips := named(t, ts, "cutting-list"), named(t, ts, "strips")
	type place struct{ layer, strip int }
	type span struct{ from, to, strip float64 }
	laid := map[place][]span{}
	for _, r := range cuts.Rows {
		at := func(key string) any { return r[col(t, cuts, key)] }
		if at("strip") == nil {
			assert.True(t, at("kind") == "wedge" || at("kind") == "stealer" || at("mode") == "block" || at("sheet") != nil)
			continue
		}
		from := at("strip_at_mm").(float64)
		here := place{at("layer").(int), at("strip").(int)}
		laid[here] = append(laid[here], span{from, from + at("cut_length_mm").(float64), at("stock_length_mm").(float64)})
	}
	short := 0
	for here, spans := range laid {
		slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.from, b.from) })
		end := -hull.NewCutting().Kerf
		for _, s := range spans {
			assert.GreaterOrEqual(t, s.from, end+hull.NewCutting().Kerf-1e-6, "strip %v", here)
			assert.LessOrEqual(t, s.to, s.strip+1e-6, "strip %v", here)
			end = s.to
		}
		if spans[0].strip == 700 {
			short++
		}
	}
	assert.Equal(t, 3, short, "the box is used up")
	counted, pieces := 0, 0
	for _, r := range strips.Rows {
		counted += r[col(t, strips, "strips")].(int)
		pieces += r[col(t, strips, "pieces")].(int)
		if r[col(t, strips, "from")] == "own wood" {
			assert.Equal(t, 3, r[col(t, strips, "strips")])
			assert.Equal(t, 700.0, r[col(t, strips, "length_mm")])
		}
	}
	assert.Len(t, laid, counted)
	spans := 0
	for _, s := range laid {
		spans += len(s)
	}
	assert.Equal(t, spans, pieces)
}

func TestSettingsThatDoNotGo(t *testing.T) {
	k := coaster(t)
	for want, s := range map[string]tables.Settings{
		"there is no layer 3":    {Layer: 3},
		"there is no layer -1":   {Layer: -1},
		"give 0 or more":         {Overhang: -1},
		"is impossible":          {Overhang: math.Inf(1)},
		"longer than the strips": {Overhang: 5000},
	} {
		_, err := tables.Cut(context.Background(), k, s)
		assert.ErrorContains(t, err, want)
	}
}

func workbook(t *testing.T, ts []tables.Table) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, tables.WriteXLSX(&b, tables.Of{Title: "A coaster"}, ts))
	return b.Bytes()
}

// TestWorkbookReadAgain compares every number of every sheet with its table.
func TestWorkbookReadAgain(t *testing.T) {
	ts := all(t, coaster(t), tables.Settings{Overhang: 15})
	f, err := excelize.OpenReader(bytes.NewReader(workbook(t, ts)))
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	var titles []string
	for _, a := range ts {
		titles = append(titles, a.Title)
		panes, err := f.GetPanes(a.Title)
		require.NoError(t, err)
		assert.True(t, panes.Freeze && panes.YSplit == 1, "the heading of %s is frozen", a.Title)
		rows, err := f.GetRows(a.Title, excelize.Options{RawCellValue: true})
		require.NoError(t, err)
		require.Len(t, rows, len(a.Rows)+1)
		for i, c := range a.Columns {
			assert.Equal(t, c.Head, rows[0][i])
		}
		for i, cells := range a.Rows {
			for j, v := range cells {
				at, err := excelize.CoordinatesToCellName(j+1, i+2)
				require.NoError(t, err)
				sameCell(t, f, a.Title, at, v)
			}
		}
	}
	assert.Equal(t, titles, f.GetSheetList())
}

func sameCell(t *testing.T, f *excelize.File, sheet, at string, want any) {
	t.Helper()
	got, err := f.GetCellValue(sheet, at, excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	kind, err := f.GetCellType(sheet, at)
	require.NoError(t, err)
	formula, err := f.GetCellFormula(sheet, at)
	require.NoError(t, err)
	require.Empty(t, formula)
	if want == nil {
		require.Empty(t, got)
		return
	}
	if s, ok := want.(string); ok {
		require.Equal(t, s, got)
		require.Equal(t, excelize.CellTypeSharedString, kind, "%s %s is text", sheet, at)
		return
	}
	n, err := strconv.ParseFloat(got, 64)
	require.NoError(t, err)
	require.NotEqual(t, excelize.CellTypeSharedString, kind, "%s %s is a number", sheet, at)
	require.Equal(t, fmt.Sprint(want), fmt.Sprint(n), "%s %s", sheet, at)
}

// TestFormulasAreText: a frame may be named as a formula, and stays text.
func TestFormulasAreText(t *testing.T) {
	ts := []tables.Table{{Name: "a", Title: "A", Columns: []tables.Column{{"text", "text", tables.Text}}}}
	for _, s := range []string{`=1+1`, `@SUM(A1)`, "+cmd", "-x", "\tx", "-12", "+3.5", "plain", ""} {
		ts[0].Rows = append(ts[0].Rows, []any{s})
	}
	var b bytes.Buffer
	require.NoError(t, ts[0].WriteCSV(&b))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	var got []string
	for _, r := range rows[1:] {
		got = append(got, r[0])
	}
	assert.Equal(t, []string{`'=1+1`, `'@SUM(A1)`, "'+cmd", "'-x", "' x", "-12", "+3.5", "plain"}, got[:8])
}

// TestCSVReadAgain: to a thousandth.
func TestCSVReadAgain(t *testing.T) {
	for _, a := range all(t, coaster(t), tables.Settings{Overhang: 15}) {
		var b bytes.Buffer
		require.NoError(t, a.WriteCSV(&b))
		rows, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		sameRows(t, a, rows[1:], 0.0005+1e-9)
		for i, c := range a.Columns {
			assert.Equal(t, c.Key, rows[0][i])
		}
	}
}

// sameRows compares rows of text with a table's.
func sameRows(t *testing.T, a tables.Table, rows [][]string, tolerance float64) {
	t.Helper()
	require.Len(t, rows, len(a.Rows), a.Name)
	for i, cells := range a.Rows {
		for j, v := range cells {
			got := strings.TrimPrefix(rows[i][j], "'")
			if v == nil {
				require.Empty(t, got)
				continue
			}
			if s, ok := v.(string); ok {
				require.Equal(t, s, got)
				continue
			}
			n, err := strconv.ParseFloat(got, 64)
			require.NoError(t, err, "%s row %d %s", a.Name, i, a.Columns[j].Key)
			want, err := strconv.ParseFloat(fmt.Sprint(v), 64)
			require.NoError(t, err)
			require.InDelta(t, want, n, tolerance, "%s row %d %s", a.Name, i, a.Columns[j].Key)
		}
	}
}

// TestGnumericReadsTheWorkbook has another program open it and give every sheet
// as CSV, its numbers whole.
func TestGnumericReadsTheWorkbook(t *testing.T) {
	convert := proof.Installed(t, "ssconvert")
	ts := all(t, coaster(t), tables.Settings{Overhang: 15})
	dir := t.TempDir()
	book := filepath.Join(dir, "all.xlsx")
	require.NoError(t, os.WriteFile(book, workbook(t, ts), 0o600))
	out, err := exec.Command(convert, "--export-type=Gnumeric_stf:stf_assistant", "-O", "separator=, format=raw quoting-mode=auto",
		"--export-file-per-sheet", book, filepath.Join(dir, "%n.csv")).CombinedOutput()
	require.NoError(t, err, string(out))
	for i, a := range ts {
		f, err := os.Open(filepath.Join(dir, strconv.Itoa(i)+".csv"))
		require.NoError(t, err)
		rows, err := csv.NewReader(f).ReadAll()
		require.NoError(t, err)
		require.NoError(t, f.Close())
		sameRows(t, a, rows[1:], 1e-9)
	}
}

func BenchmarkTables(b *testing.B) {
	k := coaster(b)
	for b.Loop() {
		var buf bytes.Buffer
		require.NoError(b, tables.WriteXLSX(&buf, tables.Of{Title: "A coaster"}, all(b, k, tables.Settings{})))
	}
}
