package help

import (
	"embed"
	"io/fs"
	"path"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
)

//go:embed topics
var files embed.FS

// english is the language that has every topic, in a folder of that name.
const english = "en"

// order is the topics as they are listed. Each is a file in the folder of every language.
var order = []string{
	"window", "book", "hull", "drawings", "trace", "fair", "limits",
	"lines", "lie", "lay-all", "march", "hull-view", "over-frames",
	"widths", "problems", "rules", "wood", "paper", "bench", "photo", "plan-again",
	"layout", "keys", "words", "safety", "licences",
}

// Topic is a page about one task.
type Topic struct {
	ID      string // by which links and parts of the window name it
	Title   string
	Summary string // in one line
	Text    string // Markdown, from its title on
}

// Topics gives all of them in order, in the reader's language; keys is the list of keys, in Markdown, that stands
// in that about keys.
func Topics(keys string) []Topic {
	var out []Topic
	for _, id := range order {
		if text := textOf(files, id); text != "" {
			out = append(out, topicOf(id, strings.Replace(text, "{keys}", keys, 1)))
		}
	}
	return out
}

// textOf is a topic in the reader's language, or else in English.
func textOf(files fs.FS, id string) string {
	for _, language := range []string{tongue.Language(), english} {
		if text, err := fs.ReadFile(files, path.Join("topics", language, id+".md")); err == nil {
			return string(text)
		}
	}
	return "" // which a test rules out
}

// topicOf takes a topic's title and summary from its first two paragraphs.
func topicOf(id, text string) Topic {
	paragraphs := strings.SplitN(strings.TrimSpace(text), "\n\n", 3)
	t := Topic{ID: id, Title: strings.TrimPrefix(paragraphs[0], "# "), Text: text}
	if len(paragraphs) > 1 {
		t.Summary = paragraphs[1]
	}
	return t
}
