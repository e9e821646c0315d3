package quote

import (
	"os"
	"path/filepath"
	"strings"
)

// Page is a page of the book, by the name of its file, and its source.
type Page struct{ Name, Source string }

// Begin gives the pages of the book in a folder in their order, the cover last, which
// quotes the others, and copies the tables of points that it begins with, and the demo plan, to the folder
// where commands are to run.
func Begin(folder, bench string) ([]Page, error) {
	names, err := filepath.Glob(filepath.Join(folder, "source", "*.md"))
	if err != nil {
		return nil, err
	}
	var pages []Page
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		pages = append(pages, Page{filepath.Base(name), string(text)})
	}
	for i := range pages {
		pages[i].Source = linked(pages, i)
	}
	tables, err := filepath.Glob(filepath.Join(folder, "*.csv"))
	if err != nil {
		return nil, err
	}
	for _, name := range tables {
		if err := copied(name, filepath.Join(bench, filepath.Base(name))); err != nil {
			return nil, err
		}
	}
	return pages, copied(filepath.Join(folder, "..", "coaster.strakeplan"), filepath.Join(bench, "demo.strakeplan"))
}

func copied(from, to string) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, data, 0o644)
}

// cover is the page that lists the others.
const cover = "README.md"

// contents stands in the cover where the list of the others is to be.
const contents = "%% contents"

// linked gives a page's source with its links: the cover's list of all others, and at a
// chapter's foot those to its neighbours.
func linked(pages []Page, at int) string {
	text := pages[at].Source
	if pages[at].Name == cover {
		var list strings.Builder
		for _, p := range pages {
			if p.Name != cover {
				list.WriteString("- [" + p.title() + "](" + p.Name + ")\n")
			}
		}
		return strings.Replace(text, contents+"\n", list.String(), 1)
	}
	links := []string{"[Contents](" + cover + ")"}
	if at > 0 {
		links = append([]string{"Before: [" + pages[at-1].title() + "](" + pages[at-1].Name + ")"}, links...)
	}
	if at+1 < len(pages) && pages[at+1].Name != cover {
		links = append(links, "Next: ["+pages[at+1].title()+"]("+pages[at+1].Name+")")
	}
	return strings.TrimRight(text, "\n") + "\n\n---\n\n" + strings.Join(links, " · ") + "\n"
}

// title is a page's first line.
func (p Page) title() string {
	first, _, _ := strings.Cut(p.Source, "\n")
	return strings.TrimPrefix(first, "# ")
}
