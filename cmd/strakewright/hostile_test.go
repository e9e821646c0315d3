//go:build unix

package main

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a file made to harm, or the wrong file, may cost: this much of the
// program's time, and this much memory, before it is refused.
const (
	soonRefused = 2 * time.Second
	littleRoom  = 500 << 20 // bytes
)

const (
	svgHead    = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100">`
	pointsHead = "frame,x_mm,y_mm,z_mm\n"
	girthsHead = "frame,x_mm,girth_mm\n"
	planHead   = `{"version":1,"title":"Sprat","hull":{"frames":[`
)

// hostile are files by name, each with what writes it, a piece at a time so
// that the memory of this test stays small. Those that are full fill nearly all
// of the size that is read of their kind; larger ones are refused by that alone.
var hostile = map[string]func(w *bufio.Writer){
	"empty.csv":          text(""),
	"blank.csv":          text("\n\n  \n"),
	"zeros.csv":          times(64<<20, "\x00"),
	"one-line.csv":       full(19<<20, "7"),
	"commas.csv":         after(pointsHead, full(19<<20, ",")),
	"quoted.csv":         after(pointsHead, full(19<<20, "\"\n\",")),
	"quote.csv":          after(pointsHead+`"`, full(19<<20, "A")),
	"lines.csv":          full(19<<20, "\n"),
	"many-frames.csv":    rows(pointsHead, 19<<20, func(i int) string { return fmt.Sprintf("F%d,%d,1,2\n", i, i) }),
	"many-points.csv":    after(pointsHead, full(19<<20, "A,1,2,3\n")),
	"many-girths.csv":    rows(girthsHead, 19<<20, func(i int) string { return fmt.Sprintf("F%d,%d,1\n", i, i) }),
	"nan.csv":            text(pointsHead + "A,NaN,1,2\nA,0,1,1\n"),
	"infinite.csv":       text(pointsHead + "A,0,Inf,2\nA,0,-Infinity,1\n"),
	"huge.csv":           text(pointsHead + "A,1e308,1e308,1e308\nA,1e308,-1e308,1e307\n"),
	"overflow.csv":       text(pointsHead + "A,1e999,1,2\nA,0,1,1\n"),
	"hex.csv":            text(pointsHead + "A,0x1p9999,1,2\nA,0,1,1\n"),
	"long-number.csv":    after(pointsHead+"A,", full(19<<20, "9")),
	"utf16.csv":          text("\xff\xfef\x00r\x00a\x00m\x00e\x00,\x00x\x00_\x00m\x00m\x00\n\x00"),
	"latin1.csv":         text(pointsHead + "Gro\xdfe,0,1,2\n"),
	"offsets-wide.csv":   after("station", full(19<<20, ",1")),
	"offsets-deep.csv":   after("station,A,B\nposition,0,10\n", full(19<<20, "half-breadth 1,1,1\n")),
	"spreadsheet.csv":    after("PK\x03\x04", times(1000, "\x00")),
	"nested.strakeplan":  full(63<<20, "["),
	"objects.strakeplan": full(63<<20, `{"a":`),
	"within.strakeplan":  after(planHead+`{"name":"A","extra":`, full(63<<20, "[")),
	"frames.strakeplan":  after(planHead, full(63<<20, `{"name":"A"},`)),
	"points.strakeplan":  after(planHead+`{"name":"A","points":[`, full(63<<20, `[1,2,3],`)),
	"string.strakeplan":  after(`{"version":1,"title":"`, full(63<<20, "A")),
	"keys.strakeplan":    rows(`{"version":1`, 63<<20, func(i int) string { return fmt.Sprintf(`,"k%d":0`, i) }),
	"huge.strakeplan":    text(planHead + `{"name":"A","points":[[1e308,1,2],[1e999,1,1]]}]}}`),
	"newer.strakeplan":   text(`{"version":99999999999999999999}`),
	"entities.svg": text(`<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>` +
		svgHead + `<path id="A-x-0" d="&c;"/></svg>`),
	"outside.svg":    text(`<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///dev/zero">]>` + svgHead + `<path id="A-x-0" d="&a;"/></svg>`),
	"doctype.svg":    after("<!DOCTYPE svg [", full(31<<20, `<!ENTITY a "a">`)),
	"nested.svg":     after(svgHead, full(31<<20, "<g>")),
	"elements.svg":   after(svgHead, full(31<<20, "<g/>")),
	"comment.svg":    after(svgHead+"<!--", full(31<<20, "-")),
	"name.svg":       after("<", full(31<<20, "a")),
	"attributes.svg": rows(svgHead+"<path", 31<<20, func(i int) string { return fmt.Sprintf(` a%d=""`, i) }),
	"transforms.svg": after(svgHead+`<g transform="`, full(31<<20, "rotate(1) ")),
	"path.svg":       after(svgHead+`<path id="A-x-0" d="M0 0`, full(31<<20, "a9 9 0 0 1 9 9")),
	"nan.svg":        text(svgHead + `<path id="A-x-0" d="MNaN 0L1 1"/><path id="upper" d="M0 0L1e999 1"/></svg>`),
	"far.svg":        text(svgHead + `<path id="A-x-0" transform="scale(1e300)" d="M0 0C1e300 1e300 1e300 1e300 1e300 1e300"/></svg>`),
	"utf16.svg":      text("\xfe\xff\x00<\x00s\x00v\x00g\x00>"),
	"packed.svg":     text("\x1f\x8b\x08\x00\x00\x00\x00\x00\x00\x03"),
	"copies.svg":     copies,
	"blocks.dxf":     blocks,
	"array.dxf":      text(dxf("BLOCKS", 0, "BLOCK", 2, "b", 10, 0, 20, 0, 0, "LINE", 8, "A-x-0", 10, 0, 20, 0, 11, 1, 21, 1, 0, "ENDBLK") + dxf("ENTITIES", 0, "INSERT", 2, "b", 70, 32767, 71, 32767, 44, 1, 45, 1) + "0\nEOF\n"),
	"nan.dxf":        text(dxf("ENTITIES", 0, "LINE", 8, "A-x-0", 10, "NaN", 20, 0, 11, 1, 21, "Inf") + "0\nEOF\n"),
	"far.dxf":        text(dxf("ENTITIES", 0, "CIRCLE", 8, "A-x-0", 10, 1e300, 20, 1e300, 40, 1e308) + "0\nEOF\n"),
	"knots.dxf":      after("0\nSECTION\n2\nENTITIES\n0\nSPLINE\n8\nA-x-0\n71\n3\n", full(15<<20, "40\n1\n10\n1\n20\n1\n")),
	"degree.dxf":     text(dxf("ENTITIES", 0, "SPLINE", 8, "A-x-0", 71, 2000000000, 72, 2000000000, 73, 2000000000) + "0\nEOF\n"),
	"lines.dxf":      after("0\nSECTION\n2\nENTITIES\n", full(15<<20, "0\nLINE\n8\nA-x-0\n10\n0\n20\n0\n11\n1\n21\n1\n")),
	"endless.dxf":    full(15<<20, "0\n"),
	"binary.dxf":     text("AutoCAD Binary DXF\r\n\x1a\x00\x00\x00SECTION\x00"),
	"program.csv":    after("\x7fELF\x02\x01\x01", times(1<<20, "\x00\xff")),
}

