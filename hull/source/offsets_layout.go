package source

import (
	"regexp"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// offsetsTold are the rows that describe a table of offsets, under the names
// that they may have.
var offsetsTold = map[string]string{
	"unit": "unit", "units": "unit", "scale": "scale", "to": "to", "planking": "planking", "bow": "bow",
	"station": "station", "stations": "station",
	"x": "x", "position": "x", "positions": "x",
}

// offsetsLines are the kinds of lines in a table of offsets, likewise.
var offsetsLines = map[string]string{
	"half-breadth": "half-breadth", "half-breadths": "half-breadth", "waterline": "half-breadth", "waterlines": "half-breadth", "wl": "half-breadth",
	"height": "height", "heights": "height", "buttock": "height", "buttocks": "height",
	"diagonal": "diagonal", "diagonals": "diagonal",
}

// offsetsFillers are words that say nothing about a line.
var offsetsFillers = []string{"of", "at", "the", "above", "base", "on", "to"}

// beginsOffsets reports whether the first field of a file, in lower case,
// begins a table of offsets.
func beginsOffsets(key string) bool {
	if strings.Contains(key, offsetsKey) {
		return true
	}
	switch offsetsTold[strings.TrimSuffix(key, ":")] {
	case "unit", "scale", "station":
		return true
	}
	kind, place := offsetsLine(key)
	return kind != "" && place == ""
}

// offsetsLine splits the heading of a line into its kind, empty if no word
// gives it, and the rest, its place.
func offsetsLine(heading string) (kind, place string) {
	heading = strings.NewReplacer(tongue.T("half breadth"), "half-breadth", "halfbreadth", "half-breadth", ":", " ").Replace(strings.ToLower(heading))
	var rest []string
	for word := range strings.FieldsSeq(heading) {
		switch k := offsetsLines[word]; {
		case k != "" && (kind == "" || k == kind):
			kind = k
		case !slices.Contains(offsetsFillers, word):
			rest = append(rest, word)
		}
	}
	return kind, strings.Join(rest, " ")
}

// inFull returns the rows of a table of offsets with kind and place in the
// first two fields of each, whichever layout the table has: that one, or both
// in the first field (waterline 6-0-0), or the kind in a heading above the
// lines of a kind and their places in the first field. Rows that it does not
// understand are returned as they are.
func inFull(rows []plaintext.Row) []plaintext.Row {
	single := slices.ContainsFunc(rows, func(r plaintext.Row) bool {
		return offsetsTold[strings.TrimSuffix(r.Key(), ":")] == "station" && r.At(1) != ""
	})
	heading := ""
	var out []plaintext.Row
	for _, r := range rows {
		told := offsetsTold[strings.TrimSuffix(r.Key(), ":")]
		kind, place := offsetsLine(r.Key())
		switch {
		case told == "station" || told == "x":
			if r = renamed(r, told); single {
				r = spread(r, told, "")
			}
		case told != "":
			r = renamed(r, told)
		case kind != "" && place == "" && len(r.Fields) == 1:
			heading = kind
			continue
		case single && kind != "":
			r = spread(r, kind, place)
		case single && heading != "":
			r = spread(r, heading, place)
		case kind != "" && place == "":
			r = renamed(r, kind)
		case kind == "" && heading != "" && r.At(0) == "":
			r = renamed(r, heading)
		}
		out = append(out, r)
	}
	return out
}

// acrossward turns a table with a row a station, whose header begins with station and
// x and names a line over each further column, into one with a column a station; any
// other it returns as it is.
func acrossward(rows []plaintext.Row) []plaintext.Row {
	at := slices.IndexFunc(rows, func(r plaintext.Row) bool {
		return offsetsTold[strings.TrimSuffix(r.Key(), ":")] == "station" && offsetsTold[strings.ToLower(strings.TrimSuffix(r.At(1), ":"))] == "x"
	})
	if at < 0 {
		return rows
	}
	head := rows[at]
	out := slices.Clone(rows[:at])
	for k, name := range head.Fields {
		if k == 1 {
			name = "x"
		}
		line := plaintext.Row{Line: head.Line, Fields: []string{name}}
		for _, r := range rows[at+1:] {
			line.Fields = append(line.Fields, r.At(k))
		}
		out = append(out, line)
	}
	return out
}

// renamed is the row with another first field.
func renamed(r plaintext.Row, key string) plaintext.Row {
	r.Fields = append([]string{key}, r.Fields[1:]...)
	return r
}

// spread is the row with its first field replaced by two.
func spread(r plaintext.Row, kind, place string) plaintext.Row {
	r.Fields = append([]string{kind, place}, r.Fields[1:]...)
	return r
}

var dashedLength = regexp.MustCompile(`^(-?\d+-\d+-\d+\+?|0)$`)

// isMarked reports whether a length carries the marks of feet or inches, or is not
// a length.
func isMarked(s string) bool {
	_, _, ok := marked(s)
	return ok || s == "0"
}

// all reports whether every offset of the rows, and every x, is given in a form that
// needs no unit from the table, with at least one that is not 0.
func all(rows []plaintext.Row, told func(string) bool) bool {
	found := false
	for _, r := range rows {
		if key := r.Key(); key != "x" && offsetsLines[key] == "" {
			continue
		}
		for _, field := range r.Fields[min(2, len(r.Fields)):] {
			switch {
			case told(field):
				found = found || field != "0"
			case field != "" && field != "-":
				return false
			}
		}
	}
	return found
}
