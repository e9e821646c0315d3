package answer

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLettersThatCannotBePrintedAreTold(t *testing.T) {
	var out strings.Builder
	require.NoError(t, Written{Folder: "paper", Lacking: "鷗丸"}.Text(&out))
	assert.Contains(t, out.String(), "No font on this computer has these letters: 鷗 (U+9DD7), 丸 (U+4E38).")
}
