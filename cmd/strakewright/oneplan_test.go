package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/apptest"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/source"
)

// TestOnePlanFromTakeOffToSteps takes three hulls from their frames to the steps of laying
// with the commands of the program, and compares what they say of every strake.
func TestOnePlanFromTakeOffToSteps(t *testing.T) {
	for name, h := range map[string]*hull.Hull{"launch": apptest.Launch(), "chined": apptest.Chined(), "merchant": apptest.Merchant()} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			f, err := os.Create(filepath.Join(dir, "hull.csv"))
			require.NoError(t, err)
			require.NoError(t, source.WritePoints(f, h))
			require.NoError(t, f.Close())
			t.Chdir(dir)
			t.Setenv("HOME", dir)
			run := func(args ...string) []byte {
				t.Helper()
				var out, messages bytes.Buffer
				require.Zero(t, run(args, &out, &messages), "%v: %s", args, &messages)
				return out.Bytes()
			}
			run("take-off", "hull.csv", "-o", "taken.strakeplan")
			run("line", "taken.strakeplan", "--bands", "3", "-o", "plan.strakeplan")
			var table answer.Strakes
			require.NoError(t, json.Unmarshal(run("strakes", "plan.strakeplan", "--json"), &table))
			var stock answer.Stock
			require.NoError(t, json.Unmarshal(run("stock", "plan.strakeplan", "--cutting", "--json"), &stock))
			run("sheets", "plan.strakeplan", "-o", "bench")
			require.NotEmpty(t, table.Strakes)
			require.Len(t, stock.Cutting, 1)
			woodGoesWithTheTable(t, &table, &stock.Cutting[0])
			exportGoesWithTheTable(t, dir, &table, &stock.Cutting[0])
			for _, st := range table.Strakes {
				for _, side := range hull.Sides() {
					var steps answer.Steps
					require.NoError(t, json.Unmarshal(run("record", "plan.strakeplan", "steps", "--strake", st.ID, "--side", string(side), "--json"), &steps))
					stepsGoWithTheTable(t, &st, &steps)
				}
			}
		})
	}
}

// woodGoesWithTheTable: every strake is cut for both sides from the wood that its mode
// asks for.
func woodGoesWithTheTable(t *testing.T, table *answer.Strakes, cut *answer.Cutting) {
	t.Helper()
	sides, blocks := map[string]map[string]bool{}, map[string]int{}
	for _, p := range cut.Pieces {
		if sides[p.Strake] == nil {
			sides[p.Strake] = map[string]bool{}
		}
		sides[p.Strake][p.Side] = true
	}
	for _, b := range cut.Blocks {
		blocks[b.Strake] += b.Count
	}
	for _, st := range table.Strakes {
		assert.Len(t, sides[st.ID], 2, st.ID)
		for _, p := range cut.Pieces {
			if p.Strake == st.ID {
				assert.Equal(t, [3]bool{st.Mode == "sprung", st.Mode == "spiled", st.Mode == "block"}, [3]bool{p.Strip > 0, p.Sheet > 0, blocks[st.ID] == 2}, "%s: %+v", st.ID, p)
			}
		}
	}
}

// exportGoesWithTheTable: the tables beside the sheets have the widths of the table and
// the pieces of the cutting.
func exportGoesWithTheTable(t *testing.T, dir string, table *answer.Strakes, cut *answer.Cutting) {
	t.Helper()
	for _, side := range hull.Sides() {
		rows := tableRows(t, filepath.Join(dir, "bench", "tables", "strakes-layer-1-"+string(side)+".csv"))
		for _, st := range table.Strakes {
			for _, c := range st.At {
				require.NotEmpty(t, rows)
				row := rows[0]
				rows = rows[1:]
				assert.Equal(t, []string{st.ID, c.Frame, c.Action}, []string{row["strake"], row["frame"], row["action"]})
				for key, want := range map[string]float64{"upper_mm": c.Upper, "width_frame_mm": c.WidthFrame, "width_cut_mm": c.WidthCut} {
					var got float64
					_, err := fmt.Sscan(row[key], &got)
					require.NoError(t, err)
					assert.InDelta(t, want, got, 0.0005+1e-9, "%s of %s at %s", key, st.ID, c.Frame) // told to a thousandth
				}
			}
		}
		assert.Empty(t, rows)
	}
	rows := tableRows(t, filepath.Join(dir, "bench", "tables", "cutting-list.csv"))
	require.Len(t, rows, len(cut.Pieces)+2*len(table.Wedges))
	for i, p := range cut.Pieces {
		number := func(n int) string {
			if n == 0 {
				return ""
			}
			return fmt.Sprint(n)
		}
		row := rows[i]
		assert.Equal(t, []string{p.Strake, p.Side, p.Mode, number(p.Strip), number(p.Sheet)}, []string{row["id"], row["side"], row["mode"], row["strip"], row["sheet"]})
	}
}

// tableRows reads a CSV file as rows by its headings.
func tableRows(t *testing.T, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, c := range cells {
			row[all[0][i]] = c
		}
		out = append(out, row)
	}
	return out
}

// stepsGoWithTheTable: the step that shapes a strake tells of its wood, and of a sprung
// one its straight cuts and whom it is clamped with.
func stepsGoWithTheTable(t *testing.T, st *answer.Strake, steps *answer.Steps) {
	t.Helper()
	require.NotEmpty(t, steps.Steps)
	text := steps.Steps[0].Figure
	switch st.Mode {
	case "spiled":
		assert.Contains(t, text, "from sheet", st.ID)
		return
	case "block":
		assert.Contains(t, text, "from a block", st.ID)
		return
	}
	assert.NotContains(t, text, "sheet", st.ID)
	if strings.Contains(text, "strip whole") {
		assert.Len(t, st.Cuts, 2, st.ID)
		return
	}
	for _, c := range st.Cuts {
		if c.Frame != "" {
			assert.Contains(t, text, c.Frame, st.ID)
		}
	}
	for _, id := range st.Set {
		if len(st.Set) > 1 {
			assert.Contains(t, text, id, st.ID)
		}
	}
}
