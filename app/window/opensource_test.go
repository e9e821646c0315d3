package window

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"github.com/strakewright/strakewright/app/window/windowtest"
)

// launchRows are three frames as points, so high.
func launchRows(high float64) [][]any {
	rows := [][]any{{"frame", "x_mm", "y_mm", "z_mm"}}
	for i, name := range []string{"A", "B", "C"} {
		for _, p := range [][2]float64{{20, 1}, {19, 0.7}, {14, 0.3}, {2, 0}} {
			rows = append(rows, []any{name, 90.0 * float64(i), p[0], p[1] * high})
		}
	}
	return rows
}

// shown waits for a dialog that holds a text.
func shown(t *testing.T, w *mainWindow, text string) {
	t.Helper()
	windowtest.Until(t, func() bool {
		top := w.Canvas().Overlays().Top()
		return top != nil && strings.Contains(windowtest.Labels(top), text)
	})
}

// Of a workbook with tables on several sheets it is asked which is meant.
func TestAWorkbookOfSeveralSheets(t *testing.T) {
	f := excelize.NewFile()
	for i, name := range []string{"First", "Second"} {
		_, err := f.NewSheet(name)
		require.NoError(t, err)
		for k, row := range launchRows(30 + 10*float64(i)) {
			cell, err := excelize.CoordinatesToCellName(1, k+1)
			require.NoError(t, err)
			require.NoError(t, f.SetSheetRow(name, cell, &row))
		}
	}
	path := filepath.Join(t.TempDir(), "launch.xlsx")
	require.NoError(t, f.SaveAs(path))
	w := newWindow(t)
	load(w.desk, path)
	shown(t, w, "Which sheet of launch.xlsx?")
	choice := askSheet(w.desk, path, []string{"First", "Second"})
	choice.SetSelected("Second")
	test.Tap(windowtest.ButtonNamed(t, w.Canvas().Overlays().Top(), "Open"))
	windowtest.Until(t, func() bool { return w.desk.Session.Plan().Title == "launch" })
	assert.Equal(t, 40.0, w.desk.Session.Plan().Hull.Frames[0].Points[0].Z())
	shown(t, w, "The table is on sheet Second.")
}

// What a list of points was taken for is told when it is dropped on the window.
func TestAListIsToldOf(t *testing.T) {
	path := filepath.Join(t.TempDir(), "launch.xyz")
	text := "0 20 40\n0 19 28\n0 14 12\n0 2 1\n90 20 40\n90 19 28\n90 14 12\n90 2 1\n180 20 40\n180 19 28\n180 14 12\n180 2 1\n"
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	w := newWindow(t)
	dropped(w.desk, []fyne.URI{storage.NewFileURI(path)})
	shown(t, w, "There is no unit: the figures count as mm.")
	assert.Equal(t, "launch", w.desk.Session.Plan().Title)
}

// A PDF with lines in it is taken off or traced, as is chosen; a scan of one page goes
// to be traced at once.
func TestAPDFIsTakenOffOrTraced(t *testing.T) {
	for _, tool := range []string{"pdftocairo", "pdfinfo"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("there is no %s", tool)
		}
	}
	write := func(name string, draw func(f *fpdf.Fpdf)) string {
		f := fpdf.New("L", "mm", "A4", "")
		f.AddPage()
		draw(f)
		path := filepath.Join(t.TempDir(), name)
		require.NoError(t, f.OutputFileAndClose(path))
		return path
	}
	lines := write("lines.pdf", func(f *fpdf.Fpdf) { f.Line(10, 10, 50, 60) })
	blank := write("blank.pdf", func(*fpdf.Fpdf) {})
	w := newWindow(t)
	traced := ""
	w.desk.Picture = func(path string) { traced = path }
	load(w.desk, blank)
	windowtest.Until(t, func() bool { return traced == blank })
	load(w.desk, lines)
	shown(t, w, "Its lines can be taken off as they stand in the file.")
	test.Tap(windowtest.ButtonNamed(t, w.Canvas().Overlays().Top(), "Trace it as a picture"))
	assert.Equal(t, lines, traced)
	load(w.desk, lines)
	shown(t, w, "Its lines can be taken off as they stand in the file.")
	test.Tap(windowtest.ButtonNamed(t, w.Canvas().Overlays().Top(), "Take the lines off"))
	shown(t, w, "Outlines in lines.pdf")
}
