//go:build linux

package trial

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
)

// format is a format that is read.
type format struct {
	name   string
	ending string
	// sound gives files of it, as text or as the parts of an archive.
	sound []func(w *workshop) (string, []part, error)
	// reads are command lines that read it: FILE is the mutant, OUT what it may write.
	reads []string
	// from is where mutations may begin: at this text, or anywhere where it is empty.
	from string
}

func plain(f func() string) func(*workshop) (string, []part, error) {
	return func(*workshop) (string, []part, error) { return f(), nil, nil }
}

func archived(f func() []part) func(*workshop) (string, []part, error) {
	return func(*workshop) (string, []part, error) { return "", f(), nil }
}

func asset(name string) func(*workshop) (string, []part, error) {
	return func(w *workshop) (string, []part, error) {
		text, err := w.demo(name)
		return text, nil, err
	}
}

const (
	checks   = "check FILE"
	takesOff = "take-off FILE -o OUT"
)

// formats are all that a shell reads; those of pictures are read by the window, and
// tried by a test of the project.
func formats() []format {
	sources := []string{checks, checks, takesOff}
	return []format{
		{name: "plan", ending: ".strakeplan", sound: []func(*workshop) (string, []part, error){asset("skiff.strakeplan"), asset("coaster.strakeplan")},
			reads: []string{checks, checks, "strakes FILE", "girths FILE", "rules FILE"}},
		{name: "record", ending: ".strakeplan", from: `"record"`, sound: []func(*workshop) (string, []part, error){func(w *workshop) (string, []part, error) {
			text, err := w.recorded()
			return text, nil, err
		}}, reads: []string{"record FILE", "record FILE history", "record FILE --json", checks}},
		{name: "points", ending: ".csv", sound: []func(*workshop) (string, []part, error){asset("skiff.csv"), plain(func() string { return "frame,x_mm,y_mm,z_mm\n" + pointsTable("%s,%g,%.3f,%.3f\n") })}, reads: sources},
		{name: "csv", ending: ".csv", sound: []func(*workshop) (string, []part, error){
			plain(func() string {
				return "frame;x (mm);y (mm);z (mm)\r\n" + strings.ReplaceAll(pointsTable("%s;%g;%.3f;%.3f\r\n"), ".", ",")
			}),
			plain(func() string { return "\ufeffframe\tx_cm\ty_cm\tz_cm\tkind\n" + pointsTable("%s\t%g\t%.4f\t%.4f\t\n") }),
		}, reads: sources},
		{name: "list", ending: ".txt", sound: []func(*workshop) (string, []part, error){
			plain(func() string { return "# a list\nname x y z\n" + pointsTable("%s %g %.3f %.3f // a point\n") }),
			plain(func() string { return "name; z_mm; y_mm; x_mm\n" + pointsTable("%[1]s; %.3[4]f; %.3[3]f; %[2]g\n") }),
		}, reads: sources},
		{name: "girths", ending: ".csv", sound: []func(*workshop) (string, []part, error){plain(girthsTable)}, reads: sources},
		{name: "offsets", ending: ".csv", sound: []func(*workshop) (string, []part, error){plain(offsetsTable)}, reads: append(sources, checks+" --misfits", takesOff+" --fair")},
		{name: "xlsx", ending: ".xlsx", sound: []func(*workshop) (string, []part, error){archived(xlsx)}, reads: sources},
		{name: "ods", ending: ".ods", sound: []func(*workshop) (string, []part, error){archived(ods)}, reads: sources},
		{name: "svg", ending: ".svg", sound: []func(*workshop) (string, []part, error){plain(svgDrawing)}, reads: sources},
		{name: "dxf", ending: ".dxf", sound: []func(*workshop) (string, []part, error){plain(dxfDrawing)}, reads: sources},
		{name: "pdf", ending: ".pdf", sound: []func(*workshop) (string, []part, error){plain(pdfDrawing)}, reads: sources},
		{name: "stl", ending: ".stl", sound: []func(*workshop) (string, []part, error){plain(binarySTL), plain(textSTL)}, reads: sources},
		{name: "obj", ending: ".obj", sound: []func(*workshop) (string, []part, error){plain(objMesh)}, reads: sources},
		{name: "3mf", ending: ".3mf", sound: []func(*workshop) (string, []part, error){archived(threeMF)}, reads: sources},
		{name: "marks", ending: ".csv", sound: []func(*workshop) (string, []part, error){plain(marksTable)}, reads: []string{"record disk/plan.strakeplan photo --side port --band 1 --marks FILE"}},
	}
}

