package hull

import (
	"regexp"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// Start is where the laying of a layer begins, working outwards: beside a line or with a
// strake. The zero value leaves it to the lines.
type Start struct {
	Line   int    // the line under the band of that number, from 1; 0 where a strake is named
	Strake string // the ID of a strake, such as "1.05" or "2/1.05"
}

// Starts reads where the laying begins, one start a layer separated by commas: "line
// 2" or the ID of a strake, for an outer layer preceded by its number, as in "2/line
// 1". The key is the number of the layer. The error names a part that is neither.
func (c *Cutting) Starts() (map[int]Start, error) {
	out := map[int]Start{}
	if strings.TrimSpace(c.Start) == "" {
		return out, nil
	}
	for part := range strings.SplitSeq(c.Start, ",") {
		part = strings.Join(strings.Fields(part), " ")
		m := startForm.FindStringSubmatch(part)
		if m == nil {
			return nil, tongue.Errorf("laying cannot begin at %s, which is neither a strake such as 1.05 nor a line such as line 2", fault.Name(part))
		}
		layer := 1
		if m[1] != "" {
			layer, _ = strconv.Atoi(m[1]) // two digits, by the pattern
		}
		if _, twice := out[layer]; twice {
			return nil, tongue.Errorf("%s is a second place to begin in one layer", fault.Name(part))
		}
		start := Start{Strake: part}
		if m[2] != "" {
			line, _ := strconv.Atoi(m[2]) // three digits, by the pattern
			start = Start{Line: line}
		} else if layer == 1 {
			start.Strake = m[3]
		}
		out[layer] = start
	}
	return out, nil
}

// startForm matches a place to begin: the layer, and a line or a strake.
var startForm = regexp.MustCompile(`^(?:([1-9][0-9]?)/)?(?:line ([1-9][0-9]{0,2})|([1-9][0-9]?\.[0-9]{2,3}))$`)
