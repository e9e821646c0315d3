package answer

import (
	"io"
	"path"
	"strings"
)

// Written is the answer of the command sheets: the files it wrote.
type Written struct {
	Folder string   `json:"folder"`
	Pages  int      `json:"pages"`   // of the booklet
	Files  []string `json:"written"` // below the folder, with slashes
}

// Text writes a line a folder with how many files are in it.
func (a Written) Text(w io.Writer) error {
	p := &page{w: w}
	p.line("%s written to %s", count(len(a.Files), "file"), a.Folder)
	counts := map[string]int{}
	var folders []string
	for _, f := range a.Files {
		dir := path.Dir(f)
		if dir == "." {
			if f == "booklet.pdf" {
				f += ", " + count(a.Pages, "page")
			}
			p.line("  %s", f)
			continue
		}
		if counts[dir] == 0 {
			folders = append(folders, dir)
		}
		counts[dir]++
	}
	for _, dir := range folders {
		p.line("  %s/: %s", strings.TrimSuffix(dir, "/"), count(counts[dir], "file"))
	}
	p.line("Print without scaling or fitting to the page, then measure the bars of a page.")
	return p.err
}