// marksTable are marks in a picture of the demo skiff.
func marksTable() string {
	var b strings.Builder
	b.WriteString("what,frame,x,y,strake,mm,on,px\npicture,,4000,3000\n")
	for i := range 8 {
		x := 600 + 350*i
		fmt.Fprintf(&b, "upper,F%d,%d,700\nrabbet,F%d,%d,1900.5\nabove,F%d,%d,1100\nbelow,F%d,%d,1500,,,,2\n", i+3, x, i+3, x+3, i+3, x+1, i+3, x+2)
	}
	return b.String()
}

func mutants() []trial {
	var out []trial
	for _, f := range formats() {
		out = append(out, trial{name: "mutants-" + f.name, does: "spoilt files, " + f.name + ": exit 0 or 1, one sentence, under 5 s of processor time, nothing left",
			full: 2000, short: 1, once: f.once})
	}
	return out
}

// allSound is an error where a sound file is not read as one: then its mutants would try
// nothing.
func (f format) allSound(w *workshop) error {
	_, err := kept(w, "sound "+f.name, func() (bool, error) {
		for i := range f.sound {
			if err := f.isSound(&attempt{workshop: w, n: 1}, i); err != nil {
				return false, fmt.Errorf("the sound file %d is not read: %w", i+1, err)
			}
		}
		return true, nil
	})
	return err
}

func (f format) isSound(a *attempt, i int) (err error) {
	if a.dir, err = os.MkdirTemp(a.workshop.dir, "sound"); err != nil {
		return err
	}
	text, parts, err := f.sound[i](a.workshop)
	if err != nil {
		return err
	}
	if parts != nil {
		if text, err = packed(parts); err != nil {
			return err
		}
	}
	for _, line := range f.reads {
		if f.name == "marks" {
			continue // these lie in no picture, and are refused as such
		}
		r, err := f.read(a, line, text)
		if err != nil {
			return err
		}
		if r.code != 0 {
			return fmt.Errorf("%v", r)
		}
	}
	return nil
}

// once makes one mutant and has it read.
func (f format) once(a *attempt) error {
	if !a.Short {
		if err := f.allSound(a.workshop); err != nil {
			return err
		}
	}
	text, parts, err := f.sound[a.rng.IntN(len(f.sound))](a.workshop)
	if err != nil {
		return err
	}
	if parts == nil {
		at := max(strings.Index(text, f.from), 0)
		text = text[:at] + mutated(a.rng, text[at:])
	} else {
		inside := a.rng.IntN(10) < 7
		if inside { // the part that holds the table or the mesh, most often
			i := len(parts) - 1
			if a.rng.IntN(4) == 0 {
				i = a.rng.IntN(len(parts))
			}
			parts[i].text = mutated(a.rng, parts[i].text)
		}
		if text, err = packed(parts); err != nil {
			return err
		}
		if !inside {
			text = mutated(a.rng, text)
		}
	}
	_, err = f.read(a, pick(a.rng, f.reads...), text)
	return err
}

