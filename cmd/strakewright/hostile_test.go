//go:build unix

package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/strakewright/strakewright/hull/source/sourcetest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a file made to harm, or the wrong file, may cost before it is refused: so
// many statements for each byte that is read of it and besides (and for each pair of
// stretches of a frame, of which there are a thousand at the most), and so much memory. A search that is not bounded, or that grows as the square of the file,
// takes thousands of times as many.
const (
	stepsByte  = 40
	stepsMore  = 100e6
	stepsPair  = 15
	mostRead   = 64 << 20  // bytes, of the kind of which most is read
	littleRoom = 400 << 20 // bytes: what a reader may take, a hundred MiB over what it keeps to
	// hung is when a program counts as one that never ends.
	hung = 5 * time.Minute
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
	"fan.obj":            after("v 0 0 0\nv 300 9 0\nv 300 0 9\nv 0 9 9\n", full(3<<20, "f 1 2 3\nf 1 3 4\n")),
	"facets.obj":         rows("o a\n", 3<<20, func(i int) string { return fmt.Sprintf("v 0 %d 0\nv 300 9 %d\nv 300 0 9\nf -1 -2 -3\n", i%900, i%700) }),
	"words.stl":          after("solid a\nfacet\nvertex ", full(16<<20, "9")),
	"corners.obj":        full(26<<20, "v 1 2 3\n"),
	"face.obj":           after("v 1 2 3\nf ", full(16<<20, "1 ")),
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
	"itself.svg":     text(svgHead + `<g id="a"><use xlink:href="#a"/><use xlink:href="#a"/></g></svg>`),
	"pieces.svg":     text(svgHead + `<g id="A-x-0">` + strings.Repeat(`<path d="M0 0h1"/>`, 150000) + `</g></svg>`),
	"outlines.svg":   text(svgHead + strings.Repeat(`<path id="A" d="M0 0h1"/>`, 150000) + `</svg>`),
	"number.svg":     after(svgHead+`<path id="A-x-0" d="M`, full(31<<20, "9")),
	"marked.svg":     marked,
	"blocks.dxf":     blocks,
	"array.dxf":      text(dxf("BLOCKS", 0, "BLOCK", 2, "b", 10, 0, 20, 0, 0, "LINE", 8, "A-x-0", 10, 0, 20, 0, 11, 1, 21, 1, 0, "ENDBLK") + dxf("ENTITIES", 0, "INSERT", 2, "b", 70, 32767, 71, 32767, 44, 1, 45, 1) + "0\nEOF\n"),
	"nan.dxf":        text(dxf("ENTITIES", 0, "LINE", 8, "A-x-0", 10, "NaN", 20, 0, 11, 1, 21, "Inf") + "0\nEOF\n"),
	"far.dxf":        text(dxf("ENTITIES", 0, "CIRCLE", 8, "A-x-0", 10, 1e300, 20, 1e300, 40, 1e308) + "0\nEOF\n"),
	"knots.dxf":      after("0\nSECTION\n2\nENTITIES\n0\nSPLINE\n8\nA-x-0\n71\n3\n", full(15<<20, "40\n1\n10\n1\n20\n1\n")),
	"degree.dxf":     text(dxf("ENTITIES", 0, "SPLINE", 8, "A-x-0", 71, 2000000000, 72, 2000000000, 73, 2000000000) + "0\nEOF\n"),
	"lines.dxf":      after("0\nSECTION\n2\nENTITIES\n", full(15<<20, "0\nLINE\n8\nA-x-0\n10\n0\n20\n0\n11\n1\n21\n1\n")),
	"itself.dxf":     text(dxf("BLOCKS", 0, "BLOCK", 2, "b", 0, "INSERT", 2, "b", 0, "INSERT", 2, "b", 0, "ENDBLK") + dxf("ENTITIES", 0, "INSERT", 2, "b") + "0\nEOF\n"),
	"pieces.dxf":     after("0\nSECTION\n2\nENTITIES\n", after(strings.Repeat("0\nLINE\n8\nA-x-0\n10\n0\n20\n0\n11\n1\n21\n1\n", 100000), text("0\nENDSEC\n0\nEOF\n"))),
	"corners.dxf":    after("0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n8\nA-x-0\n", full(15<<20, "10\n1\n20\n2\n42\n1e9\n")),
	"value.dxf":      after("0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n", full(15<<20, "A")),
	"endless.dxf":    full(15<<20, "0\n"),
	"binary.dxf":     text("AutoCAD Binary DXF\r\n\x1a\x00\x00\x00SECTION\x00"),
	"program.csv":    after("\x7fELF\x02\x01\x01", times(1<<20, "\x00\xff")),
}

