//go:build linux

package trial

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

func surroundings() []trial {
	return []trial{
		{name: "clock-back", does: "a clock that goes back, or stands in another century: files from the future, notes out of order", full: 40, once: clockBack},
		{name: "home", does: "HOME unset, missing, a file or not writable, no temporary folder, and likewise for the folders of caches: the same answers", full: 80, short: 1, once: noHome},
		{name: "locale", does: "the locales de, tr, C and others, unknown ones, odd time zones: the same files to the byte, and the same figures in whichever language", full: 80, short: 1, once: oddLocale},
		{name: "names", does: "names of files with spaces, quotes, line ends, other scripts, a leading dash, no UTF-8", full: 250, short: 3, once: oddNames},
		{name: "window-odd", does: "the window in such homes, in such locales and on such names: it opens, keeps work and is quiet", full: 30, alone: true, needs: noScreen, once: oddWindow},
	}
}

// clockBack has the plan, what is beside it and its notes come from a later time.
func clockBack(a *attempt) error {
	path, _, err := a.asset("skiff.strakeplan", "plan.strakeplan")
	if err != nil {
		return err
	}
	times := []time.Time{time.Now().Add(48 * time.Hour), time.Now().AddDate(70, 0, 0), time.Unix(0, 0), time.Unix(-1e9, 0), time.Now().AddDate(-30, 0, 0)}
	for n := range 3 {
		when := pick(a.rng, times...)
		if err := os.Chtimes(path, when, when); err != nil {
			return err
		}
		// What a run that was killed, and one that had the plan open, left behind.
		stale := []string{".plan.strakeplan.lock", fmt.Sprintf(".plan.strakeplan.%d-1-0123abcd@%s.part", 1<<30, hostName())}
		for _, name := range stale {
			if err := os.WriteFile(a.in(name), nil, 0o600); err != nil {
				return err
			}
			if err := os.Chtimes(a.in(name), when, when); err != nil {
				return err
			}
		}
		note := noteOf("plan.strakeplan", "port", fmt.Sprintf("1.%02d", 1+n), "glued", 28-9*n, fmt.Sprintf("note %d", n))
		if err := a.run(note...).well(); err != nil {
			return fmt.Errorf("the file dates from %v: %w", when, err)
		}
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	for n := range 3 {
		if note := fmt.Sprintf("note %d", n); !strings.Contains(string(text), note) {
			return fmt.Errorf("%q is not in the file", note)
		}
	}
	if left := namesIn(a.dir); left != "plan.strakeplan\n" {
		return fmt.Errorf("left beside the plan: %q", left)
	}
	for _, what := range []string{"history", "sides", "next"} {
		if err := a.run("record", "plan.strakeplan", what).plain(); err != nil {
			return err
		}
	}
	return nil
}

// hostName is this computer's, as it stands in names of files.
func hostName() string {
	name, _ := os.Hostname() // then it has none
	const longest = 24
	return name[:min(len(name), longest)]
}

// tasks are command lines that read and write, on the files that tasked writes; their
// answers do not depend on the time of day.
var tasks = [][]string{
	{"check", "skiff.csv"},
	{"strakes", "plan.strakeplan"},
	{"strakes", "plan.strakeplan", "--json"},
	{"take-off", "skiff.csv", "-o", "out.strakeplan"},
	{"line", "plan.strakeplan", "-o", "out.strakeplan"},
	{"record", "plan.strakeplan", "note", "--side", "port", "--strake", "1.01", "--doing", "glued", "--date", "2026-03-01"},
	{"rules", "plan.strakeplan"},
	{"stock", "plan.strakeplan", "--widths", "3,4"},
}

// answered is what a task prints and writes.
type answered struct {
	out   string
	files map[string]string
}

// task does a task, in a folder that holds what it needs.
func (a *attempt) task(n int) (answered, error) {
	for from, to := range map[string]string{"skiff.csv": "skiff.csv", "skiff.strakeplan": "plan.strakeplan"} {
		if _, _, err := a.asset(from, to); err != nil {
			return answered{}, err
		}
	}
	r := a.run(tasks[n]...)
	if err := r.well(); err != nil {
		return answered{}, err
	}
	files, err := filesOf(a.dir)
	return answered{r.out, files}, err
}

// figures are the numbers of a text in order of size, whichever language stands around
// them and orders them.
func figures(text string) []string {
	all := regexp.MustCompile(`\d+(\.\d+)*`).FindAllString(text, -1)
	slices.Sort(all)
	return all
}

// same does a task under the attempt's own circumstances, and compares it with what it
// gives under the usual ones: the files to the byte, and what is printed by a function.
func (a *attempt) same(alike func(now, usual string) bool) error {
	n := a.rng.IntN(len(tasks))
	usual, err := kept(a.workshop, fmt.Sprintf("task %d", n), func() (answered, error) {
		dir, err := os.MkdirTemp(a.workshop.dir, "task")
		if err != nil {
			return answered{}, err
		}
		return (&attempt{workshop: a.workshop, dir: dir}).task(n)
	})
	if err != nil {
		return err
	}
	now, err := a.task(n)
	if err != nil {
		return fmt.Errorf("%q: %w", a.env, err)
	}
	if !alike(now.out, usual.out) {
		return fmt.Errorf("%q: %q does not answer as usual: %.200q", a.env, tasks[n], now.out)
	}
	if c := changes(usual.files, now.files); len(c) > 0 {
		return fmt.Errorf("%q: %q does not write as usual: %q", a.env, tasks[n], c)
	}
	return nil
}

// homes are odd places for the user's files, as variables of the environment.
func (a *attempt) homes() [][]string {
	nowhere := filepath.Join(a.workshop.dir, "nowhere")
	return [][]string{
		{"HOME="},
		{"HOME=" + nowhere},
		{"HOME=/dev/null"},
		{"HOME=/proc"},
		{"HOME=relative/home"},
		{"HOME=/sys", "XDG_CACHE_HOME=/sys", "XDG_CONFIG_HOME=/sys"},
		{"XDG_CACHE_HOME=/dev/null", "XDG_CONFIG_HOME=/dev/null", "XDG_DATA_HOME=/dev/null", "XDG_RUNTIME_DIR=/dev/null"},
		{"XDG_CACHE_HOME=relative", "XDG_CONFIG_HOME=relative"},
		{"TMPDIR=" + nowhere},
		{"TMPDIR=/proc", "HOME=/proc"},
		{"HOME=" + nowhere + "\n\x1b[31m", "TMPDIR=\xff"},
		{"PATH=", "HOME="},
	}
}

func noHome(a *attempt) error {
	a.env = pick(a.rng, a.homes()...)
	return a.same(func(now, usual string) bool { return now == usual })
}

// locales are odd languages and times.
var locales = [][]string{
	{"LC_ALL=", "LANG=de_DE.UTF-8"}, {"LC_ALL=de_DE.UTF-8"}, {"LC_ALL=tr_TR.UTF-8"}, {"LC_ALL=", "LANG=tr_TR"}, {"LC_ALL=C"}, {"LC_ALL=POSIX"},
	{"LC_ALL=", "LANG="}, {"LC_ALL=ar_EG.UTF-8"}, {"LC_ALL=ja_JP.eucJP"}, {"LC_ALL=xx_YY.nonsense"}, {"LC_ALL=../../etc"}, {"LC_ALL=\x1b[31m"},
	{"LANGUAGE=tr:de:fr", "LC_ALL=tr_TR.UTF-8"}, {"LC_NUMERIC=de_DE.UTF-8", "LC_ALL="}, {"TZ=Pacific/Kiritimati"}, {"TZ=nonsense"}, {"TZ=/dev/zero"}, {"TZ=:/etc/passwd"},
}

func oddLocale(a *attempt) error {
	a.env = pick(a.rng, locales...)
	return a.same(func(now, usual string) bool { return slices.Equal(figures(now), figures(usual)) })
}

// oddNameOf are names that a file may have.
var oddNameOf = []string{
	"two words", " leading and trailing ", `"quoted"`, "it's", "`backquoted`", "line\nend", "tab\tstop", "carriage\rreturn", "\x1b[31mred\x1b[0m", "bell\a",
	"-dash", "--help", "-o", "%s%d%n", "$HOME", "$(reboot)", "; false", "a&b", "a|b", "*", "?", "[a]", "{a,b}", "#hash", "~", "!", `back\slash`, "100%",
	"Schlüssel", "İstanbul ıI", "船の板", "קרש", "لوح", "доска", "पट्टी", "🚢", "e\u0301", "\u202egnp.nalp", "\u200b", "\ufeffmark", "no\xff\xfeutf", "\xc3",
	"=1+2", "@SUM(A1)", "CON", "nul.txt", "a.b.c", "..a", "...", strings.Repeat("long ", 45), strings.Repeat("ü", 120), "x.strakeplan.lock", ".hidden", "plan.autosave",
}

// oddNames has every kind of file be called so, as a word of the command line by
// itself, behind "--", or as a path.
func oddNames(a *attempt) error {
	name := oddNameOf[(a.n-1)%len(oddNameOf)]
	const longest = 255
	ending := ".strakeplan"
	if len(name)+len(ending) > longest {
		name = name[:longest-len(ending)]
	}
	source, plan := name+".csv", name+ending
	for from, to := range map[string]string{"skiff.csv": source, "skiff.strakeplan": plan} {
		if _, _, err := a.asset(from, to); err != nil {
			return err
		}
	}
	path := func(name string) string { return "./" + name }
	if a.rng.IntN(2) == 0 {
		path = a.in
	}
	var args []string
	var out string
	switch a.rng.IntN(6) {
	case 0:
		args = []string{"check", path(source)}
	case 1:
		if name[0] == '-' {
			args = []string{"check", "--", source}
			break
		}
		args = []string{"check", source}
	case 2:
		out = "out " + name + ending
		if len(out) > longest {
			out = out[4:]
			if err := os.Remove(a.in(plan)); err != nil {
				return err
			}
		}
		args = []string{"take-off", path(source), "-o", path(out)}
	case 3:
		args = noteOf(path(plan), "port", "1.01", "glued", 1, strings.ToValidUTF8(strings.TrimSpace(name), "?"))
	case 4:
		out = name
		args = []string{"sheets", path(plan), "-o", path(out)}
	case 5:
		args = []string{"strakes", path(plan), "--json"}
	}
	r := a.run(args...)
	if !utf8.ValidString(name) && r.code == 2 && strings.Contains(r.said, "this is not UTF-8 text; name files") {
		return nil // as a fault of the command line
	}
	if err := r.plain(); err != nil {
		return err
	}
	if r.code != 0 && a.mayRefuse(args) {
		return nil
	}
	if err := r.well(); err != nil {
		return err
	}
	if out != "" {
		if _, err := os.Stat(a.in(out)); err != nil {
			return fmt.Errorf("what it says it wrote is not there: %v", r)
		}
	}
	want := []string{plan, source}
	if out != "" {
		want = append(want, out)
	}
	for left := range strings.SplitSeq(strings.TrimSuffix(namesBetween(a.dir), "\x00"), "\x00") {
		if !slices.Contains(want, left) {
			return fmt.Errorf("%q is left: %v", left, r)
		}
	}
	return nil
}

// mayRefuse tells the names that are rightly refused: a note with characters that
// cannot be seen.
func (a *attempt) mayRefuse(args []string) bool {
	return args[0] == "record" && strings.IndexFunc(args[len(args)-1], func(r rune) bool { return steers(r) || r == '\n' || r == '\t' || r == '\u200b' || r == '\ufeff' }) >= 0
}

// namesBetween is namesIn with a byte of zero after each name.
func namesBetween(dir string) string {
	entries, _ := os.ReadDir(dir) // it is the attempt's own
	var b strings.Builder
	for _, e := range entries {
		b.WriteString(e.Name() + "\x00")
	}
	return b.String()
}

// settingsUnkept is what the window says in such a home.
var settingsUnkept = regexp.MustCompile(`^strakewright: what the window remembers [^\n]*\.\n$`)

// oddWindow opens the window in odd circumstances, works in it and has it end.
func oddWindow(a *attempt) error {
	way, err := a.courseOf()
	if err != nil {
		return err
	}
	p, err := a.windowed()
	if err != nil {
		return err
	}
	name := p.path
	switch a.n % 3 {
	case 0:
		a.env = pick(a.rng, locales...)
	case 1:
		a.env = pick(a.rng, a.homes()[:8]...)
	case 2:
		odd := strings.Trim(oddNameOf[a.rng.IntN(len(oddNameOf))], " ")
		odd = strings.ToValidUTF8(odd, "") // what is none is a fault of the command line, which has a trial of its own
		name = a.in(odd[:min(len(odd), 200)] + ".strakeplan")
		if err := os.Rename(p.path, name); err != nil {
			return err
		}
	}
	p.path = name
	w, err := a.open(0, name)
	if err != nil {
		return fmt.Errorf("%q, %q: %w", a.env, filepath.Base(name), err)
	}
	defer w.kill()
	if err := w.step(p.frame); err != nil {
		return fmt.Errorf("%q, %q: %w", a.env, filepath.Base(name), err)
	}
	if err := w.xdo("windowfocus", w.id, "key", "ctrl+s"); err != nil {
		return err
	}
	if err := w.await(func() bool { step, off := way.nearest(p.downOf(name)); return step == 1 && off < 0.2 }); err != nil {
		return fmt.Errorf("%q, %q: what was saved is not in the file: %w", a.env, filepath.Base(name), err)
	}
	if err := w.end(); err != nil {
		return err
	}
	if said := w.said(); said != "" && !settingsUnkept.MatchString(said) {
		return fmt.Errorf("%q, %q: the window said %.300q", a.env, filepath.Base(name), said)
	}
	if left := namesBetween(a.dir); left != filepath.Base(name)+"\x00" {
		return fmt.Errorf("%q, %q: left beside the plan: %q", a.env, filepath.Base(name), left)
	}
	return nil
}
