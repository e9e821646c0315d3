package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
)

// debianPackage is a package that the project needs, and why.
type debianPackage struct {
	name   string
	reason string
}

// forBuild is what building the program needs besides Go, forWindow what
// opening its window without a screen needs in addition, and forTests what the
// tests need on top of both. forDebian is what making a Debian package needs
// besides forBuild, and forWindows what building for Windows does.
var (
	forBuild = []debianPackage{
		{"ca-certificates", "Go checks the module proxy's certificate with it"},
		{"gcc", "the C compiler that Fyne's window and OpenGL bindings need"},
		{"libc6-dev", "the C library's headers, which gcc only recommends"},
		{"libgl1-mesa-dev", "OpenGL's headers and library"},
		{"xorg-dev", "the X window system's headers and libraries"},
		{"libxkbcommon-dev", "keyboard layouts' headers and library"},
	}
	forWindow = []debianPackage{
		{"xvfb", "a display without a screen, for the real-window test"},
		{"xauth", "opens that display to the test and to nobody else"},
		{"xdotool", "moves the mouse and presses keys in the real window"},
	}
	forTrials = []debianPackage{
		{"poppler-utils", "pdftocairo: pages of PDFs as drawings, spoilt ones too"},
	}
	forTests = []debianPackage{
		{"geographiclib-tools", "GeodSolve: geodesics to check our own against"},
		{"glpk-utils", "glpsol: the fewest and cheapest strips, to check our own against"},
		{"poppler-utils", "pdftoppm: printed sheets as pixels, to measure them"},
		{"qpdf", "checks the PDFs that sheets are printed from"},
		{"fonts-dejavu-core", "letters of Georgian and Hebrew, to be printed"},
		{"fonts-droid-fallback", "letters of Chinese and Japanese, to be printed"},
		{"librsvg2-bin", "rsvg-convert: sheets as SVG, to measure them"},
		{"python3-ezdxf", "audits the DXF files that go to a cutter"},
		{"strace", "makes system calls of a save fail, one after another"},
		{"openfoam-examples", "meshes of published hulls, to slice; it needs nothing else"},
		{"gnumeric", "ssconvert: opens our workbook as a spreadsheet does"},
		{"mandoc", "checks the manual page"},
		{"dpkg-dev", "dpkg-shlibdeps: the libraries that a program is linked to, for its package"},
	}
	forDebian = []debianPackage{
		{"dpkg-dev", "dpkg-shlibdeps: the packages whose libraries the program is linked to"},
		{"git", "the commit that the version is told by"},
	}
	forWindows = []debianPackage{
		{"gcc-mingw-w64-x86-64", "a C compiler for Windows"},
		{"git", "the commit that the version is told by"},
	}
)

// meshes are the files of openfoam-examples that tests read.
const meshes = "/usr/share/doc/openfoam-examples/*"

// ready installs those of the packages that a Debian machine lacks; on other
// systems it says what is needed and checks what can be checked.
func (s *shop) ready(system string, wanted ...debianPackage) error {
	switch system {
	case "darwin":
		return s.readyMac()
	case "windows":
		return s.readyWindows()
	}
	if !onPath("dpkg-query") || !onPath("apt-get") {
		s.say("This is not a Debian machine, so nothing is installed. Needed, as Debian names them:\n%s", list(wanted))
		return nil
	}
	missing, err := s.missing(wanted)
	if err != nil || len(missing) == 0 {
		return err
	}
	s.say("Missing Debian packages:\n%s", list(missing))
	return s.install(missing)
}

// missing asks dpkg which of the packages are not installed.
func (s *shop) missing(wanted []debianPackage) ([]debianPackage, error) {
	args := []string{"-W", "-f", "${Package} ${db:Status-Status}\n"}
	out, err := s.reads(nil, "dpkg-query", append(args, names(wanted)...)...)
	// dpkg-query exits 1 when it does not know one of the names: an answer.
	var exit *exec.ExitError
	if err != nil && (!errors.As(err, &exit) || exit.ExitCode() != 1) {
		return nil, fmt.Errorf("asking dpkg-query what is installed: %w", err)
	}
	return notInstalled(wanted, out), nil
}

// notInstalled gives those wanted that no line of dpkg-query's "package status"
// output shows as installed.
func notInstalled(wanted []debianPackage, statuses string) []debianPackage {
	lines := strings.Split(statuses, "\n")
	return slices.DeleteFunc(slices.Clone(wanted), func(p debianPackage) bool {
		return slices.Contains(lines, p.name+" installed")
	})
}

// install updates the package lists and installs what is missing.
func (s *shop) install(missing []debianPackage) error {
	prefix, err := asRoot(os.Geteuid(), onPath("sudo"), missing)
	if err != nil {
		return err
	}
	s.say("Installing them with apt-get.")
	for _, words := range [][]string{{"update"}, installWords(missing)} {
		if err := s.aptGet(prefix, words); err != nil {
			return fmt.Errorf("apt-get %s: %w", words[0], err)
		}
	}
	return nil
}

// asRoot gives the words to put before apt-get, or says in one sentence what to
// do if the user can't become root here.
func asRoot(uid int, sudo bool, missing []debianPackage) ([]string, error) {
	quiet := []string{"env", "DEBIAN_FRONTEND=noninteractive"}
	if uid == 0 {
		return quiet, nil
	}
	if sudo {
		return append([]string{"sudo"}, quiet...), nil
	}
	return nil, fmt.Errorf("installing packages needs root, and there is no sudo here: run \"apt-get update && apt-get %s\" as root, then this command again",
		strings.Join(installWords(missing), " "))
}

func installWords(missing []debianPackage) []string {
	return append([]string{"install", "-y", "--no-install-recommends"}, names(missing)...)
}

// aptGet keeps the terminal, where sudo may ask for a password: it therefore
// stays in this program's own process group, which the terminal's Ctrl-C
// reaches.
func (s *shop) aptGet(prefix, words []string) error {
	args := append(slices.Clone(prefix), "apt-get", "-q", "-o", "DPkg::Lock::Timeout=120", "-o", "Acquire::Retries=3",
		"-o", "DPkg::Options::=--path-include="+meshes) // which machines set up without documentation would not unpack
	cmd := s.command(nil, args[0], append(args[1:], words...)...)
	cmd.SysProcAttr = nil
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, s.out, s.messages
	return s.wait(cmd)
}

func (s *shop) readyMac() error {
	s.say("Needed on macOS: Go and Xcode's command line tools.")
	if _, err := s.reads(nil, "xcode-select", "-p"); err != nil {
		return errors.New("the command line tools of Xcode are missing: run \"xcode-select --install\", then this command again")
	}
	return nil
}

func (s *shop) readyWindows() error {
	s.say("Needed on Windows: Go and a C compiler, such as MinGW-w64's gcc, on PATH.")
	if !onPath("gcc") && !onPath("clang") {
		return errors.New("no C compiler is on PATH: install one such as MinGW-w64's gcc, add its bin folder to PATH, then run this command again")
	}
	return nil
}

func onPath(tool string) bool {
	_, err := exec.LookPath(tool)
	return err == nil
}

func names(packages []debianPackage) []string {
	var out []string
	for _, p := range packages {
		out = append(out, p.name)
	}
	return out
}

// list is one line for each package: its name and its reason.
func list(packages []debianPackage) string {
	var b strings.Builder
	for i, p := range packages {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "  %-20s %s", p.name, p.reason)
	}
	return b.String()
}