func text(s string) func(*bufio.Writer) { return func(w *bufio.Writer) { w.WriteString(s) } }

// times writes s n times, many at once where it is short.
func times(n int, s string) func(*bufio.Writer) {
	return func(w *bufio.Writer) {
		many := max(4096/len(s), 1)
		text := strings.Repeat(s, many)
		for range n / many {
			w.WriteString(text)
		}
		w.WriteString(text[:n%many*len(s)])
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

const (
	centreLine = `<line id="centre" x1="100" y1="0" x2="100" y2="100"/>`
	toAndFro   = "l1 1l-1-1"
)

// crossed is a drawing whose outlines go to and fro over each other.
func crossed(w *bufio.Writer) {
	fmt.Fprintf(w, `%s%s<path id="upper" d="M0 0%s"/>`, svgHead, centreLine, strings.Repeat(toAndFro, 95))
	for k := range 99 {
		fmt.Fprintf(w, `<path id="A%d-x-%d" d="M0 0%s"/>`, k, k*10, strings.Repeat(toAndFro, 900))
	}
	w.WriteString("</svg>")
}

// marked is a drawing whose limits go to and fro over one outline.
func marked(w *bufio.Writer) {
	mark := strings.Repeat(toAndFro, 190)
	fmt.Fprintf(w, `%s<path id="upper" d="M0 0%s"/><path id="rabbet" d="M0 0%s"/>%s<path id="A-x-0" d="M0 0%s"/></svg>`,
		svgHead, mark, mark, centreLine, strings.Repeat(toAndFro, 90000))
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

// TestHostileFiles holds what files cost the program against what they may.
func TestHostileFiles(t *testing.T) {
	program := counting(t)
	t.Run("made to harm", func(t *testing.T) { refusesHarm(t, program) })
	t.Run("endless", func(t *testing.T) { refusesEndless(t, program) })
	t.Run("largest", func(t *testing.T) { takesLargest(t, program) })
}

// Wrong and hostile files are refused by the program in one sentence, with
// little work and little memory.
func refusesHarm(t *testing.T, program string) {
	dir := t.TempDir()
	for name, write := range hostile {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(dir, name)
			require.NoError(t, wrote(path, write))
			defer func() { require.NoError(t, os.Remove(path)) }()
			turnedAway(t, program, path)
		})
	}
}

// The largest files that are read, each as hard to check as can be, take few
// steps, whatever is found in them: points wound up so that every stretch of a frame lies beside many
// others, offsets whose waterlines all cross, and outlines drawn to and fro over
// each other.
func takesLargest(t *testing.T, program string) {
	dir := t.TempDir()
	for name, c := range map[string]struct {
		write func(*bufio.Writer)
		code  int
		pairs int // of stretches, or of lines at a station, that are held against each other
	}{
		"wound.csv":   {wound, 1, 100 * 1000 * 1000 / 2}, // all of it is read, and its girth takes too many strakes
		"offsets.csv": {sourcetest.LargestOffsets, 1, 500 * 190 * 190},
		"crossed.svg": {crossed, 1, 0},
	} {
		path := filepath.Join(dir, name)
		require.NoError(t, wrote(path, c.write))
		at, err := os.Stat(path)
		require.NoError(t, err)
		r := ran(t, program, "check", path)
		assert.Equal(t, c.code, r.code, "%s: %.300s", name, r.said)
		assert.Less(t, r.room, int64(littleRoom), "%s: memory, bytes", name)
		assert.Less(t, r.steps, int(stepsByte*at.Size()+stepsMore)+stepsPair*c.pairs, "%s: statements for %d bytes", name, at.Size())
		t.Logf("%s: %.1f million statements for %d bytes, %d MiB", name, float64(r.steps)/1e6, at.Size(), r.room>>20)
	}
}

// wound is as many points as are read.
func wound(w *bufio.Writer) {
	w.WriteString(pointsHead)
	for i := range 100 {
		for j := range 1000 {
			r, a := 200-0.19*float64(j), 0.2*float64(j)
			fmt.Fprintf(w, "F%d,%d,%g,%g\n", i, 10*i, 300+r*math.Sin(a), r*math.Cos(a))
		}
	}
}

// A file that claims, or has, ten gigabytes is refused like any other, and a
// folder, a pipe that gives no end and a device as well.
func refusesEndless(t *testing.T, program string) {
	dir := t.TempDir()
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
func turnedAway(t *testing.T, program, path string) {
	t.Helper()
	size := mostRead // of what has no size
	if at, err := os.Stat(path); err == nil && at.Mode().IsRegular() {
		size = int(min(at.Size(), mostRead))
	}
	out := filepath.Join(t.TempDir(), "out.strakeplan")
	for _, args := range [][]string{{"check", path}, {"take-off", path, "-o", out}} {
		r := ran(t, program, args...)
		assert.Equal(t, 1, r.code, "%v was not refused: %.300s", args[0], r.said)
		assert.Less(t, r.steps, stepsByte*size+stepsMore, "%v: statements for %d bytes", args[0], size)
		assert.Less(t, r.room, int64(littleRoom), "%v: memory, bytes", args[0])
		first := firstSentence(t, r.said)
		t.Logf("%s: %.1f million statements, %.1f a byte, %d MiB: %.160s", args[0], float64(r.steps)/1e6, float64(r.steps)/float64(max(size, 1)), r.room>>20, first)
	}
	_, err := os.Stat(out)
	assert.ErrorIs(t, err, os.ErrNotExist, "a plan was written")
}

// cost is what a run of the counting program came to.
type cost struct {
	code, steps int
	room        int64  // bytes
	said        string // to standard error
}

// ran runs the counting program to its end.
func ran(t *testing.T, program string, args ...string) cost {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), hung)
	defer stop()
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Env = append(os.Environ(), "GOMAXPROCS=2") // as on the smallest machine it is made for
	dir := t.TempDir()
	counts(cmd, dir)
	var said bytes.Buffer
	cmd.Stderr = &said
	forgetPeak()
	_ = cmd.Run() // its code tells
	require.NoError(t, ctx.Err(), "%v does not end", args)
	return cost{cmd.ProcessState.ExitCode(), statements(t, dir), peak(cmd.ProcessState), said.String()}
}

