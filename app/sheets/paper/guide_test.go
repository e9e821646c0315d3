package paper

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/draw"
)

// A guide with more kinds of sheets than a page holds goes on on the next: each kind has
// one entry, within the page, with the pages that its sheets are on and a link to the first.
func TestGuideLeadsToEveryKind(t *testing.T) {
	b := bound(t, large())
	const front = 3 // the guide, the cautions and the summary
	on := make([][]int, len(b.book.Sheets))
	for i := range b.leaves {
		for _, s := range b.leaves[i].holds {
			if s >= front {
				on[s-front] = append(on[s-front], i+1)
			}
		}
	}
	kinds, pages := 0, map[int]bool{}
	entered, once := map[string]bool{}, map[int]bool{}
	for i := range b.leaves {
		for _, k := range b.leaves[i].links {
			kinds++
			pages[i] = true
			title := b.book.Sheets[k.sheet].CommonTitle()
			entered[title], once[k.sheet] = true, true
			assert.Contains(t, written(&b.Pages[i], k), title)
			assert.Contains(t, written(&b.Pages[i], k), ranges(b.book.pagesOf(k.sheet, on)), title)
			assert.Less(t, k.to.Y, b.leaves[i].bottom()-b.leaves[i].footHeight(), title)
		}
	}
	require.Greater(t, kinds, 60)
	assert.Len(t, once, kinds)
	assert.Greater(t, len(pages), 1)
	for i := range b.book.Sheets {
		assert.Contains(t, entered, b.book.Sheets[i].CommonTitle())
	}
}

// written are the texts on a page at the height of a link.
func written(p *Page, k link) (out []string) {
	for _, it := range p.Drawing.Items {
		if l, ok := it.(draw.Label); ok && l.At.Y > k.from.Y && l.At.Y < k.to.Y {
			out = append(out, l.Text)
		}
	}
	return out
}
