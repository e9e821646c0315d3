package main

import (
	"bytes"
	"encoding/base64"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull/visible"
)

// badInput is one file of the kit of bad inputs in testdata/refused: a head, a free
// line, and what stands in the bad file. The head has a key and a value a line:
//
//	what:  what is wrong, for who reads the kit
//	name:  the bad file's name, in quotes with escapes where it needs them (default:
//	       bad.strakeplan)
//	make:  in place of content: folder, pipe, socket, sparse BYTES, link TARGET, or missing
//	body:  base64 where the content is no text
//	run:   a command line with FILE in it, or several; default: every command that
//	       reads a plan or a source
//	exit:  the exit code (default 1)
//	says:  the exact refusal, without the name of the program, FILE standing for
//	       the bad file and OUT for what it would have written; of several faults check tells all, and the others the first
type badInput struct {
	name, make, body, content string
	runs, says                []string
	exit                      int
}

// readers are the command lines that a bad plan or source is put to. Those that
// would write must write nothing.
var readers = []string{
	"check FILE", "take-off FILE -o OUT", "girths FILE", "lie FILE --frame A --down 5", "line FILE -o OUT", "strakes FILE",
	"stock FILE --widths 4,5", "flat FILE --strake 1.01", "sheets FILE -o OUT", "record FILE", "record FILE history --csv OUT",
	"record FILE note --side port --doing glued --strake 1.01", "open FILE",
}

// TestRefused runs the kit: each bad input is refused in the words that it names,
// with its exit code, by every command, and nothing is written.
func TestRefused(t *testing.T) {
	kit, err := filepath.Glob("testdata/refused/*.txt")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(kit), 50)
	for _, file := range kit {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			if name := filepath.Base(file); runtime.GOOS == "windows" && (strings.HasPrefix(name, "special-") || strings.HasPrefix(name, "out-")) {
				t.Skip("the system says it in other words")
			}
			readBad(t, file).check(t)
		})
	}
}

func readBad(t *testing.T, path string) badInput {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	head, content, _ := strings.Cut(string(data), "\n\n")
	r := badInput{name: "bad.strakeplan", content: content, exit: 1}
	for line := range strings.Lines(head) {
		key, value, ok := strings.Cut(strings.TrimSuffix(line, "\n"), ": ")
		require.True(t, ok, line)
		switch key {
		case "what":
		case "name":
			if r.name = value; strings.HasPrefix(value, `"`) {
				r.name, err = strconv.Unquote(value)
				require.NoError(t, err)
			}
		case "make":
			r.make = value
		case "body":
			r.body = value
		case "run":
			r.runs = append(r.runs, value)
		case "exit":
			r.exit, err = strconv.Atoi(value)
			require.NoError(t, err)
		case "says":
			r.says = append(r.says, value)
		default:
			t.Fatalf("there is no key %q", key)
		}
	}
	if r.body == "base64" {
		b, err := base64.StdEncoding.DecodeString(strings.ReplaceAll(content, "\n", ""))
		require.NoError(t, err)
		r.content = string(b)
	}
	require.NotEmpty(t, r.says)
	if len(r.runs) == 0 {
		r.runs = readers
	}
	if strings.HasPrefix(r.content, "{") { // a plan is nothing to take a hull off, however sound
		r.runs = slices.DeleteFunc(slices.Clone(r.runs), func(line string) bool { return strings.HasPrefix(line, "take-off") })
	}
	return r
}

func (r badInput) check(t *testing.T) {
	dir := t.TempDir()
	bad, out := filepath.Join(dir, r.name), filepath.Join(dir, "out")
	if r.make == "" {
		require.NoError(t, os.WriteFile(bad, []byte(r.content), 0o644))
	} else {
		makeSpecial(t, r.make, bad)
	}
	before := listed(t, dir)
	for _, line := range r.runs {
		args := strings.Fields(line)
		for i, a := range args {
			args[i] = strings.NewReplacer("FILE", bad, "OUT", out).Replace(a)
		}
		var printed, messages bytes.Buffer
		code := run(args, &printed, &messages)
		assert.Equal(t, r.exit, code, line)
		says := r.says
		if args[0] != "check" {
			says = says[:1]
		}
		var want strings.Builder
		for _, s := range says {
			want.WriteString("strakewright: " + s + "\n")
		}
		if r.exit == 2 {
			want.WriteString("strakewright --help names the commands, and COMMAND --help their flags.\n")
		}
		said := ""
		for told := range strings.Lines(messages.String()) {
			if !progressLine.MatchString(told) {
				said += told
			}
		}
		assert.Equal(t, want.String(), strings.NewReplacer(visible.Text(bad), "FILE", out, "OUT").Replace(said), line)
		if args[0] != "check" {
			assert.Empty(t, printed.String(), line)
		}
		assert.Equal(t, before, listed(t, dir), "%s: what is in the folder", line)
	}
}

// listed is what stands in a folder.
func listed(t *testing.T, dir string) []string {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var out []string
	for _, e := range entries {
		info, err := e.Info()
		require.NoError(t, err)
		out = append(out, e.Name()+" "+strconv.FormatInt(info.Size(), 10))
	}
	return out
}
