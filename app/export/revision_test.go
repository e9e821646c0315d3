package export

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/draw/proof"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

func TestARevisionIsThatOfTheDecisions(t *testing.T) {
	p := apptest.Planked(t, 2).Plan
	first := revision(p)
	assert.Regexp(t, `^[0-9a-f]{7}$`, first)
	assert.Equal(t, first, revision(p.Clone()))

	noted := p.Clone()
	noted.Record.Starboard = []hull.Entry{{Date: "2026-03-01", EntryKind: "soaked", Layer: 1, Strake: "1"}}
	assert.Equal(t, first, revision(noted), "what is done at the bench is not decided there")

	for name, change := range map[string]func(p *hull.Plan){
		"title":   func(p *hull.Plan) { p.Title += "!" },
		"strip":   func(p *hull.Plan) { p.Layers[0].Stock.Length++ },
		"strakes": func(p *hull.Plan) { p.Layers[0].Bands[0].Strakes = 9 },
		"frame":   func(p *hull.Plan) { p.Hull.Frames[1].Name += "a" },
	} {
		other := p.Clone()
		change(other)
		assert.NotEqual(t, first, revision(other), name)
	}
}

// sheetsOfRevision draws a plan's sheets and finds their title, revision and date on
// every page, and in every file of its own.
func sheetsOfRevision(t *testing.T, p *hull.Plan) string {
	t.Helper()
	k, err := loft.Plank(p)
	require.NoError(t, err)
	s := Usual(p)
	s.Date = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	set := made(t, k, s)
	for _, page := range set.booklet.Pages {
		found := 0
		for _, it := range page.Drawing.Items {
			if l, ok := it.(draw.Label); ok && strings.HasSuffix(l.Text, ", revision "+set.Revision()+", 2026-03-01") {
				assert.True(t, strings.HasPrefix(l.Text, p.Title), l.Text)
				found++
			}
		}
		assert.Equal(t, 1, found, "page %d", page.Number)
	}
	for _, f := range set.files() {
		if !strings.HasPrefix(f.name, "svg/") && !strings.HasPrefix(f.name, "dxf/") {
			continue
		}
		var b bytes.Buffer
		require.NoError(t, f.write(&b))
		assert.Contains(t, b.String(), "revision "+set.Revision(), f.name)
		assert.Contains(t, b.String(), "2026-03-01", f.name)
		assert.Contains(t, b.String(), p.Title, f.name)
	}
	tablesOfRevision(t, set)
	var first, second bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &second} {
		require.NoError(t, set.sectionPDF(b, set.sheets[0].Section, set.sheets[:1]))
	}
	assert.Equal(t, first.Bytes(), second.Bytes())
	assert.Regexp(t, `CreationDate: +D:20260301120000`, proof.Run(t, "pdfinfo", "-rawdates", proof.File(t, "a.pdf", first.Bytes())))
	return set.Revision()
}

// tablesOfRevision finds a set's title, revision and date in its workbook, and beside its
// other tables.
func tablesOfRevision(t *testing.T, set *Set) {
	t.Helper()
	files := map[string][]byte{}
	for _, f := range set.files() {
		if f.name == "revision.txt" || f.name == "tables.xlsx" {
			var first, second bytes.Buffer
			require.NoError(t, f.write(&first))
			require.NoError(t, f.write(&second))
			require.Equal(t, first.Bytes(), second.Bytes(), f.name)
			files[f.name] = first.Bytes()
		}
	}
	assert.True(t, strings.HasPrefix(string(files["revision.txt"]), set.ship+"\nrevision "+set.Revision()+"\n2026-03-01\n"))
	book, err := excelize.OpenReader(bytes.NewReader(files["tables.xlsx"]))
	require.NoError(t, err)
	defer func() { require.NoError(t, book.Close()) }()
	about, err := book.GetDocProps()
	require.NoError(t, err)
	assert.Equal(t, "revision "+set.Revision(), about.Subject)
	assert.Equal(t, "2026-03-01T12:00:00Z", about.Created)
	for _, name := range book.GetSheetList() {
		foot, err := book.GetHeaderFooter(name)
		require.NoError(t, err)
		assert.Contains(t, foot.OddFooter, set.ship+", revision "+set.Revision()+", 2026-03-01", name)
	}
}

// A view that is kept as a picture bears the state of the plan that it shows, and its date.
func TestASavedViewBearsItsRevision(t *testing.T) {
	var d draw.Drawing
	d.Line(draw.Ink, draw.Pen{Width: 0.3}, draw.Pt(0, 0), draw.Pt(50, 50))
	plan := apptest.Planked(t, 1).Plan
	stamp := StampOf(plan, time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC))
	p := Picture{Title: "Wigley, Profile", Stamp: stamp, Width: 400, Height: 100, Drawing: &d}
	for _, ending := range []string{".svg", ".pdf"} {
		write, err := p.Writer("view" + ending)
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, write(&b))
		if ending == ".svg" {
			assert.Contains(t, b.String(), "Wigley, Profile, revision "+revision(plan)+", 2026-03-01")
			continue
		}
		file := proof.File(t, "view.pdf", b.Bytes())
		assert.Regexp(t, `CreationDate: +D:20260301120000`, proof.Run(t, "pdfinfo", "-rawdates", file))
		assert.Contains(t, proof.Run(t, "pdftotext", file, "-"), revision(plan))
	}
}

func TestEverySheetBearsTitleRevisionAndDate(t *testing.T) {
	p := apptest.Planked(t, 1).Plan
	p.Title = "Wigley"
	first := sheetsOfRevision(t, p)
	p = p.Clone()
	p.Layers[0].Stock.Length -= 100
	assert.NotEqual(t, first, sheetsOfRevision(t, p))
}
