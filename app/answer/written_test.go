package answer

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestChangesOfAFolder(t *testing.T) {
	assert.Empty(t, Written{}.Changes())
	assert.Equal(t, []string{"Removed 1 file of an earlier set that this set does not have."}, Written{Removed: []string{"a"}}.Changes())
	many := []string{"photos/", "line\nend \u202e"}
	for i := range 10 {
		many = append(many, fmt.Sprintf("n%d", i))
	}
	assert.Equal(t, []string{
		"Removed 2 files of an earlier set that this set does not have.",
		`Left in the folder, but not of this set: photos/, "line\nend \u202e", n0, n1, n2, n3, n4, n5, and 4 more.`,
	}, Written{Removed: []string{"a", "b"}, Left: many}.Changes())
}
