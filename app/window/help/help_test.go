package help

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets/tongue"
)

var links = regexp.MustCompile(`\]\(([^)]*)\)`)

// Each folder is a language of topics: all of the same names, and each with the same
// links as in English.
func TestEveryTopicIsAFileAndLinkedRightly(t *testing.T) {
	defer func() { _ = tongue.Use() }()
	folders, err := files.ReadDir("topics")
	require.NoError(t, err)
	linked := map[string][]string{} // by topic, as in English
	for _, topic := range Topics("") {
		linked[topic.ID] = linksOf(topic)
	}
	for _, f := range folders {
		require.NoError(t, tongue.Use(f.Name()))
		require.Equal(t, f.Name(), tongue.Language(), "a folder of topics in a language that there is")
		entries, err := files.ReadDir("topics/" + f.Name())
		require.NoError(t, err)
		var names []string
		for _, e := range entries {
			names = append(names, strings.TrimSuffix(e.Name(), ".md"))
		}
		assert.ElementsMatch(t, order, names)
		all := Topics("- **F1**  help")
		require.Len(t, all, len(order))
		for _, topic := range all {
			in := f.Name() + "/" + topic.ID
			assert.True(t, strings.HasPrefix(topic.Text, "# "), in)
			assert.NotEmpty(t, topic.Title, in)
			assert.NotEmpty(t, topic.Summary, in)
			assert.NotContains(t, topic.Summary, "\n", in)
			assert.NotContains(t, topic.Text, "{keys}", in)
			assert.Equal(t, topic.ID == "keys", strings.Contains(topic.Text, "- **F1**  help"), in)
			assert.ElementsMatch(t, linked[topic.ID], linksOf(topic), in)
			for _, to := range linksOf(topic) {
				assert.True(t, to == bookLink || slices.Contains(order, to), "%s links to %q", in, to)
			}
		}
	}
}

// linksOf is where the links of a topic lead.
func linksOf(t Topic) (out []string) {
	for _, to := range links.FindAllStringSubmatch(t.Text, -1) {
		out = append(out, to[1])
	}
	return out
}

func TestWhatALanguageLacksIsToldInEnglish(t *testing.T) {
	require.NoError(t, tongue.Use("de"))
	defer func() { _ = tongue.Use() }()
	some := fstest.MapFS{
		"topics/en/wood.md": {Data: []byte("# Wood")}, "topics/de/wood.md": {Data: []byte("# Holz")},
		"topics/en/lie.md": {Data: []byte("# Lie")},
	}
	assert.Equal(t, "# Holz", textOf(some, "wood"))
	assert.Equal(t, "# Lie", textOf(some, "lie"))
	require.NoError(t, tongue.Use())
	assert.Equal(t, "# Wood", textOf(some, "wood"))
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
