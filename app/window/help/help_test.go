package help

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var links = regexp.MustCompile(`\]\(([^)]*)\)`)

func TestEveryTopicIsAFileAndLinkedRightly(t *testing.T) {
	entries, err := files.ReadDir("topics/" + language)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".md"))
	}
	assert.ElementsMatch(t, order, names)
	all := Topics("- **F1**  help")
	require.Len(t, all, len(order))
	for _, topic := range all {
		assert.True(t, strings.HasPrefix(topic.Text, "# "), topic.ID)
		assert.NotEmpty(t, topic.Title, topic.ID)
		assert.NotEmpty(t, topic.Summary, topic.ID)
		assert.NotContains(t, topic.Summary, "\n", topic.ID)
		assert.NotContains(t, topic.Text, "{keys}", topic.ID)
		for _, to := range links.FindAllStringSubmatch(topic.Text, -1) {
			assert.True(t, to[1] == bookLink || slices.Contains(order, to[1]), "%s links to %q", topic.ID, to[1])
		}
	}
}

func TestSearchFindsAllWordsAndShowsTheirPassages(t *testing.T) {
	all := Topics("")
	found := search(all, "photo FRAMES")
	require.NotEmpty(t, found)
	for _, f := range found {
		require.NotEmpty(t, f.Passages)
		assert.LessOrEqual(t, len(f.Passages), most)
		text := strings.ToLower(plain(f.Topic.Text))
		assert.Contains(t, text, "photo")
		assert.Contains(t, text, "frames")
	}
	assert.Equal(t, "wood", search(all, "wood")[0].Topic.ID, "what has it in its title comes first")
	assert.Empty(t, search(all, "photo zzz"))
	assert.Empty(t, search(all, "  "))
	assert.NotEmpty(t, search(all, "pinned at one frame (■"))
}

func TestMarksBeginAWord(t *testing.T) {
	at := func(text, asked string) (out []string) {
		for _, m := range marks(text, asked) {
			out = append(out, text[m[0]:m[1]])
		}
		return out
	}
	assert.Equal(t, []string{"Strip", "strip"}, at("Strips, a strip, outstrip", "strip"))
	assert.Equal(t, []string{"▾", "wedge"}, at("▾wedges", "wedge ▾"))
	assert.Equal(t, []string{"stealer"}, at("a stealer", "steal stealer"))
	assert.Empty(t, at("anything", ""))
}

func TestTheBookIsOpened(t *testing.T) {
	opened := 0
	p := &Pane{Book: func() { opened++ }}
	p.follow(bookLink)
	assert.Equal(t, 1, opened)
	assert.Empty(t, p.shown)
	all := Topics("")
	at := slices.IndexFunc(all, func(t Topic) bool { return t.ID == "book" })
	require.GreaterOrEqual(t, at, 0)
	assert.Contains(t, all[at].Text, "]("+bookLink+")")
}
