package window

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/assets/tongue"
)

// TestTheToolkitTakesTheTranslations reads them as the toolkit does, to whom some
// words are no texts but fields of a message.
func TestTheToolkitTakesTheTranslations(t *testing.T) {
	require.NoError(t, tongue.Use("de"))
	t.Cleanup(func() { require.NoError(t, tongue.Use()) })
	require.NoError(t, speak())
}
