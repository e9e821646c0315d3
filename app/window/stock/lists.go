package stock

import (
	"strings"

	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/assets/tongue"
)

// readList reads the numbers of a list that is typed in one line.
func readList(list string) ([]float64, error) { return kit.ParseNumbers(decimalCommas(list)) }

// decimalCommas writes points for the commas of a list where the reader's language has
// decimal commas and every comma can be one: within a word, and alone there. So "1,5" is
// one number in German, and "4, 5" and "4,5,6" are lists as ever.
func decimalCommas(list string) string {
	if tongue.Figure(".") == "." || strings.Contains(list, ";") {
		return list
	}
	for word := range strings.FieldsSeq(list) {
		whole, tenths, found := strings.Cut(word, ",")
		if found && (whole == "" || tenths == "" || strings.Contains(tenths, ",")) {
			return list
		}
	}
	return strings.ReplaceAll(list, ",", ".")
}
