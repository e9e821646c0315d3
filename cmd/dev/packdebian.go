package main

import (
	"cmp"
	"crypto/md5"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
)

// loaded are the packages of the libraries that the toolkit's window opens by name, or is
// linked to where the linker keeps what seems not to be used: dpkg-shlibdeps can miss them.
var loaded = []string{"libgl1", "libx11-6", "libx11-xcb1", "libxcursor1", "libxi6", "libxinerama1", "libxrandr2", "libxrender1", "libxxf86vm1"}

// letters is the package of a font that has the signs (minus, triangles) which the toolkit's
// bold one lacks: it takes them from any that the system has.
const letters = "fonts-dejavu-core"

// debian makes the package for Debian, by dpkg's own programs, and gives its file name.
func (s *shop) debian(r release, work, program string, w words) (string, []byte, error) {
	tree := filepath.Join(work, "debian-tree")
	if err := s.debianTree(r, tree, program, w); err != nil {
		return "", nil, err
	}
	depends, err := s.linkedPackages(work, program)
	if err != nil {
		return "", nil, err
	}
	machine, err := s.reads(nil, "dpkg", "--print-architecture")
	if err != nil {
		return "", nil, fmt.Errorf("asking dpkg for this kind of machine: %w", err)
	}
	machine = strings.TrimSpace(machine)
	md5sums, kib, err := weighed(tree)
	if err != nil {
		return "", nil, err
	}
	control := debianControl(r, machine, kib, depends)
	for name, text := range map[string]string{"control": control, "md5sums": md5sums} {
		if err := putFile(filepath.Join(tree, "DEBIAN", name), []byte(text), false); err != nil {
			return "", nil, err
		}
	}
	if err := settled(tree, r.when); err != nil {
		return "", nil, err
	}
	made := filepath.Join(work, "made.deb")
	if _, err := s.reads([]string{r.epoch()}, "dpkg-deb", "--root-owner-group", "-Zxz", "--build", tree, made); err != nil {
		return "", nil, fmt.Errorf("dpkg-deb: %w", err)
	}
	data, err := os.ReadFile(made)
	return "strakewright_" + r.version + "_" + machine + ".deb", data, err
}

