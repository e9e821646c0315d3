package answer_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets"
)

func TestLicences(t *testing.T) {
	a := answer.LicencesOf("Built with:\n\n§ example.org/a v1.2.3\n\n— LICENSE\n\nDo as you like.\n\nReally.\n\n— font/NOTICE\n\nBy somebody.\n\n§ Go 1.2\n\n— LICENSE\n\nWords.\n")
	assert.Equal(t, []answer.ModuleNotices{
		{Module: "example.org/a", Version: "v1.2.3", Notices: []answer.Notice{{File: "LICENSE", Text: "Do as you like.\n\nReally."}, {File: "font/NOTICE", Text: "By somebody."}}},
		{Module: "Go", Version: "1.2", Notices: []answer.Notice{{File: "LICENSE", Text: "Words."}}},
	}, a.Modules)

	shipped := answer.LicencesOf(assets.Licences())
	require.NotEmpty(t, shipped.Modules)
	for _, m := range shipped.Modules {
		assert.NotEmpty(t, m.Notices, m.Module)
		for _, n := range m.Notices {
			assert.NotEmpty(t, strings.TrimSpace(n.Text), "%s %s", m.Module, n.File)
		}
	}
	var b strings.Builder
	require.NoError(t, shipped.Text(&b))
	assert.Contains(t, b.String(), "§ fyne.io/fyne/v2 ")
}
