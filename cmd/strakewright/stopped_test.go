package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets"
)

// TestEveryCommandStops stops each command in every work of its own that can be stopped,
// in turn: the first, the second, until it comes to its end. It says in one sentence that it
// was stopped, answers nothing and leaves the folder as it was. (Work that looks at its
// context only seldom is found where it is done, by counting how often it looks.)
func TestEveryCommandStops(t *testing.T) {
	for line, works := range map[string]int{
		"check skiff.strakeplan":                                   1,
		"check skiff.csv":                                          1,
		"check skiff.csv --misfits":                                2,
		"take-off skiff.csv -o new.strakeplan":                     1,
		"take-off skiff.csv --fair --within 0.1 -o new.strakeplan": 2,
		"girths skiff.strakeplan":                                  1,
		"lie skiff.strakeplan --frame F2 --down 10":                1,
		"line skiff.strakeplan --bands 1 -o new.strakeplan":        2,
		"hold skiff.strakeplan --strake 1.02":                      2,
		"strakes skiff.strakeplan":                                 1,
		"strakes skiff.strakeplan --march":                         2,
		"stock skiff.strakeplan --cutting":                         2,
		"flat skiff.strakeplan --strake 1.02":                      1,
		"layers skiff.strakeplan":                                  1,
		"layers skiff.strakeplan --layer 1 --thickness 0.5":        2,
		"rules skiff.strakeplan":                                   1,
		"record skiff.strakeplan show":                             2,
		"record skiff.strakeplan options --side port --band 1":     2,
		"record skiff.strakeplan order":                            2,
		"sheets skiff.strakeplan -o new":                           2,
	} {
		t.Run(line, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			csv, err := os.ReadFile("../../assets/skiff.csv")
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, "skiff.csv"), csv, 0o644))
			require.NoError(t, os.WriteFile(filepath.Join(dir, "skiff.strakeplan"), assets.Skiff(), 0o644))
			var words []string
			for w := range strings.FieldsSeq(line) {
				if strings.HasPrefix(w, "skiff.") || strings.HasPrefix(w, "new") {
					w = filepath.Join(dir, w)
				}
				words = append(words, w)
			}
			for n := range works {
				code, out, said := stoppedIn(t, n, words)
				require.Equal(t, 1, code, "in work %d: %s%s", n+1, out, said)
				assert.Equal(t, "strakewright: stopped: nothing was written.\n", said)
				assert.Empty(t, out)
				files, err := os.ReadDir(dir)
				require.NoError(t, err)
				assert.Len(t, files, 2, "in work %d", n+1)
			}
			code, _, said := stoppedIn(t, works, words)
			assert.Zero(t, code, said)
		})
	}
}

// stoppedIn does a command line of which one work, counted from 0, is stopped before it begins.
func stoppedIn(t *testing.T, work int, words []string) (code int, out, said string) {
	t.Helper()
	stopped, stop := context.WithCancel(t.Context())
	stop()
	var answer, messages bytes.Buffer
	begun := 0
	s := &streams{out: &answer, messages: &messages, within: func() context.Context {
		defer func() { begun++ }()
		if begun == work {
			return stopped
		}
		return t.Context()
	}}
	code = exitCode(s.do(words), &messages)
	return code, answer.String(), messages.String()
}
