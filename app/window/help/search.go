package help

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// found is a topic in which all words asked for stand.
type found struct {
	Topic    Topic
	Passages []string // Markdown, those that hold most of the words, in their order
}

// most is how many passages are shown of a topic.
const most = 3

// search gives the topics in which some words stand, each at the beginning of a word and
// in small letters or great: first those that have them in their titles. No words find
// nothing.
func search(topics []Topic, asked string) []found {
	words := strings.Fields(asked)
	if len(words) == 0 {
		return nil
	}
	var titled, others []found
	for _, t := range topics {
		if held(plain(t.Text), words) < len(words) {
			continue
		}
		f := found{t, passages(t, words)}
		if held(t.Title, words) == len(words) {
			titled = append(titled, f)
		} else {
			others = append(others, f)
		}
	}
	return append(titled, others...)
}

// held counts the words that a text holds.
func held(text string, words []string) (n int) {
	for _, w := range words {
		if len(marks(text, w)) > 0 {
			n++
		}
	}
	return n
}

// passages gives the paragraphs and items of a topic that hold most of the words.
func passages(t Topic, words []string) []string {
	type passage struct{ at, held int }
	all := strings.Split(strings.ReplaceAll(t.Text, "\n- ", "\n\n- "), "\n\n")
	var with []passage
	for i, p := range all {
		if n := held(plain(p), words); n > 0 && !strings.HasPrefix(p, "#") {
			with = append(with, passage{i, n})
		}
	}
	slices.SortStableFunc(with, func(a, b passage) int { return b.held - a.held })
	with = with[:min(len(with), most)]
	slices.SortFunc(with, func(a, b passage) int { return a.at - b.at })
	var out []string
	for _, p := range with {
		out = append(out, strings.TrimSpace(all[p.at]))
	}
	return out
}

// plain is a text without the marks of Markdown, as it is read.
func plain(text string) string {
	var b strings.Builder
	for {
		i := strings.Index(text, "](")
		if i < 0 {
			break
		}
		b.WriteString(text[:i])
		_, text, _ = strings.Cut(text[i:], ")")
	}
	b.WriteString(text)
	return strings.NewReplacer("*", "", "[", "").Replace(b.String())
}

// marks gives where the words asked for stand in a text, as offsets of its bytes.
func marks(text, asked string) (out [][2]int) {
	words := strings.Fields(asked)
	begins := true // whether a word can begin here
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		letter := unicode.IsLetter(r) || unicode.IsDigit(r)
		if n := longest(text[i:], words); n > 0 && (begins || !letter) {
			out = append(out, [2]int{i, i + n})
			last, _ := utf8.DecodeLastRuneInString(text[:i+n])
			size, letter = n, unicode.IsLetter(last) || unicode.IsDigit(last)
		}
		begins = !letter
		i += size
	}
	return out
}

// longest is the length of the longest of some words that a text begins with.
func longest(text string, words []string) (n int) {
	for _, w := range words {
		if len(w) > n && len(text) >= len(w) && strings.EqualFold(text[:len(w)], w) {
			n = len(w)
		}
	}
	return n
}