func text(s string) func(*bufio.Writer) { return func(w *bufio.Writer) { w.WriteString(s) } }

func times(n int, s string) func(*bufio.Writer) {
	return func(w *bufio.Writer) {
		for range n {
			w.WriteString(s)
		}
	}
}

func after(head string, rest func(*bufio.Writer)) func(*bufio.Writer) {
	return func(w *bufio.Writer) {
		w.WriteString(head)
		rest(w)
	}
}

// full repeats s up to so many bytes.
func full(bytes int, s string) func(*bufio.Writer) { return times(bytes/len(s), s) }

// rows writes rows, each with its number, up to so many bytes.
func rows(head string, bytes int, row func(i int) string) func(*bufio.Writer) {
	return func(w *bufio.Writer) {
		w.WriteString(head)
		for i := 0; bytes > 0; i++ {
			n, _ := w.WriteString(row(i))
			bytes -= n
		}
	}
}

// copies is a drawing in which each group holds ten copies of the last.
func copies(w *bufio.Writer) {
	w.WriteString(svgHead + `<g id="l0"><path id="A-x-0" d="M0 0L1 1"/></g>`)
	for i := 1; i < 40; i++ {
		fmt.Fprintf(w, `<g id="l%d">%s</g>`, i, strings.Repeat(fmt.Sprintf(`<use xlink:href="#l%d"/>`, i-1), 10))
	}
	w.WriteString("</svg>")
}

