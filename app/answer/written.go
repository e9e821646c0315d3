package answer

import (
	"fmt"
	"io"
	"path"
	"strconv"
	"strings"
	"unicode"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Written is the answer of the command sheets: the files it wrote.
type Written struct {
	Folder   string   `json:"folder"`
	Revision string   `json:"revision"`         // on every sheet, alike for alike plans alone
	Pages    int      `json:"pages"`            // of the booklet
	Use      float64  `json:"page_use_percent"` // the mean share of the room on its pages that the rectangles of what stands there cover, with the space between them
	Files    []string `json:"written"`          // below the folder, with slashes
	Lacking  string   `json:"letters_lacking"`  // that no font of this computer has, so that they are printed as open squares
	// Removed are the files of an earlier set that are not of this one.
	Removed []string `json:"removed"`
	// Left is what is of no set, or was changed by somebody since; a folder's
	// name ends with a slash.
	Left []string `json:"left"`
}

// Changes tells in sentences what became of other files of the folder.
func (a Written) Changes() []string {
	var out []string
	if n := len(a.Removed); n > 0 {
		out = append(out, tongue.Count(n, "Removed %d file of an earlier set that this set does not have.", "Removed %d files of an earlier set that this set does not have.", n))
	}
	if len(a.Left) == 0 {
		return out
	}
	const most = 8
	var names []string
	for _, name := range a.Left[:min(len(a.Left), most)] {
		if strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) }) {
			name = strconv.Quote(name)
		}
		names = append(names, name)
	}
	if more := len(a.Left) - most; more > 0 {
		names = append(names, tongue.T("and %d more", more))
	}
	return append(out, tongue.T("Left in the folder, but not of this set: %s.", strings.Join(names, ", ")))
}

// LackingText tells of letters that cannot be printed, by their numbers too, since the
// screen may lack them as well.
func LackingText(letters string) string {
	var names []string
	for _, r := range letters {
		names = append(names, fmt.Sprintf("%c (U+%04X)", r, r))
	}
	return tongue.T("No font on this computer has these letters: %s. Open squares stand for them on paper: install a font that has them, and write the sheets again.", strings.Join(names, ", "))
}

// Text writes a line a folder with how many files are in it.
func (a Written) Text(w io.Writer) error {
	p := &page{w: w}
	p.line("%s written to %s", files(len(a.Files)), a.Folder)
	counts := map[string]int{}
	var folders []string
	for _, f := range a.Files {
		dir := path.Dir(f)
		if dir == "." {
			if f == "booklet.pdf" {
				f += tongue.T(", %s, used to %.0f %%", counted(a.Pages, "no pages", "%d page", "%d pages"), a.Use)
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
		p.line("  %s/: %s", strings.TrimSuffix(dir, "/"), files(counts[dir]))
	}
	for _, s := range a.Changes() {
		p.line("%s", s)
	}
	if a.Lacking != "" {
		p.line("%s", LackingText(a.Lacking))
	}
	if a.Revision != "" {
		p.line("Every sheet bears the plan's revision, %s: sheets of another revision are not of this plan.", a.Revision)
	}
	p.line("Print without scaling or fitting to the page, then measure the bars of a page.")
	return p.err
}
