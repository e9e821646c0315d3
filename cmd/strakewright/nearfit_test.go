package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw/proof"
	"github.com/strakewright/strakewright/hull"
)

// cuttingList is what is read of stock --cutting.
type cuttingList struct {
	Cutting []struct {
		Lots []struct {
			Strips []struct {
				Length float64
				Pieces []int
				Left   float64
			}
			Optimal bool
		}
		Pieces []struct {
			Number, Strip int
			Length        float64
		}
	}
}

// cutFrom asks the program for the cutting list of the skiff from strips of a length.
func cutFrom(t *testing.T, length float64) (out cuttingList, pieces []float64) {
	t.Helper()
	p, err := hull.OpenFile(filepath.Join("..", "..", "assets", "skiff.strakeplan"))
	require.NoError(t, err)
	p.Layers[0].Stock.Length = length
	plan := filepath.Join(t.TempDir(), "skiff.strakeplan")
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	require.NoError(t, os.WriteFile(plan, b.Bytes(), 0o600))
	var answer, messages bytes.Buffer
	require.Zero(t, run([]string{"stock", plan, "--cutting", "--json"}, &answer, &messages), messages.String())
	require.NoError(t, json.Unmarshal(answer.Bytes(), &out))
	for _, piece := range out.Cutting[0].Pieces {
		if piece.Strip > 0 {
			pieces = append(pieces, piece.Length)
		}
	}
	return out, pieces
}

// TestCuttingListTakesWhatJustFits: where a hundredth of a millimetre decides, the program's
// cutting list takes as few strips as an integer program does (glpsol, GNU Linear Programming
// Kit), and says that this is the least.
func TestCuttingListTakesWhatJustFits(t *testing.T) {
	glpsol := proof.Installed(t, "glpsol")
	_, pieces := cutFrom(t, 600)
	require.Len(t, pieces, 4)
	longest, shortest := pieces[0], pieces[0]
	for _, l := range pieces {
		longest, shortest = max(longest, l), min(shortest, l)
	}
	pair := longest + shortest + hull.NewCutting().Kerf
	for length, want := range map[float64]int{pair + 0.01: 2, pair - 0.01: 3} {
		list, pieces := cutFrom(t, length)
		lot := list.Cutting[0].Lots[0]
		assert.Len(t, lot.Strips, want, "strips of %.4f mm", length)
		assert.Len(t, lot.Strips, fewestStrips(t, glpsol, pieces, length, hull.NewCutting().Kerf))
		assert.True(t, lot.Optimal)
		for _, s := range lot.Strips {
			assert.GreaterOrEqual(t, s.Left, 0.0)
		}
	}
}

// fewestStrips has an integer program share pieces among strips.
func fewestStrips(t *testing.T, glpsol string, pieces []float64, length, kerf float64) int {
	t.Helper()
	var goal, once, room, binary strings.Builder
	for j := range pieces {
		fmt.Fprintf(&goal, " + y%d", j)
		fmt.Fprintf(&binary, " y%d\n", j)
		fmt.Fprintf(&room, " r%d:", j)
		for i, l := range pieces {
			fmt.Fprintf(&room, " + %.9f x%d_%d", l+kerf, i, j)
			fmt.Fprintf(&binary, " x%d_%d\n", i, j)
		}
		fmt.Fprintf(&room, " - %.9f y%d <= 0\n", length+kerf, j)
	}
	for i := range pieces {
		fmt.Fprintf(&once, " p%d:", i)
		for j := range pieces {
			fmt.Fprintf(&once, " + x%d_%d", i, j)
		}
		fmt.Fprint(&once, " = 1\n")
	}
	model := filepath.Join(t.TempDir(), "cut.lp")
	require.NoError(t, os.WriteFile(model, []byte("Minimize\n strips:"+goal.String()+"\nSubject To\n"+once.String()+room.String()+"Binary\n"+binary.String()+"End\n"), 0o600))
	result := model + ".txt"
	out, err := exec.Command(glpsol, "--lp", model, "-o", result).CombinedOutput()
	require.NoError(t, err, string(out))
	text, err := os.ReadFile(result)
	require.NoError(t, err)
	found := regexp.MustCompile(`INTEGER OPTIMAL[\s\S]*Objective: +strips = (\d+)`).FindSubmatch(text)
	require.NotNil(t, found, string(text))
	n, err := strconv.Atoi(string(found[1]))
	require.NoError(t, err)
	return n
}
