package kit

import (
	"errors"
	"fmt"
	"io/fs"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/strakewright/strakewright/hull/fault"
)

// TestSentencesKeepTheCaseOfFiles: a message begins with a capital, a file's name
// with the letter that it has.
func TestSentencesKeepTheCaseOfFiles(t *testing.T) {
	for want, err := range map[string]error{
		"fold.csv, line 3: the x is odd; mend it.":          fault.Fault{File: "fold.csv", Line: 3, What: "the x is odd", Mend: "mend it"},
		"my fold: cannot be opened.":                        fmt.Errorf("%w", fault.Fault{File: "my fold", What: "cannot be opened"}),
		"fold: it is no picture.":                           errors.New("fold: it is no picture"),
		"/home/me/fold: a file exists.":                     errors.New("/home/me/fold: a file exists"),
		"open fold.csv: file does not exist.":               &fs.PathError{Op: "open", Path: "fold.csv", Err: fs.ErrNotExist},
		"Layer 1: the strip's width is 0 mm: give it more.": errors.New("layer 1: the strip's width is 0 mm: give it more"),
		"The plan has no file yet; choose a name.":          errors.New("the plan has no file yet; choose a name."),
		`The band \x1b[31m is too wide.`:                    errors.New("the band \x1b[31m is too wide"),
		"Something went wrong.":                             errors.New(" "),
	} {
		assert.Equal(t, want, Sentence(err))
	}
}
