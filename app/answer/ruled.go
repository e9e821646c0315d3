package answer

import (
	"fmt"
	"math"

	"github.com/strakewright/strakewright/assets/tongue"
)

// mmPerInch is exact (international yard and pound agreement, 1959).
const mmPerInch = 25.4

// RuleText tells the divisions of a rule, mm: as 0.5 mm, and in inches as the
// fraction that stands on the rule, as 1/64 in.
func RuleText(mm float64, u Units) string {
	if u.Name() == millimetres {
		return decimals(tidy(mm), -1) + " " + millimetres
	}
	finest := 128.0 // a division that no eye reads
	for n := 2.0; n <= finest; n *= 2 {
		if math.Abs(n*mm/mmPerInch-1) < 0.01 {
			return fmt.Sprintf("1/%g %s", n, u.Name())
		}
	}
	return tongue.Figure(u.Length(mm))
}
