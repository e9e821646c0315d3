package help

import (
	"embed"
	"path"
	"strings"
)

//go:embed topics
var files embed.FS

// Language is the folder of the topics that are shown.
const language = "en"

// order is the topics as they are listed. Each is a file of its language's folder.
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

// Topics gives all of them in order; keys is the list of keys, in Markdown, that stands
// in that about keys.
func Topics(keys string) []Topic {
	var out []Topic
	for _, id := range order {
		text, err := files.ReadFile(path.Join("topics", language, id+".md"))
		if err != nil {
			continue // which a test rules out
		}
		out = append(out, topicOf(id, strings.Replace(string(text), "{keys}", keys, 1)))
	}
	return out
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