// debianTree fills a folder with what the package installs (Debian Policy 12: manual pages
// and texts in doc are compressed).
func (s *shop) debianTree(r release, tree, program string, w words) error {
	to, err := placesBelow(filepath.Join(tree, "usr"), func(string) string { return "" })
	if err != nil {
		return err
	}
	to.manual += ".gz"
	to.zsh = filepath.Join(to.data, "zsh", "vendor-completions", "_strakewright")
	page, err := gzipped([]byte(w.manual))
	if err != nil {
		return err
	}
	w.manual = string(page)
	if err := to.fill(s.root, program, "strakewright", w); err != nil {
		return err
	}
	if err := s.putExamples(to.data); err != nil {
		return err
	}
	texts := map[string]string{}
	for _, name := range []string{"README.md", "LICENSE", noticesFile} {
		data, err := os.ReadFile(filepath.Join(s.root, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		texts[name] = string(data)
	}
	log, err := debianChangelog(r, texts["README.md"])
	if err != nil {
		return err
	}
	doc := filepath.Join(to.data, "doc", "strakewright")
	for name, text := range map[string]string{"changelog.gz": log, "README.md.gz": texts["README.md"]} {
		data, err := gzipped([]byte(text))
		if err != nil {
			return err
		}
		if err := putFile(filepath.Join(doc, name), data, false); err != nil {
			return err
		}
	}
	if err := putFile(filepath.Join(to.data, "lintian", "overrides", "strakewright"), []byte(overrides), false); err != nil {
		return err
	}
	return putFile(filepath.Join(doc, "copyright"), []byte("Strakewright\n\n"+texts["LICENSE"]+"\n"+texts[noticesFile]), false)
}

// overrides tell Debian's checker of packages what is meant so.
const overrides = `# The notices of all modules stand there whole, as they do in every other archive of the program.
strakewright: copyright-file-contains-full-apache-2-license
# Words of compressed data and of names within the program, none of which it prints.
strakewright: spelling-error-in-binary *
`

// linkedPackages are the packages that the program's libraries are in, with the least
// version that has what it calls.
func (s *shop) linkedPackages(work, program string) (string, error) {
	source := filepath.Join(work, "shlibdeps")
	if err := putFile(filepath.Join(source, "debian", "control"), []byte("Source: strakewright\n\nPackage: strakewright\nArchitecture: any\n"), false); err != nil {
		return "", err
	}
	told, err := s.readsIn(source, nil, "dpkg-shlibdeps", "-O", program)
	if err != nil {
		return "", fmt.Errorf("dpkg-shlibdeps: %w", err)
	}
	depends, found := strings.CutPrefix(strings.TrimSpace(told), "shlibs:Depends=")
	if !found {
		return "", fmt.Errorf("dpkg-shlibdeps told %q", told)
	}
	return withLoaded(depends), nil
}

// withLoaded adds to a list of packages letters, and those of loaded that are not in it.
func withLoaded(depends string) string {
	list := strings.Split(depends, ", ")
	for _, name := range append([]string{letters}, loaded...) {
		if !slices.ContainsFunc(list, func(d string) bool { return d == name || strings.HasPrefix(d, name+" ") }) {
			list = append(list, name)
		}
	}
	slices.Sort(list)
	return strings.Join(list, ", ")
}

// weighed gives the sums of a tree's files as dpkg keeps them, and how many KiB they take:
// each file in whole ones, and one for each folder (Debian Policy 5.6.20, dpkg-gencontrol).
func weighed(tree string) (md5sums string, kib int64, err error) {
	var b strings.Builder
	err = filepath.WalkDir(tree, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() {
			kib++
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(tree, path)
		if err != nil {
			return err
		}
		kib += (int64(len(data)) + 1023) / 1024
		fmt.Fprintf(&b, "%x  %s\n", md5.Sum(data), filepath.ToSlash(rel))
		return nil
	})
	return b.String(), kib, err
}

// debianControl describes the package (deb-control(5)).
func debianControl(r release, machine string, kib int64, depends string) string {
	return strings.Join([]string{
		"Package: strakewright",
		"Version: " + r.version,
		"Architecture: " + machine,
		"Maintainer: " + maintainer(os.Getenv),
		fmt.Sprintf("Installed-Size: %d", kib),
		"Depends: " + depends,
		"Recommends: desktop-file-utils, poppler-utils, shared-mime-info",
		"Section: graphics",
		"Priority: optional",
		"Description: planning of the planking of wooden model ship hulls",
		" Strakewright plans how the hull of a scale model ship is planked with strips of",
		" wood: it takes the hull's shape off points, tables of offsets, drawings, meshes",
		" or photos, lines off the bands, finds how a strip lies unforced, and gives each",
		" strake its width, taper and bevel at every frame.",
		" .",
		" It lists the wood to buy, prints marking paper at full size, and keeps a record",
		" of the work at the bench. It works in a window and from a shell.",
		"",
	}, "\n")
}

// maintainer is who answers for the package, by the variables that Debian's own tools
// read (debchange(1)); unless they are set nobody can be written to.
func maintainer(env func(string) string) string {
	return cmp.Or(env("DEBFULLNAME"), "The Strakewright authors") + " <" + cmp.Or(env("DEBEMAIL"), "authors@strakewright.invalid") + ">"
}

// debianChangelog is the section of this version in README.md as Debian writes it
// (deb-changelog(5)).
func debianChangelog(r release, readme string) (string, error) {
	found := changesHeading.FindStringIndex(readme)
	if found == nil {
		return "", errors.New("README.md: no version under Changes")
	}
	section := readme[found[1]:]
	if end := regexp.MustCompile(`(?m)^#`).FindStringIndex(section); end != nil {
		section = section[:end[0]]
	}
	var b strings.Builder
	fmt.Fprintf(&b, "strakewright (%s) unstable; urgency=medium\n\n", r.version)
	for _, item := range items(section) {
		b.WriteString(wrapped(item, "  * ", "    ", 79))
	}
	fmt.Fprintf(&b, "\n -- %s  %s\n", maintainer(os.Getenv), r.when.Format(time.RFC1123Z))
	return b.String(), nil
}

// items are the paragraphs and points of Markdown, each on one line, without the marks of
// stress and code.
func items(markdown string) []string {
	var out []string
	fresh := true
	for line := range strings.Lines(strings.NewReplacer("**", "", "`", "").Replace(markdown)) {
		text := strings.TrimSpace(line)
		point, isPoint := strings.CutPrefix(text, "- ")
		switch {
		case text == "":
			fresh = true
		case isPoint || fresh:
			out, fresh = append(out, point), false
		default:
			out[len(out)-1] += " " + text
		}
	}
	return out
}

// wrapped breaks a text into lines of so many letters, the first and the others behind
// what leads them.
func wrapped(text, first, others string, most int) string {
	var b strings.Builder
	line := first
	for i, word := range strings.Fields(text) {
		switch {
		case i == 0:
			line += word
		case len([]rune(line))+1+len([]rune(word)) > most:
			b.WriteString(line + "\n")
			line = others + word
		default:
			line += " " + word
		}
	}
	return b.String() + line + "\n"
}