// read has the program read a file, and tells what is wrong with how it did.
func (f format) read(a *attempt, line, text string) (ran, error) {
	file, out := "mutant"+f.ending, "out.strakeplan"
	if err := os.WriteFile(a.in(file), []byte(text), 0o644); err != nil {
		return ran{}, err
	}
	if f.name == "pdf" && a.n%2 == 1 {
		if err := os.WriteFile(a.in("mutant.csv"), []byte(pdfTable()), 0o644); err != nil {
			return ran{}, err
		}
	}
	if f.name == "marks" {
		if err := os.MkdirAll(a.in("disk"), 0o755); err != nil {
			return ran{}, err
		}
		if _, _, err := a.asset("skiff.strakeplan", "disk/plan.strakeplan"); err != nil {
			return ran{}, err
		}
	}
	_ = os.Remove(a.in(out)) // as a rule there is none
	was, err := contents(a.dir)
	if err != nil {
		return ran{}, err
	}
	args := strings.Fields(line)
	for i, word := range args {
		args[i] = strings.NewReplacer("FILE", file, "OUT", out).Replace(word)
	}
	r := a.run(args...)
	if err := r.plain(); err != nil {
		return r, err
	}
	if r.code == 0 && slices.Contains(args, out) {
		if _, err := os.Stat(a.in(out)); err != nil {
			return r, fmt.Errorf("what it says it wrote is not there: %v", r)
		}
		return r, a.untouched(was, out)
	}
	return r, a.untouched(was)
}

// What may take the place of a number or a word.
var (
	numbers = []string{"0", "-0", "-1", "1e308", "-1e308", "1e999", "1e-320", "NaN", "Inf", "-Infinity", "0x1p9", "1_000", "1,5", "99999999999999999999", "1e5", "0.1", "1/2", "٣", "2147483648", "-9223372036854775809", "00012", ""}
	words   = []string{"", "null", "true", "[]", "{}", `"`, "''", "\x00", "\x1b[31m", "\u202e", "\ufeff", "\xff", "é", "frame", "F1", "A", "M0 0", "z", "id", "%s", "../../x", "&amp;", "<g>", "</g>", "<![CDATA[", "]]>", "\r", "\n\n", "#", "//", ";", "\t", "EOF", "endsolid", "(", ")"}
)

// mutated spoils a text in one to four ways.
func mutated(rng *rand.Rand, text string) string {
	b := []byte(text)
	for range 1 + rng.IntN(4) {
		b = mutation(rng, b)
	}
	return string(b)
}

// span is a stretch of so many bytes, as a rule short.
func span(rng *rand.Rand, n int) (from, to int) {
	if n == 0 {
		return 0, 0
	}
	from = rng.IntN(n)
	most := pick(rng, 1, 4, 30, 200, n)
	return from, min(n, from+1+rng.IntN(most))
}

func mutation(rng *rand.Rand, b []byte) []byte {
	from, to := span(rng, len(b))
	put := func(text string) []byte { return slices.Concat(b[:from], []byte(text), b[to:]) }
	switch rng.IntN(10) {
	case 0: // a bit
		if len(b) > 0 {
			b = slices.Clone(b)
			b[from] ^= 1 << rng.IntN(8)
		}
		return b
	case 1: // bytes of all kinds
		out := make([]byte, rng.IntN(12))
		for i := range out {
			out[i] = byte(rng.Uint32())
		}
		return put(string(out))
	case 2:
		return put("")
	case 3: // said again
		const most = 40
		times := 1 + rng.IntN(most)
		return slices.Concat(b[:to], slices.Repeat(b[from:min(to, from+2000)], times), b[to:])
	case 4:
		return b[:from]
	case 5: // moved elsewhere
		piece := slices.Clone(b[from:to])
		rest := slices.Concat(b[:from], b[to:])
		at := rng.IntN(len(rest) + 1)
		return slices.Concat(rest[:at], piece, rest[at:])
	case 6:
		return put(pick(rng, words...))
	case 7: // lines change places
		lines := strings.SplitAfter(string(b), "\n")
		i, j := rng.IntN(len(lines)), rng.IntN(len(lines))
		lines[i], lines[j] = lines[j], lines[i]
		return []byte(strings.Join(lines, ""))
	default: // a number
		for from < len(b) && !digit(b[from]) {
			from++
		}
		for to = from; to < len(b) && digit(b[to]); {
			to++
		}
		if from == to {
			return b
		}
		if rng.IntN(3) == 0 { // a little more or less
			b = slices.Clone(b)
			if at := from + rng.IntN(to-from); b[at] >= '0' && b[at] <= '9' {
				b[at] = '0' + byte(rng.IntN(10))
			}
			return b
		}
		return put(pick(rng, numbers...))
	}
}

func digit(c byte) bool { return c >= '0' && c <= '9' || c == '.' || c == '-' }
