package export

import (
	"fmt"
	"strings"
	"unicode"

	"github.com/strakewright/strakewright/app/draw"
)

// ofLayer reports whether a sheet belongs to a layer, or to none of layers: the
// name of a sheet of one layer has its number.
func ofLayer(s draw.Sheet, layer, layers int) bool {
	for n := 1; n <= layers; n++ {
		if n != layer && strings.Contains(s.Name+"-", fmt.Sprintf("-layer-%d-", n)) {
			return false
		}
	}
	return true
}

// fileName turns a name into one that every file system accepts, without an
// extension: frames, after which sheets are named, may be called anything.
func fileName(name string) string {
	out := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' || r == '_' {
			return unicode.ToLower(r)
		}
		return '-'
	}, name)
	if out = strings.Trim(out, "-"); out == "" {
		return "sheet"
	}
	if r := []rune(out); len(r) > 80 {
		out = string(r[:80])
	}
	return out
}

// nameApart turns the names of sheets into names of files, no two the same.
func nameApart(sheets []draw.Sheet) {
	taken := map[string]bool{}
	for i := range sheets {
		base := fileName(sheets[i].Name)
		name := base
		for n := 2; taken[name]; n++ {
			name = fmt.Sprintf("%s-%d", base, n)
		}
		taken[name] = true
		sheets[i].Name = name
	}
}
