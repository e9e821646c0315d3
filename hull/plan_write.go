package hull

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// planVersion is the version of the plan files written. Any earlier one is
// read, a newer one refused.
const planVersion = 1

// Write writes the plan as a plan file (JSON, see assets/strakeplan.schema.json),
// always the same bytes for the same plan. It does not write a plan that could
// not be read again: the error is then its first Fault.
func (p *Plan) Write(w io.Writer) error {
	text := p.encode()
	if _, found := parsePlan(text, ""); len(found) > 0 {
		return placeless(found)[0]
	}
	if _, err := w.Write(text); err != nil {
		return tongue.Errorf("plan: %w", err)
	}
	return nil
}

// Check returns every fault of the plan, or nil: anything that would keep its
// file from being read again.
func (p *Plan) Check() []fault.Fault {
	_, found := parsePlan(p.encode(), "")
	return placeless(found)
}

// placeless removes the line numbers from faults found in a text that is not in
// a file.
func placeless(found []fault.Fault) []fault.Fault {
	for i := range found {
		found[i].Line = 0
	}
	return found
}

// object is a JSON object whose keys keep the order in which they are written,
// member one of its keys, and list an array.
type (
	object []member
	member struct {
		key   string
		value any
	}
	list []any
)

// encode returns the text of the plan file.
func (p *Plan) encode() []byte {
	layers := list{}
	for i := range p.Layers {
		layers = append(layers, p.Layers[i].object(p.Hull.Frames))
	}
	root := append(append(object{
		{"version", planVersion},
		{"title", p.Title},
		{"hull", p.Hull.object()},
		{"layers", layers},
	}, slices.Concat(p.timber(), p.tradeMember())...), p.recordMember()...)
	root = append(root, p.extra.members()...)
	var b bytes.Buffer
	write(&b, root, "")
	b.WriteByte('\n')
	return b.Bytes()
}

func (h *Hull) object() object {
	frames := list{}
	for _, f := range h.Frames {
		o := object{{"name", f.Name}}
		if len(f.Knuckles) > 0 {
			o = append(o, member{"knuckles", listOf(f.Knuckles)})
		}
		points := list{}
		for _, p := range f.Points {
			points = append(points, listOf(p[:]))
		}
		frames = append(frames, append(append(o, member{"points", points}), f.extra.members()...))
	}
	var o object
	if h.Bow != "" {
		o = append(o, member{"bow", string(h.Bow)})
	}
	o = append(o, member{"limits", h.Limits.object()})
	if h.Shapeless() {
		return append(append(o, member{"girths", h.girthsList()}), h.extra.members()...)
	}
	return append(append(o, member{"frames", frames}), h.extra.members()...)
}

// numbers is the member of a list of n numbers, or nothing for none.
func numbers(key string, n int, at func(int) float64) object {
	if n == 0 {
		return nil
	}
	out := list{}
	for k := range n {
		out = append(out, at(k))
	}
	return object{{key, out}}
}

func (l *Layer) object(frames []Frame) object {
	s := l.Stock
	stock := append(object{
		{"width", s.Width}, {"thickness", s.Thickness}, {"length", s.Length}, {"species", s.Species},
	}, s.extra.members()...)
	bands, lines := list{}, list{}
	for _, b := range l.Bands {
		o := object{{"strakes", b.Strakes}}
		o = append(o, numbers("weights", len(b.Weights), b.Weight)...)
		o = append(o, numbers("strips", len(b.Strips), func(k int) float64 { return b.Strip(k, l.Stock) })...)
		o = append(o, b.modesMember()...)
		bands = append(bands, append(o, b.extra.members()...))
	}
	for i := range l.Lines {
		lines = append(lines, l.Lines[i].object(frames))
	}
	o := append(object{
		{"stock", stock},
		{"edges", string(l.Edges)},
		{"creep", l.Creep},
		{"bands", bands},
		{"lines", lines},
	}, l.laidMembers()...)
	return append(o, l.extra.members()...)
}

// object names the frames of the handles. A line with too few or too many
// handles for the frames, or a hold or aim handle on no frame, is written as it
// is, and so refused when it is read.
func (b *BandLine) object(frames []Frame) object {
	name := func(i int) string {
		if i >= 0 && i < len(frames) {
			return frames[i].Name
		}
		return ""
	}
	o := object{{"manner", string(b.LineType)}}
	if b.Follows != ThinBatten {
		o = append(o, member{"follows", string(b.Follows)})
	}
	o = append(o, member{"hold", name(b.Hold)})
	if b.Aim != -1 {
		o = append(o, member{"aim", name(b.Aim)})
	}
	handles := list{}
	for i := range max(len(b.Handles), len(frames)) {
		if i >= len(b.Handles) {
			handles = append(handles, object{{"frame", name(i)}})
			continue
		}
		h := b.Handles[i]
		handles = append(handles, append(object{{"frame", name(i)}, {"down", h.Down}, {"held", h.Held}}, h.extra.members()...))
	}
	return append(append(o, member{"handles", handles}), b.extra.members()...)
}

// listOf gives a list of numbers.
func listOf[T int | float64](values []T) list {
	var l list
	for _, v := range values {
		l = append(l, v)
	}
	return l
}

// write writes a value, with its inner lines indented. A value that holds no
// other objects or lists goes on one line, and so do unknown values.
func write(b *bytes.Buffer, value any, indent string) {
	switch v := value.(type) {
	case object:
		whole := true
		for _, m := range v {
			whole = whole && scalar(m.value)
		}
		between(b, '{', '}', len(v), whole, indent, func(i int, inner string) {
			write(b, v[i].key, "")
			b.WriteString(": ")
			write(b, v[i].value, inner)
		})
	case list:
		whole := true
		for _, e := range v {
			whole = whole && scalar(e)
		}
		between(b, '[', ']', len(v), whole, indent, func(i int, inner string) { write(b, v[i], inner) })
	case json.RawMessage:
		b.Write(v)
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			b.WriteString("null") // JSON has no such number; refused when it is read
			return
		}
		b.WriteString(plaintext.Figure(v))
	case string:
		var s strings.Builder
		e := json.NewEncoder(&s)
		e.SetEscapeHTML(false)
		if err := e.Encode(v); err != nil {
			panic(err) // a string can always be encoded
		}
		b.WriteString(strings.TrimSuffix(s.String(), "\n"))
	default:
		fmt.Fprint(b, v)
	}
}

// between writes n items between brackets, on one line or each on its own.
func between(b *bytes.Buffer, open, end byte, n int, whole bool, indent string, item func(i int, inner string)) {
	inner := indent + "  "
	b.WriteByte(open)
	for i := range n {
		if i > 0 {
			b.WriteByte(',')
		}
		switch {
		case !whole:
			b.WriteString("\n" + inner)
		case i > 0:
			b.WriteByte(' ')
		}
		item(i, inner)
	}
	if !whole {
		b.WriteString("\n" + indent)
	}
	b.WriteByte(end)
}

// scalar reports whether a value is neither an object nor a list.
func scalar(value any) bool {
	switch v := value.(type) {
	case object, list:
		return false
	case json.RawMessage:
		return v[0] != '{' && v[0] != '['
	}
	return true
}