// blocks is a drawing in which each block holds ten of the last.
func blocks(w *bufio.Writer) {
	w.WriteString("0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\nb0\n0\nLINE\n8\nA-x-0\n10\n0\n20\n0\n11\n1\n21\n1\n0\nENDBLK\n")
	for i := 1; i < 40; i++ {
		fmt.Fprintf(w, "0\nBLOCK\n2\nb%d\n%s0\nENDBLK\n", i, strings.Repeat(fmt.Sprintf("0\nINSERT\n2\nb%d\n", i-1), 10))
	}
	w.WriteString("0\nENDSEC\n" + dxf("ENTITIES", 0, "INSERT", 2, "b39") + "0\nEOF\n")
}

// dxf is a section of group codes and values.
func dxf(section string, groups ...any) string {
	var b strings.Builder
	fmt.Fprintf(&b, "0\nSECTION\n2\n%s\n", section)
	for i := 0; i < len(groups); i += 2 {
		fmt.Fprintf(&b, "%v\n%v\n", groups[i], groups[i+1])
	}
	return b.String() + "0\nENDSEC\n"
}

// Wrong and hostile files are refused by the program in one sentence, soon and
// with little memory.
func TestHostileFiles(t *testing.T) {
	program, dir := built(t), t.TempDir()
	for name, write := range hostile {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(dir, name)
			require.NoError(t, wrote(path, write))
			defer os.Remove(path)
			turnedAway(t, program, path)
		})
	}
}

// A file that claims, or has, ten gigabytes is refused like any other, and a
// folder, a pipe that gives no end and a device as well.
func TestEndlessFiles(t *testing.T) {
	program, dir := built(t), t.TempDir()
	for _, ext := range []string{".csv", ".strakeplan", ".svg", ".dxf", ".pdf", ""} {
		path := filepath.Join(dir, "vast"+ext)
		require.NoError(t, os.WriteFile(path, []byte("frame"), 0o644))
		require.NoError(t, os.Truncate(path, 10<<30)) // a sparse file: no room is taken
		turnedAway(t, program, path)
	}
	turnedAway(t, program, dir)
	turnedAway(t, program, "/dev/zero")
}

// wrote writes a file in pieces.
func wrote(path string, write func(*bufio.Writer)) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	write(w)
	if err := w.Flush(); err != nil {
		return err
	}
	return f.Close()
}

// turnedAway runs check and take-off on a file, and asserts what they may cost.
// The time is the processor's, which does not tell how busy the machine is.
func turnedAway(t *testing.T, program, path string) {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out.strakeplan")
	for _, args := range [][]string{{"check", path}, {"take-off", path, "-o", out}} {
		cmd := exec.Command(program, args...)
		cmd.Env = append(os.Environ(), "GOMAXPROCS=2") // as on the smallest machine it is made for
		var said bytes.Buffer
		cmd.Stderr = &said
		require.Error(t, cmd.Run(), "%v was not refused", args[0])
		assert.Equal(t, 1, cmd.ProcessState.ExitCode(), "%v: %.300s", args[0], said.String())
		cost := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
		room := peak(cmd.ProcessState)
		assert.Less(t, cost, soonRefused, "%v: the processor's time", args[0])
		assert.Less(t, room, int64(littleRoom), "%v: memory, bytes", args[0])
		first := firstSentence(t, said.String())
		t.Logf("%s: %.2f s, %d MiB: %.160s", args[0], cost.Seconds(), room>>20, first)
	}
	_, err := os.Stat(out)
	assert.ErrorIs(t, err, os.ErrNotExist, "a plan was written")
}

// peak gives the most memory, bytes, that a process held. It is never less than
// what this test held when it started the process.
func peak(p *os.ProcessState) int64 {
	most := int64(p.SysUsage().(*syscall.Rusage).Maxrss)
	if runtime.GOOS == "darwin" {
		return most
	}
	return most << 10
}

// firstSentence asserts that what was said is short and plain, with no trace of
// the program in it, and gives its first line.
func firstSentence(t *testing.T, said string) string {
	t.Helper()
	assert.NotContains(t, said, "goroutine")
	assert.Less(t, len(said), 4000)
	first, _, _ := strings.Cut(said, "\n")
	assert.Regexp(t, `^strakewright: .*[.]$`, first)
	assert.Less(t, len(first), 600)
	return first
}
