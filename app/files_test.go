package app

import (
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/source"
)

func writeText(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

// points is a table of points of Wigley's hull.
func points(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	p := wigley()
	require.NoError(t, source.WritePoints(&b, &p.Hull))
	return writeText(t, "hull.csv", b.String())
}

func TestOpenAHullSource(t *testing.T) {
	s, err := Open(points(t))
	require.NoError(t, err)
	t.Cleanup(s.Close)
	require.Empty(t, s.Path(), "a plan just taken off has no file")
	require.Equal(t, "hull", s.Title())
	require.False(t, s.Changed())
	require.ErrorIs(t, s.Save(), errNoPath)
	require.Len(t, s.Planking().Layers[0].Girths, 9)
}

func TestTheDemoPlanHasNoFile(t *testing.T) {
	s, err := NewDemo()
	require.NoError(t, err)
	t.Cleanup(s.Close)
	require.Empty(t, s.Path())
	require.False(t, s.Changed())
	require.NotEmpty(t, s.Title())
	require.ErrorIs(t, s.Save(), errNoPath)
}

func TestOpenTellsTheFirstFault(t *testing.T) {
	_, err := Open(filepath.Join(t.TempDir(), "none.strakeplan"))
	require.ErrorIs(t, err, fs.ErrNotExist)
	var fault fault.Fault
	_, err = Open(writeText(t, "bad.csv", "frame,x_mm,y_mm,z_mm\nA,0,1\n"))
	require.ErrorAs(t, err, &fault)
	require.Equal(t, 2, fault.Line)
	_, err = Open(writeText(t, "bad.strakeplan", `{"version": 99}`))
	require.ErrorContains(t, err, "99")
}

func TestSaveAndOpenAgain(t *testing.T) {
	s := opened(t)
	told := 0
	s.OnChange(func() { told++ })
	require.NoError(t, s.Edit("move", to(4, 28)))
	s.keeper.Flush()
	require.NoError(t, s.Save())
	require.False(t, s.Changed())
	require.Equal(t, 2, told, "the edit and the save")
	require.NoFileExists(t, s.keeper.path)

	again, err := Open(s.Path())
	require.NoError(t, err)
	t.Cleanup(again.Close)
	require.True(t, same(again.Plan(), s.Plan()))
	s.Undo()
	require.True(t, s.Changed(), "undone past what is saved")
}

func TestSaveRefusesAFileChangedByAnother(t *testing.T) {
	s := opened(t)
	other := wigley()
	other.Title = "Other"
	require.NoError(t, hull.SaveFile(s.Path(), other))
	require.NoError(t, s.Edit("move", to(4, 28)))
	require.ErrorIs(t, s.Save(), ErrChangedOnDisk)
	require.True(t, s.Changed())
	p, _, err := source.Open(s.Path())
	require.NoError(t, err)
	require.Equal(t, "Other", p.Title, "what the other wrote is still there")

	require.NoError(t, s.SaveAs(s.Path(), true))
	require.NoError(t, s.Edit("move", to(4, 29)))
	require.NoError(t, s.Save(), "once replaced it is ours again")
}

func TestSaveMakesAFileThatIsGone(t *testing.T) {
	s := opened(t)
	require.NoError(t, os.Remove(s.Path()))
	require.NoError(t, s.Save())
	require.FileExists(t, s.Path())
}

func TestSaveAs(t *testing.T) {
	s := opened(t)
	first := s.Path()
	require.NoError(t, s.Edit("move", to(4, 28)))
	s.keeper.Flush()
	beside := s.keeper.path
	taken := writeText(t, "taken", "mine")
	require.ErrorIs(t, s.SaveAs(taken, false), fs.ErrExist)
	data, err := os.ReadFile(taken)
	require.NoError(t, err)
	require.Equal(t, "mine", string(data))
	require.Equal(t, first, s.Path())
	require.FileExists(t, beside)

	second := filepath.Join(t.TempDir(), "second.strakeplan")
	require.NoError(t, s.SaveAs(second, false))
	require.Equal(t, second, s.Path())
	require.False(t, s.Changed())
	require.NoFileExists(t, beside, "the autosave goes with the path")
	p, _, err := source.Open(first)
	require.NoError(t, err)
	require.Equal(t, 25.0, p.Layers[0].Lines[0].Handles[4].Down, "the old file is as it was")
}

func TestASaveThatFailsLosesNothing(t *testing.T) {
	s := opened(t)
	require.NoError(t, s.Edit("move", to(4, 28)))
	s.keeper.Flush()
	require.Error(t, s.SaveAs(filepath.Join(t.TempDir(), "no", "such", "folder.strakeplan"), false))
	require.True(t, s.Changed())
	require.FileExists(t, s.keeper.path)
}

// exportedTable writes the strake table to a file and returns its rows.
func exportedTable(t *testing.T, s *Session, path string) [][]string {
	t.Helper()
	require.NoError(t, s.ExportTable(path, false))
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	return rows
}

func TestExportTable(t *testing.T) {
	s := opened(t)
	path := filepath.Join(t.TempDir(), "table.csv")
	rows := exportedTable(t, s, path)
	require.Equal(t, answer.StrakesOf(s.Planking()).Rows(), rows)
	require.ErrorIs(t, s.ExportTable(path, false), fs.ErrExist)
	require.NoError(t, s.ExportTable(path, true))
}

// TestExportedTextIsNoFormula: the builder may give a frame any name, and a
// spreadsheet runs a field that begins with = as a formula.
func TestExportedTextIsNoFormula(t *testing.T) {
	s := opened(t)
	name := `=HYPERLINK("a")`
	require.NoError(t, s.Edit("name a frame", func(p *hull.Plan) error {
		p.Hull.Frames = slices.Clone(p.Hull.Frames)
		p.Hull.Frames[2].Name = name
		return nil
	}))
	rows := exportedTable(t, s, filepath.Join(t.TempDir(), "table.csv"))
	plain := answer.StrakesOf(s.Planking()).Rows()
	require.Len(t, rows, len(plain))
	renamed := 0
	for i := range rows {
		for j, v := range plain[i] {
			if v == name {
				v, renamed = "'"+name, renamed+1
			}
			require.Equal(t, v, rows[i][j])
		}
	}
	require.Positive(t, renamed)
}

func TestCheckGivesEveryFault(t *testing.T) {
	kind, p, _, faults := Check(t.Context(), points(t), drawing.Options{})
	require.Equal(t, "points", kind)
	require.Len(t, p.Hull.Frames, 9)
	require.Empty(t, p.Layers)
	require.Empty(t, faults)

	s := opened(t)
	kind, p, _, faults = Check(t.Context(), s.Path(), drawing.Options{})
	require.Equal(t, "plan", kind)
	require.Len(t, p.Layers, 1)
	require.Empty(t, faults)

	_, _, _, faults = Check(t.Context(), writeText(t, "bad.csv", "frame,x_mm,y_mm,z_mm\nA,0,-5,0\nA,0,x,1\nB,1,2,3\n"), drawing.Options{})
	require.Greater(t, len(faults), 1)
	kind, p, _, faults = Check(t.Context(), filepath.Join(t.TempDir(), "none"), drawing.Options{})
	require.Empty(t, kind)
	require.Nil(t, p)
	require.Len(t, faults, 1)
}
