package loft

import (
	"strings"

	"github.com/strakewright/strakewright/hull"
)

// WoodsNamed gives the woods that a species may mean: those of exactly that name or, if
// there are none, those whose names contain all its words, ignoring case, so that
// "birch" is any birch. Where one name stands in several tables, that of the first
// table counts. An empty or unknown name gives none.
func WoodsNamed(species string, tables ...[]hull.Wood) []hull.Wood {
	words := nameWords(species)
	if len(words) == 0 {
		return nil
	}
	var exact, holding []hull.Wood
	seen := map[string]bool{}
	for _, table := range tables {
		for _, w := range table {
			own := nameWords(w.Name)
			key := strings.Join(own, " ")
			if seen[key] || !holdsAll(own, words) {
				continue
			}
			seen[key] = true
			holding = append(holding, w)
			if len(own) == len(words) && key == strings.Join(words, " ") {
				exact = append(exact, w)
			}
		}
	}
	if exact != nil {
		return exact
	}
	return holding
}

// nameWords gives the words of a name in lower case; a hyphen separates words.
func nameWords(name string) []string {
	return strings.Fields(strings.ReplaceAll(strings.ToLower(name), "-", " "))
}

// holdsAll reports whether every word is among those of a name.
func holdsAll(name, words []string) bool {
	for _, w := range words {
		found := false
		for _, n := range name {
			found = found || n == w
		}
		if !found {
			return false
		}
	}
	return true
}
