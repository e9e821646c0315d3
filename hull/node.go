package hull

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// Limits of a plan file.
const (
	largestPlanFile = 64 << 20 // bytes
	deepestNesting  = 100      // of nested objects and lists
	longestText     = 1000     // characters
)

// node is a value of a JSON file that has not been read yet, and its offset in
// the file.
type node struct {
	raw []byte
	at  int
}

// kind says what the value is by its first byte: '{', '[', '"', 't' or 'f' for
// a truth value, 'n' for null, and '0' for a number.
func (n node) kind() byte {
	if c := n.raw[0]; c != '-' && (c < '0' || c > '9') {
		return c
	}
	return '0'
}

// told names a value in a sentence.
func (n node) told() string {
	switch n.kind() {
	case '{':
		return tongue.T("an object")
	case '[':
		return tongue.T("a list")
	}
	if r := []rune(string(n.raw)); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return string(n.raw)
}

// jsonReader reads the values of one file and collects its faults.
type jsonReader struct {
	fault.List
	text []byte
	kind string // of the file, with its article; empty for a plan file
}

func (r *jsonReader) kindOfFile() string {
	if r.kind == "" {
		return tongue.T("a plan file")
	}
	return r.kind
}

// fault notes what is wrong with a part of the file.
//
//tongue:says 1,2
func (r *jsonReader) fault(n node, mend, what string, args ...any) {
	r.Add(plaintext.LineAt(r.text, n.at), "", mend, what, args...)
}

func (r *jsonReader) wholeFile() string {
	if r.kind == "" {
		return tongue.T("the plan")
	}
	return tongue.T("the file")
}

// wellFormed reports whether the text is JSON, nested no deeper than is read.
func (r *jsonReader) wellFormed() bool {
	var whole json.RawMessage
	err := json.Unmarshal(r.text, &whole)
	var syntax *json.SyntaxError
	switch {
	case err == nil:
		depth, at := nesting(r.text)
		if depth > deepestNesting {
			r.Add(plaintext.LineAt(r.text, at), "", tongue.T("check that it is %s", r.kindOfFile()), "objects and lists nest more than %d deep", deepestNesting)
			return false
		}
		return true
	case !errors.As(err, &syntax):
		r.Add(0, "", tongue.T("check that it is %s", r.kindOfFile()), "it cannot be read as JSON (%v)", err)
	case strings.Contains(syntax.Error(), "max depth"):
		r.Add(plaintext.LineAt(r.text, int(syntax.Offset)), "", tongue.T("check that it is %s", r.kindOfFile()), "objects and lists nest more than %d deep", deepestNesting)
	case strings.Contains(syntax.Error(), "unexpected end"):
		r.Add(plaintext.LineAt(r.text, len(bytes.TrimSpace(r.text))), "", "take a whole copy of it", "the file breaks off before its end")
	default:
		i := min(max(int(syntax.Offset)-1, 0), len(r.text)-1)
		c, _ := utf8.DecodeRune(r.text[i:])
		if strings.Contains(syntax.Error(), "after top-level value") {
			r.Add(plaintext.LineAt(r.text, i), "", "remove it", "text follows the end of %s, from %q on", r.wholeFile(), c)
			break
		}
		r.Add(plaintext.LineAt(r.text, i), "", "look for a missing comma, quote or bracket here or just before", "the character %q is out of place", c)
	}
	return false
}

// nesting gives the greatest depth of objects and lists in JSON, and where it
// is first reached.
func nesting(text []byte) (deepest, at int) {
	depth, quoted := 0, false
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case quoted && c == '\\':
			i++
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '{' || c == '[':
			if depth++; depth > deepest {
				deepest, at = depth, i
			}
		case c == '}' || c == ']':
			depth--
		}
	}
	return deepest, at
}

// items gives the items of a list, at most most; false, with a fault noted,
// where it is not a list or has more.
func (r *jsonReader) items(n node, what string, most int) ([]node, bool) {
	if n.kind() != '[' {
		r.fault(n, "make it a list [..]", "%s is %s, not a list", what, n.told())
		return nil, false
	}
	d := json.NewDecoder(bytes.NewReader(n.raw))
	r.next(d)
	var items []node
	for d.More() {
		if len(items) == most {
			r.fault(n, "remove some", "%s has more than the limit of %d items", what, most)
			return nil, false
		}
		items = append(items, r.value(d, n.at))
	}
	return items, true
}

// next returns the next token. The text has been checked to be JSON, so there is
// one.
func (r *jsonReader) next(d *json.Decoder) json.Token {
	token, err := d.Token()
	if err != nil {
		panic(fmt.Sprintf("hull: JSON that was sound no longer is: %v", err))
	}
	return token
}