// forgetPeak has the most memory that this process ever held not count for those that it
// starts: the system tells of none that it held less than its parent had until then. What
// other tests held is handed back, and on Linux the count begins anew (proc_pid_clear_refs(5)).
func forgetPeak() {
	debug.FreeOSMemory()
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0o200) // elsewhere there is none
}

// Other tests may have held much before, which is not the program's.
func TestPeakIsTheProgramsOwn(t *testing.T) {
	if _, err := os.Stat("/proc/self/clear_refs"); err != nil {
		t.Skip("the system tells the most of the two")
	}
	held := bytes.Repeat([]byte{1}, littleRoom)
	require.Len(t, held, littleRoom)
	runtime.KeepAlive(held)
	forgetPeak()
	cmd := exec.Command("true")
	require.NoError(t, cmd.Run())
	assert.Less(t, peak(cmd.ProcessState), int64(littleRoom/2))
}

// peak gives the most memory, bytes, that a process held. It is never less than
// what this test held when it started the process.
func peak(p *os.ProcessState) int64 {
	most := int64(p.SysUsage().(*syscall.Rusage).Maxrss) //nolint:unconvert // 32 bits on some systems
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
	for progressLine.MatchString(said) {
		_, said, _ = strings.Cut(said, "\n")
	}
	first, _, _ := strings.Cut(said, "\n")
	assert.Regexp(t, `^strakewright: .*[.]$`, first)
	assert.Less(t, len(first), 600)
	return first
}
