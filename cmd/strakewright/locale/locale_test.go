package locale

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestOnlyLanguagesThatCanBeReadAreAskedFor(t *testing.T) {
	for _, c := range []struct {
		env      map[string]string
		readable string
	}{
		{map[string]string{}, ""},
		{map[string]string{"LC_ALL": "C", "LANGUAGE": "xx_YY"}, ""},
		{map[string]string{"LANG": "de_AT.UTF-8"}, "de_AT.UTF-8"},
		{map[string]string{"LANG": "xx_YY"}, "en"},
		{map[string]string{"LANG": "C.UTF-8"}, "en"},
		{map[string]string{"LANG": "en_US.UTF-8", "LANGUAGE": "xx_YY"}, "en"},
		{map[string]string{"LC_ALL": "POSIX.UTF-8", "LANG": "fr_FR"}, "en"},
		{map[string]string{"LANG": "de_DE", "LANGUAGE": "xx_YY:fr:de_DE@euro"}, "fr"},
		{map[string]string{"LC_MESSAGES": "!!", "LANG": "fr"}, "en"},
	} {
		_, readable := languages(func(name string) string { return c.env[name] })
		assert.Equal(t, c.readable, readable, "%v", c.env)
	}
}