// value returns the next value of the list or object that starts at the given
// offset.
func (r *jsonReader) value(d *json.Decoder, start int) node {
	var raw json.RawMessage
	if err := d.Decode(&raw); err != nil {
		panic(fmt.Sprintf("hull: JSON that was sound no longer is: %v", err))
	}
	return node{raw, start + int(d.InputOffset()) - len(raw)}
}

// fields holds the keys of one object that have not been read yet.
type fields struct {
	*jsonReader
	self  node
	where string // such as "the stock of layer 1"
	left  map[string]node
}

// object gives the keys of an object; a value that is not an object has no
// keys, and a fault is noted.
func (r *jsonReader) object(n node, where string) *fields {
	o := &fields{r, n, where, map[string]node{}}
	if n.kind() != '{' {
		r.fault(n, "make it an object {..}", "%s is %s, not an object", where, n.told())
		return o
	}
	d := json.NewDecoder(bytes.NewReader(n.raw))
	r.next(d)
	for d.More() {
		key, _ := r.next(d).(string)
		v := r.value(d, n.at)
		if _, twice := o.left[key]; twice {
			r.fault(v, "remove one of them", "the key %q appears twice in %s", key, where)
		}
		o.left[key] = v
	}
	return o
}

// take returns the value of a key and removes it.
func (o *fields) take(key string) (node, bool) {
	n, ok := o.left[key]
	delete(o.left, key)
	return n, ok
}

// need returns the value of a key that must be there.
func (o *fields) need(key string) (node, bool) {
	n, ok := o.take(key)
	if !ok && o.self.kind() == '{' {
		o.fault(o.self, "add it", "%s has no %q", o.where, key)
	}
	return n, ok
}

// rest is the keys that nobody asked for.
func (o *fields) rest() *extra { return newExtra(o.left) }

// number reads a number within a range.
func (r *jsonReader) number(n node, what string, within Range) (float64, bool) {
	if n.kind() != '0' {
		r.fault(n, "give a number", "%s is %s, not a number", what, n.told())
		return 0, false
	}
	v, err := strconv.ParseFloat(string(n.raw), 64)
	if err != nil || math.IsInf(v, 0) {
		r.fault(n, tongue.T("give it %s", within.String()), "%s is %s, which is not finite", what, n.told())
		return 0, false
	}
	if !within.Holds(v) {
		r.fault(n, tongue.T("give it %s", within.String()), "%s is %s", what, n.told())
		return 0, false
	}
	return v, true
}

// whole reads a whole number within a range.
func (r *jsonReader) whole(n node, what string, within Range) (int, bool) {
	v, ok := r.number(n, what, within)
	if ok && v != math.Trunc(v) {
		r.fault(n, "give a whole number", "%s is %s", what, n.told())
		return 0, false
	}
	return int(v), ok
}

// string reads a string.
func (r *jsonReader) string(n node, what string) (s string, ok bool) {
	if n.kind() != '"' {
		r.fault(n, "put it in quotes", "%s is %s, not a text", what, n.told())
		return "", false
	}
	if err := json.Unmarshal(n.raw, &s); err != nil {
		panic(fmt.Sprintf("hull: JSON that was sound no longer is: %v", err))
	}
	if utf8.RuneCountInString(s) > longestText {
		r.fault(n, "shorten it", "%s has more than %d characters", what, longestText)
		return "", false
	}
	return s, true
}

// number reads the number under a key that must be there.
func (o *fields) number(key string, within Range) float64 {
	if n, ok := o.need(key); ok {
		v, _ := o.jsonReader.number(n, tongue.T("%q of %s", key, o.where), within)
		return v
	}
	return 0
}

// string reads the string under a key, empty if it is not there.
func (o *fields) string(key string) string {
	if n, ok := o.take(key); ok {
		s, _ := o.jsonReader.string(n, tongue.T("%q of %s", key, o.where))
		return s
	}
	return ""
}

// oneOf reads a key whose value must be one of some words; empty where it is
// none of them, or where it is missing and not needed.
func (o *fields) oneOf(key string, needed bool, words ...string) string {
	n, ok := o.take(key)
	if !ok {
		if needed && o.self.kind() == '{' {
			o.fault(o.self, tongue.T("write %s", either(words)), "%s has no %q", o.where, key)
		}
		return ""
	}
	if n.kind() == '"' {
		if s, _ := o.jsonReader.string(n, key); slices.Contains(words, s) {
			return s
		}
	}
	o.fault(n, tongue.T("write %s", either(words)), "%q of %s is %s", key, o.where, n.told())
	return ""
}

// either lists words as a choice.
func either(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return tongue.T("%s or %s", strings.Join(words[:len(words)-1], ", "), words[len(words)-1])
}
