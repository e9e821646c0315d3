package hull

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// Builder is a builder's own file: how far the work with each wood and strip has
// strayed, learned from build after build. It is kept where the builder says, or not
// at all.
type Builder struct {
	Strips []Practice

	extra *extra
}

// Practice is what the builds with one wood and strip have taught. Lengths in
// mm.
type Practice struct {
	Species          string
	Width, Thickness float64 // of the strip
	Builds           []Build // in the order in which they were first learned from

	extra *extra
}

// Build is what one build taught. A build is known by its plan's title and its hull.
type Build struct {
	Title  string
	Hull   string // see Hull.Mark
	Taught Spread // for the wood and strip of its practice; its Builds is 1

	extra *extra
}

// Bounds of a builder's own file.
const (
	builderVersion     = 1
	largestBuilderFile = 16 << 20 // bytes
	mostPractices      = 1000     // woods and strips
	builderKind        = "a builder's own file"
)

// Mark is a short mark of a hull, always the same for the same hull: it tells apart
// builds that have the same title.
func (h *Hull) Mark() string {
	var b bytes.Buffer
	write(&b, h.object(), "")
	sum := sha256.Sum256(b.Bytes())
	return hex.EncodeToString(sum[:6])
}

// Learn puts what a build taught into the file, replacing whatever that build
// taught before.
func (b *Builder) Learn(title, mark string, taught Spread) {
	at := slices.IndexFunc(b.Strips, func(p Practice) bool { return taught.Of(p.strips()) })
	if at < 0 {
		at = len(b.Strips)
		b.Strips = append(b.Strips, Practice{Species: taught.Species, Width: taught.Width, Thickness: taught.Thickness})
	}
	p := &b.Strips[at]
	taught.Species, taught.Width, taught.Thickness, taught.Builds, taught.extra = p.Species, p.Width, p.Thickness, 1, nil
	i := slices.IndexFunc(p.Builds, func(o Build) bool { return o.Title == title && o.Hull == mark })
	if i < 0 {
		i = len(p.Builds)
		p.Builds = append(p.Builds, Build{Title: title, Hull: mark})
	}
	p.Builds[i].Taught = taught
}

func (p *Practice) strips() Stock {
	return Stock{Species: p.Species, Width: p.Width, Thickness: p.Thickness}
}

// OpenBuilder reads the builder's own file at a path, as readBuilder does.
func OpenBuilder(path string) (*Builder, error) {
	return keep.Opened(path, largestBuilderFile, func(r io.Reader) (*Builder, error) { return readBuilder(r, path) })
}

// readBuilder reads a builder's own file. Keys that this version does not know are
// kept at every level, and Write writes them back. The error is the first Fault of
// the file, which names the file as name.
func readBuilder(from io.Reader, name string) (*Builder, error) {
	f := fault.List{File: name}
	text, ok := plaintext.Read(from, largestBuilderFile, &f)
	if !ok {
		return nil, f.Sorted()[0]
	}
	r := &jsonReader{List: f, text: text, kind: tongue.T(builderKind)}
	b := r.builder()
	if found := r.Sorted(); len(found) > 0 {
		return nil, found[0]
	}
	return b, nil
}

func (r *jsonReader) builder() *Builder {
	text := bytes.TrimSpace(r.text)
	if len(text) == 0 || text[0] != '{' {
		r.Add(0, "", "name another", tongue.T("this is not %s", tongue.T(builderKind)))
		return nil
	}
	if !r.wellFormed() {
		return nil
	}
	o := r.object(node{text, bytes.IndexByte(r.text, '{')}, tongue.T("the file"))
	n, ok := o.take("version")
	if _, strips := o.left["strips"]; !ok || !strips {
		r.Add(0, "", "name another", tongue.T("this is not %s", tongue.T(builderKind)))
		return nil
	}
	switch v, sound := r.whole(n, `"version"`, Range{1, 1e6, false}); {
	case !sound:
		return nil
	case v > builderVersion:
		r.fault(n, "use a newer program", "the file has version %d, but this program reads up to %d", v, builderVersion)
		return nil
	}
	b := &Builder{}
	n, _ = o.take("strips")
	items, _ := r.items(n, `"strips"`, mostPractices)
	for i, n := range items {
		p := r.practice(n, tongue.T("strip %d", i+1))
		same := Spread{Species: p.Species, Width: p.Width, Thickness: p.Thickness}
		if slices.ContainsFunc(b.Strips, func(o Practice) bool { return same.Of(o.strips()) }) {
			r.fault(n, "merge the two into one", "%s appears twice", same.strip())
		}
		b.Strips = append(b.Strips, p)
	}
	b.extra = o.rest()
	return b
}

// practice reads what one wood and strip taught.
func (r *jsonReader) practice(n node, where string) Practice {
	o := r.object(n, where)
	p := Practice{Species: o.string("species"), Width: o.number("width", StripWidth), Thickness: o.number("thickness", StripThickness)}
	if n, ok := o.need("builds"); ok {
		items, _ := r.items(n, tongue.T("\"builds\" of %s", where), mostBuilds)
		for i, n := range items {
			p.Builds = append(p.Builds, r.build(n, tongue.T("build %d of %s", i+1, where), &p))
		}
	}
	p.extra = o.rest()
	return p
}

func (r *jsonReader) build(n node, where string, p *Practice) Build {
	o := r.object(n, where)
	b := Build{Title: o.string("title"), Hull: o.string("hull")}
	b.Taught = Spread{Species: p.Species, Width: p.Width, Thickness: p.Thickness, Builds: 1}
	for _, f := range b.Taught.strays() {
		*f.v = o.number(f.key, f.within)
	}
	if n, ok := o.take("readings"); ok {
		b.Taught.Readings, _ = r.whole(n, tongue.T("\"readings\" of %s", where), Range{0, mostReadings, false})
	}
	if slices.ContainsFunc(p.Builds, func(o Build) bool { return o.Title == b.Title && o.Hull == b.Hull }) {
		r.fault(n, "remove one of them", "%s has the title and hull of an earlier build", where)
	}
	b.extra = o.rest()
	return b
}

// Write writes the file as JSON, always the same bytes for the same builds. It
// does not write a file that could not be read again: the error is then its first
// Fault.
func (b *Builder) Write(w io.Writer) error {
	var text bytes.Buffer
	write(&text, b.object(), "")
	text.WriteByte('\n')
	if _, err := readBuilder(bytes.NewReader(text.Bytes()), ""); err != nil {
		return err
	}
	if _, err := w.Write(text.Bytes()); err != nil {
		return fmt.Errorf("%s: %w", builderKind, err)
	}
	return nil
}

func (b *Builder) object() object {
	strips := list{}
	for i := range b.Strips {
		strips = append(strips, b.Strips[i].object())
	}
	return append(object{{"version", builderVersion}, {"strips", strips}}, b.extra.members()...)
}

func (p *Practice) object() object {
	builds := list{}
	for i := range p.Builds {
		b := &p.Builds[i]
		o := object{{"title", b.Title}, {"hull", b.Hull}}
		for _, f := range b.Taught.strays() {
			o = append(o, member{f.key, *f.v})
		}
		builds = append(builds, append(append(o, member{"readings", b.Taught.Readings}), b.extra.members()...))
	}
	o := object{{"species", p.Species}, {"width", p.Width}, {"thickness", p.Thickness}, {"builds", builds}}
	return append(o, p.extra.members()...)
}
