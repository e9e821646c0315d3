package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

// planType is the media type of a plan file: not registered, hence "x-".
const planType = "application/x-strakewright-plan"

// iconFile is the icon's file in the source, which keeps its name when
// installed.
const iconFile = "strakewright.svg"

// parseInstall reads the folder in which to install, and whether everything is to
// be removed.
func parseInstall(rest []string) (func(*shop) error, error) {
	remove, below := false, ""
	for i := 0; i < len(rest); i++ {
		switch {
		case rest[i] == "--remove":
			remove = true
		case rest[i] == "--below" && i+1 < len(rest):
			i++
			below = rest[i]
		default:
			return nil, misuse(fmt.Sprintf("install takes --below FOLDER and --remove, not %q", rest[i]))
		}
	}
	return func(s *shop) error { return s.installProgram(below, remove) }, nil
}

// installProgram builds the program and registers it with the desktop: a program in the menu
// with its own icon, and plans that open by a double click. Everything goes below one
// folder, the user's own if none is named.
func (s *shop) installProgram(below string, remove bool) error {
	if runtime.GOOS == "darwin" || runtime.GOOS == "windows" {
		return fmt.Errorf("install is for desktops that keep to freedesktop.org's rules, such as those of Linux: on this system build the program and start it from where it lies")
	}
	to, err := placesBelow(below, os.Getenv)
	if err != nil {
		return err
	}
	if remove {
		if err := to.remove(); err != nil {
			return err
		}
		s.refresh(to)
		s.say("Removed from below %s.", to.below)
		return nil
	}
	if err := s.ready(runtime.GOOS, forBuild...); err != nil {
		return err
	}
	program, err := s.build()
	if err != nil {
		return err
	}
	words, err := s.wordsOf(program)
	if err != nil {
		return err
	}
	if err := to.fill(s.root, program, to.program, words); err != nil {
		return err
	}
	s.refresh(to)
	s.say("Installed as %s. It is in the desktop's menu, and plans open with it.", to.program)
	return nil
}

// places are the files that are installed.
type places struct {
	below                       string
	data                        string // with the three folders in which desktops look
	program, entry, icon, plans string
	manual, bash, zsh, fish     string // what man and the shells read
}

// words are the program's own descriptions of its use.
type words struct{ manual, bash, zsh, fish string }

// inEnglish has the program speak English, whatever the language of whoever runs it.
var inEnglish = []string{"LC_ALL=C", "LANGUAGE="}

// wordsOf asks the program for them, with env added to its environment.
func (s *shop) wordsOf(program string, env ...string) (words, error) {
	var w words
	for _, ask := range []struct {
		to   *string
		args []string
	}{{&w.manual, []string{"manual"}}, {&w.bash, []string{"completion", "bash"}}, {&w.zsh, []string{"completion", "zsh"}}, {&w.fish, []string{"completion", "fish"}}} {
		told, err := s.reads(env, program, ask.args...)
		if err != nil {
			return w, fmt.Errorf("running %s %s: %w", filepath.Base(program), strings.Join(ask.args, " "), err)
		}
		*ask.to = told
	}
	return w, nil
}

// placesBelow gives the places below a folder: the user's own if none is named, with
// the data where the XDG Base Directory Specification (0.8) puts it.
func placesBelow(below string, env func(string) string) (places, error) {
	p := places{below: below}
	if below == "" {
		home := env("HOME")
		if home == "" {
			return p, errors.New("no home folder is known: name a folder with --below")
		}
		p.below = filepath.Join(home, ".local")
		p.data = env("XDG_DATA_HOME")
	}
	abs, err := filepath.Abs(p.below)
	if err != nil {
		return p, fmt.Errorf("finding %s: %w", p.below, err)
	}
	p.below = abs
	if !filepath.IsAbs(p.data) {
		p.data = filepath.Join(p.below, "share")
	}
	p.program = filepath.Join(p.below, "bin", "strakewright")
	p.entry = filepath.Join(p.data, "applications", "strakewright.desktop")
	p.icon = filepath.Join(p.data, "icons", "hicolor", "scalable", "apps", iconFile)
	p.plans = filepath.Join(p.data, "mime", "packages", "strakewright.xml")
	p.manual = filepath.Join(p.data, "man", "man1", "strakewright.1")
	p.bash = filepath.Join(p.data, "bash-completion", "completions", "strakewright")
	p.zsh = filepath.Join(p.data, "zsh", "site-functions", "_strakewright")
	p.fish = filepath.Join(p.data, "fish", "vendor_completions.d", "strakewright.fish")
	return p, nil
}

