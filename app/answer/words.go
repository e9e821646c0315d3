package answer

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// The words that answers carry as JSON, and plans in their files, as they are said to a
// reader.
var (
	sideWords = map[string]string{string(hull.Starboard): tongue.Mark("starboard"), string(hull.Port): tongue.Mark("port")}
	sideWays  = map[string]string{string(hull.Starboard): tongue.Mark("to starboard"), string(hull.Port): tongue.Mark("to port")}

	modeWords = map[string]string{string(hull.Sprung): tongue.Mark("sprung"), string(hull.Spiled): tongue.Mark("spiled"), string(hull.Block): tongue.Mark("block")}

	howWords = map[loft.How]string{loft.Dry: tongue.Mark("dry"), loft.Soaked: tongue.Mark("soaked"), loft.Heated: tongue.Mark("heated"), loft.Carved: tongue.Mark("carved")}

	entryWords = map[string]string{
		string(hull.Cutout): tongue.Mark("cut"), string(hull.Soaking): tongue.Mark("soaked"), string(hull.Fitted): tongue.Mark("fitted"),
		string(hull.Pinned): tongue.Mark("pinned"), string(hull.Glued): tongue.Mark("glued"), string(hull.Removed): tongue.Mark("removed"),
	}
	meetWords = map[string]string{"keel": tongue.Mark("keel"), "stem": tongue.Mark("stem"), "band line": tongue.Mark("band line")}
	meetWays  = map[string]string{"keel": tongue.Mark("at the keel"), "stem": tongue.Mark("at the stem"), "band line": tongue.Mark("at the band line")}

	// sourceWords are those of woods of which no published figure is at hand.
	sourceWords = map[string]string{"typical figures, no source": tongue.Mark("typical figures, no source")}

	mendWords = map[string]string{"wedge": tongue.Mark("wedge"), "taper": tongue.Mark("taper")}
	fromWords = map[string]string{"box": tongue.Mark("box"), "shop": tongue.Mark("shop")}
)

// said is the text for a word, or the word itself where there is none.
func said[K ~string](words map[K]string, word K) string {
	if text, ok := words[word]; ok {
		return tongue.T(text)
	}
	return string(word)
}

// remedyWord names a way to make the rest fit by the word that takes it.
func remedyWord(way string) string {
	switch hull.Remedy(way) {
	case hull.Shave:
		return tongue.In("way", "shave")
	case hull.Tighter:
		return tongue.In("way", "tighter")
	case hull.Wider:
		return tongue.In("way", "wider")
	case hull.Narrow:
		return tongue.In("way", "narrow")
	case hull.More:
		return tongue.In("way", "more")
	case hull.Fewer:
		return tongue.In("way", "fewer")
	case hull.Wedged:
		return tongue.In("way", "wedge")
	case hull.Hidden:
		return tongue.In("way", "hide")
	case hull.Learned:
		return tongue.In("way", "learned")
	}
	return way
}

// SawnWord tells how a strip is sawn.
func SawnWord(sawn string) string {
	if sawn == "quarter" {
		return tongue.In("sawn", "quarter")
	}
	return tongue.In("sawn", "flat")
}

// heads are the headings of a table.
//
//tongue:says 0,1,2,3,4,5,6,7,8,9,10,11,12,13,14,15
func heads(texts ...string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = tongue.T(t)
	}
	return out
}

// files tells a number of files.
func files(n int) string { return counted(n, "no files", "%d file", "%d files") }

// counted tells how many there are: none, one, or any other number.
//
//tongue:says 1,2,3
func counted(n int, none, one, other string) string {
	if n == 0 {
		return tongue.T(none)
	}
	return tongue.Count(n, one, other, n)
}

// strips tells a number of strips.
func strips(n int) string { return tongue.Count(n, "%d strip", "%d strips", n) }

// pieces tells a number of pieces.
func pieces(n int) string { return tongue.Count(n, "%d piece", "%d pieces", n) }

// andList is a list as it is spoken: "1.02, 1.03 and 1.04".
func andList(items []string) string {
	n := len(items) - 1
	if n < 1 {
		return strings.Join(items, "")
	}
	return tongue.T("%s and %s", strings.Join(items[:n], ", "), items[n])
}

// both joins what is said together: "1.02 and 1.03".
func both(items []string) string { return strings.Join(items, tongue.T(" and ")) }

// either joins what is said in the alternative: "1.02 or 1.03".
func either(items []string) string { return strings.Join(items, tongue.T(" or ")) }

// capital begins a sentence.
func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + s[size:]
}
