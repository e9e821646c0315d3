package answer

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestChangesOfAFolder(t *testing.T) {
	assert.Empty(t, Written{}.Changes())
	assert.Equal(t, []string{"1 file of an earlier set, which is not of this one, was taken away."}, Written{Removed: []string{"a"}}.Changes())
	many := []string{"photos/", "line\nend \u202e"}
	for i := range 10 {
		many = append(many, fmt.Sprintf("n%d", i))
	}
	assert.Equal(t, []string{
		"2 files of an earlier set, which are not of this one, were taken away.",
		`Not of this set, and left in the folder: photos/, "line\nend \u202e", n0, n1, n2, n3, n4, n5, and 4 more.`,
	}, Written{Removed: []string{"a", "b"}, Left: many}.Changes())
}