// all lists the files, the program last.
func (p places) all() []string {
	return []string{p.entry, p.icon, p.plans, p.manual, p.bash, p.zsh, p.fish, p.program}
}

// fill writes the files; the source is at root, program is the built program, and the
// desktop is to run it as exec.
func (p places) fill(root, program, exec string, w words) error {
	icon, err := os.ReadFile(filepath.Join(root, "assets", iconFile))
	if err != nil {
		return fmt.Errorf("reading the icon: %w", err)
	}
	built, err := os.ReadFile(program)
	if err != nil {
		return fmt.Errorf("reading the program: %w", err)
	}
	for path, data := range map[string][]byte{
		p.entry: []byte(desktopEntry(exec)), p.icon: icon, p.plans: []byte(planTypes), p.program: built,
		p.manual: []byte(w.manual), p.bash: []byte(w.bash), p.zsh: []byte(w.zsh), p.fish: []byte(w.fish),
	} {
		if err := putFile(path, data, path == p.program); err != nil {
			return err
		}
	}
	return nil
}

// putFile writes a file whole: a program already running from there continues with the
// old one.
func putFile(path string, data []byte, runs bool) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("making the folder of %s: %w", path, err)
	}
	mode := fs.FileMode(0o644)
	if runs {
		mode = 0o755
	}
	half := path + ".new"
	if err := os.WriteFile(half, data, mode); err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	if err := os.Rename(half, path); err != nil {
		_ = os.Remove(half)
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return nil
}

// remove removes the files; a missing one is no fault.
func (p places) remove() error {
	for _, path := range p.all() {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("removing %s: %w", path, err)
		}
	}
	return nil
}

// refresh makes the desktop reread what is installed, using the programs for that if
// they are present; without them it does so by itself, later.
func (s *shop) refresh(p places) {
	for _, c := range [][]string{
		{"update-mime-database", filepath.Join(p.data, "mime")},
		{"update-desktop-database", filepath.Join(p.data, "applications")},
		{"gtk-update-icon-cache", "-q", "-t", "-f", filepath.Join(p.data, "icons", "hicolor")},
	} {
		if _, err := exec.LookPath(c[0]); err != nil {
			continue
		}
		if _, err := s.reads(nil, c[0], c[1:]...); err != nil {
			s.say("%s: %v", c[0], err)
		}
	}
}

// desktopEntry is the entry for a program in the desktop's menu (Desktop Entry
// Specification 1.5). Its window is recognised by the class that the toolkit
// gives it.
func desktopEntry(program string) string {
	return strings.Join([]string{
		"[Desktop Entry]",
		"Type=Application",
		"Version=1.5",
		"Name=Strakewright",
		"GenericName=Planking of model hulls",
		"Comment=Line off, taper and cut the planks of a wooden model hull",
		"Exec=" + quotedExec(program) + " %f",
		"Icon=strakewright",
		"Terminal=false",
		"Categories=Graphics;Engineering;",
		"Keywords=ship;model;plank;strake;hull;",
		"MimeType=" + planType + ";",
		"StartupWMClass=Strakewright",
		"",
	}, "\n")
}

// quotedExec writes a path as an argument of the key Exec: in double quotes, with a
// backslash before the characters that the specification names, itself escaped as in the
// value of a key, and a percent sign doubled. A path that needs no quotes gets none:
// where there is no desktop to ask, xdg-open takes quotes for a part of the name.
func quotedExec(path string) string {
	if !strings.ContainsAny(path, " \t\n\"'\\><~|&;$*?#()`%") { // the reserved characters, and the percent sign
		return path
	}
	var b bytes.Buffer
	b.WriteByte('"')
	for _, r := range path {
		switch r {
		case '"', '`', '$', '\\':
			b.WriteString(`\\`)
			if r == '\\' {
				b.WriteString(`\\`)
				continue
			}
		case '%':
			b.WriteByte('%')
		}
		b.WriteRune(r)
	}
	b.WriteByte('"')
	return b.String()
}

// planTypes tells desktops which files are plans (Shared MIME-info Database 0.22).
const planTypes = `<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
  <mime-type type="` + planType + `">
    <comment>Strakewright plan</comment>
    <sub-class-of type="application/json"/>
    <icon name="strakewright"/>
    <glob pattern="*.strakeplan"/>
  </mime-type>
</mime-info>
`
