package drawing

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"

	"github.com/go-gl/mathgl/mgl64"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/plaintext"
)

// Limits of an SVG file.
const (
	largestSVG     = 32 << 20 // bytes, most of which may be a picture
	mostAttributes = 1000     // of one element
	mostElements   = 200000   // and as many again by copies
	mostReferences = 10000    // to entities
)

// checkSVG reads a hull from the outlines of its frames in an SVG drawing, at the model's
// own size. An outline is one or several lines whose ends meet, under the name of its
// frame: its own label or id, or that of a group it lies in. The name gives the frame's
// place, as in F-x-120 or frame-F-x-4.5in, or else the table beside the drawing does.
// Lines called centre, base, upper (or sheer, or wale) and rabbet mark the centre line,
// the base line and the limits of all frames; with a frame's name appended, as in
// rabbet-F, or within its group, those of that frame. A small circle marks its centre.
//
// Without a centre line an outline must be symmetrical about its middle. Without limits,
// the planking of an open outline runs from its upper end down to the centre line or its
// lower end. From an outline with both halves the mean is taken, and their difference
// noted. Corners of more than 25 degrees are kept.
//
// It returns what was found in the drawing, and every fault, which names the file as
// name.
func checkSVG(r io.Reader, name string, b *beside, how Options) (*Drawing, []fault.Fault) {
	s := svgReader{List: fault.List{File: name}, byID: map[string]*svgNode{}, left: mostDrawn}
	d := &Drawing{}
	if text, ok := plaintext.Read(r, largestSVG, &s.List); ok {
		if root, ok := s.tree(text); ok {
			d.Unit = root.unit()
			if d.Unit == "" {
				d.Notes = append(d.Notes, tongue.T("The drawing has no unit of length: its pixels count as 96 to the inch."))
			}
			if s.draw(root); len(s.Found) == 0 {
				outlinesOf(s.strokes, b, d, &s.List)
			}
		}
	}
	d.byPlace(how, &s.List)
	d.makeHull(context.Background(), how, &s.List)
	return d, s.Sorted()
}

// unit is the unit of the drawing's width or height; empty where these are in
// pixels, or missing.
func (n *svgNode) unit() string {
	for _, key := range []string{"width", "height"} {
		s := &pathScanner{text: strings.TrimSpace(n.attr[key])}
		if _, ok := s.number(); !ok {
			continue
		}
		switch unit := strings.ToLower(strings.TrimSpace(s.text[s.at:])); unit {
		case "in":
			return "inches"
		case "mm", "cm", "pt", "pc", "q":
			return unit
		}
	}
	return ""
}

// svgReader is the state of reading one SVG file.
type svgReader struct {
	fault.List
	byID    map[string]*svgNode
	rules   []styleRule // of its style sheets, by increasing weight
	strokes []stroke
	left    int // points
	wild    int
	visits  int // elements drawn
}

// svgNode is an element that may draw something.
type svgNode struct {
	name  string
	attr  map[string]string
	inner []*svgNode
	outer *svgNode // the element that holds it; nil for the root
	text  []byte   // of a style sheet
	line  int
}

// svgKept are the attributes that are read.
var svgKept = map[string]bool{
	"id": true, "label": true, "groupmode": true, "d": true, "points": true, "transform": true, "x": true, "y": true, "width": true, "height": true,
	"viewBox": true, "preserveAspectRatio": true, "href": true, "display": true, "style": true, "visibility": true, "class": true, "media": true,
	"cx": true, "cy": true, "r": true, "rx": true, "ry": true, "x1": true, "y1": true, "x2": true, "y2": true,
}

// tree reads the elements. Besides the five entities of XML itself, only those are
// known that the drawing declares as plain short texts, as drawing programs do for
// namespaces, and so few of them that none can expand.
func (s *svgReader) tree(text []byte) (root *svgNode, ok bool) {
	if line := crowded(text); line > 0 {
		s.Add(line, "", "save it as plain SVG", "an element has more than %d attributes, the most that the program reads", mostAttributes)
		return nil, false
	}
	d := xml.NewDecoder(bytes.NewReader(text))
	d.CharsetReader = func(_ string, r io.Reader) (io.Reader, error) { return r, nil } // it has been checked to be UTF-8
	var open []*svgNode
	count := 0
	for {
		token, err := d.RawToken()
		line, _ := d.InputPos()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			s.notXML(err, line)
			return nil, false
		}
		switch e := token.(type) {
		case xml.Directive:
			if d.Entity == nil && bytes.Count(text, []byte("&")) <= mostReferences {
				d.Entity = declaredEntities(e)
			}
		case xml.StartElement:
			if count++; count > mostElements {
				s.Add(line, "", "remove lines that are not outlines", "the drawing has more than %d elements, the most that the program reads", mostElements)
				return nil, false
			}
			if len(open) == deepestGroup {
				s.Add(line, "", "ungroup some", "groups nest more than %d deep", deepestGroup)
				return nil, false
			}
			n := svgElement(e, line)
			if id := n.attr["id"]; id != "" {
				s.byID[id] = n
			}
			switch {
			case len(open) > 0:
				parent := open[len(open)-1]
				parent.inner, n.outer = append(parent.inner, n), parent
			case root == nil:
				root = n
			}
			open = append(open, n)
		case xml.CharData:
			if k := len(open) - 1; k >= 0 && open[k].name == "style" {
				open[k].text = append(open[k].text, e...)
			}
		case xml.EndElement:
			if len(open) == 0 || open[len(open)-1].name != e.Name.Local {
				s.Add(line, "", "save the drawing again", "the element %s is closed but not open", fault.Name(e.Name.Local))
				return nil, false
			}
			open = open[:len(open)-1]
		}
	}
	switch {
	case len(open) > 0:
		s.Add(0, "", "take a whole copy of it", "the file breaks off before its end")
	case root == nil || root.name != "svg":
		s.Add(1, "", "save it as plain SVG", "this is not an SVG drawing")
	default:
		return root, true
	}
	return nil, false
}

// entityDeclared matches an entity whose value is plain text.
var entityDeclared = regexp.MustCompile(`<!ENTITY\s+([\w.:-]{1,100})\s+(?:"([^"<&%]{0,200})"|'([^'<&%]{0,200})')\s*>`)

// declaredEntities are the entities that a document type declares.
func declaredEntities(directive []byte) map[string]string {
	out := map[string]string{}
	for _, m := range entityDeclared.FindAllSubmatch(directive, 100) {
		out[string(m[1])] = string(m[2]) + string(m[3])
	}
	return out
}

// crowded gives the line of an element with too many attributes, or 0.
func crowded(text []byte) int {
	count := 0
	for i, c := range text {
		switch c {
		case '<', '>':
			count = 0
		case '=':
			if count++; count > mostAttributes {
				return plaintext.LineAt(text, i)
			}
		}
	}
	return 0
}

func svgElement(e xml.StartElement, line int) *svgNode {
	n := &svgNode{name: e.Name.Local, line: line}
	for _, a := range e.Attr {
		if svgKept[a.Name.Local] {
			if n.attr == nil {
				n.attr = map[string]string{}
			}
			n.attr[a.Name.Local] = a.Value
		}
	}
	return n
}

// notXML notes an error of package xml in our own words.
func (s *svgReader) notXML(err error, line int) {
	var syntax *xml.SyntaxError
	if !errors.As(err, &syntax) {
		s.Add(line, "", "save it as plain SVG", "it cannot be read as XML (%v)", err)
		return
	}
	what := tongue.T("the XML is out of order")
	switch {
	case strings.Contains(syntax.Msg, "entity"):
		what = tongue.T("there is an entity that is not one of XML's own")
	case strings.Contains(syntax.Msg, "EOF"):
		s.Add(syntax.Line, "", "take a whole copy of it", "the file breaks off before its end")
		return
	}
	s.Add(syntax.Line, "", "save it as plain SVG", "%s", what)
}

// draw draws everything, in mm with y upwards.
func (s *svgReader) draw(root *svgNode) {
	flip := mgl64.Scale2D(1, -1)
	s.styles(root)
	sortRules(s.rules)
	s.element(root, flip.Mul3(s.page(root)), within{alone: true, view: root.rootView()}, 0)
	if s.wild > 0 {
		s.Add(s.wild, "", "check the figures, the unit and the transforms", "a coordinate is not finite or over 1 km")
	}
	if s.visits > 2*mostElements {
		s.Add(0, "", "remove lines that are not outlines", "the drawing has more than %d elements, copies included, the most that the program reads", 2*mostElements)
	}
	if s.left < 0 {
		s.Add(0, "", "remove lines that are not outlines", "the drawing has more than %d points, the most that the program reads", mostDrawn)
	}
}

// pixel is the CSS pixel, 96 to the inch, in mm.
const pixel = 25.4 / 96

// viewBox is the corner and the size of what an element shows, in the units of its
// content.
func (n *svgNode) viewBox() (box [4]float64, ok bool) {
	view := &pathScanner{text: n.attr["viewBox"]}
	for k := range box {
		v, ok := view.number()
		if !ok {
			return box, false
		}
		box[k] = v
	}
	return box, box[2] > 0 && box[3] > 0
}

// page is the transformation from the units of the outermost svg element into mm
// (SVG 2, 8.2).
func (s *svgReader) page(n *svgNode) mgl64.Mat3 {
	w, okW := svgLength(n.attr["width"])
	h, okH := svgLength(n.attr["height"])
	box, ok := n.viewBox()
	if !ok {
		return mgl64.Scale2D(pixel, pixel)
	}
	switch {
	case okW && okH:
	case okW:
		h = w / box[2] * box[3]
	case okH:
		w = h / box[3] * box[2]
	default:
		w, h = box[2]*pixel, box[3]*pixel
	}
	return n.fitted(box, w, h)
}

// fitted is the transformation from a box into a window of the given size, as
// preserveAspectRatio says: centred and as large as fits where it says nothing.
func (n *svgNode) fitted(box [4]float64, w, h float64) mgl64.Mat3 {
	sx, sy := w/box[2], h/box[3]
	aspect := n.attr["preserveAspectRatio"]
	switch {
	case strings.HasPrefix(strings.TrimSpace(aspect), "none"):
	case strings.Contains(aspect, "slice"):
		sx = max(sx, sy)
		sy = sx
	default:
		sx = min(sx, sy)
		sy = sx
	}
	at := func(part string) float64 {
		switch {
		case strings.Contains(aspect, tongue.T("%sMin", part)):
			return 0
		case strings.Contains(aspect, tongue.T("%sMax", part)):
			return 1
		}
		return 0.5
	}
	dx, dy := (w-sx*box[2])*at("x"), (h-sy*box[3])*at("Y")
	return mgl64.Translate2D(dx, dy).Mul3(mgl64.Scale2D(sx, sy)).Mul3(mgl64.Translate2D(-box[0], -box[1]))
}

// rootView is the size of the outermost svg element in its own units.
func (n *svgNode) rootView() mgl64.Vec2 {
	if box, ok := n.viewBox(); ok {
		return mgl64.Vec2{box[2], box[3]}
	}
	w, _ := svgLength(n.attr["width"])
	h, _ := svgLength(n.attr["height"])
	return mgl64.Vec2{w / pixel, h / pixel}
}

// size is that of the window of an inner svg or a symbol, in the units around it:
// as given by its use, or by itself, or all of the window around it (SVG 2, 5.6 and
// 8.4).
func (n *svgNode) size(use *svgNode, view mgl64.Vec2) mgl64.Vec2 {
	for k, key := range []string{"width", "height"} {
		all := view[k]
		for _, of := range []*svgNode{n, use} {
			if of != nil && of.attr[key] != "" && of.attr[key] != "auto" {
				view[k] = of.across(key, all)
			}
		}
	}
	return view
}

// window is the transformation into a window of the given size, and the size of
// what it shows.
func (n *svgNode) window(to mgl64.Mat3, size mgl64.Vec2) (mgl64.Mat3, mgl64.Vec2) {
	box, ok := n.viewBox()
	if !ok || !(size[0] > 0 && size[1] > 0) {
		return to, size
	}
	return to.Mul3(n.fitted(box, size[0], size[1])), mgl64.Vec2{box[2], box[3]}
}

// across is an attribute in user units; a percentage is taken of the given
// length.
func (n *svgNode) across(key string, of float64) float64 {
	if share, ok := strings.CutSuffix(strings.TrimSpace(n.attr[key]), "%"); ok {
		s := &pathScanner{text: share}
		v, _ := s.number()
		return v / 100 * of
	}
	return n.number(key)
}

// svgUnits are the units of a length, in mm.
var svgUnits = map[string]float64{
	"": pixel, "px": pixel, "mm": 1, "cm": 10, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6, "q": 0.25,
}

// svgLength reads a length in mm; a percentage is not a length.
func svgLength(text string) (mm float64, ok bool) {
	s := &pathScanner{text: strings.TrimSpace(text)}
	v, ok := s.number()
	if !ok {
		return 0, false
	}
	unit, known := svgUnits[strings.ToLower(strings.TrimSpace(s.text[s.at:]))]
	return v * unit, known && v > 0
}

// number is an attribute in user units.
func (n *svgNode) number(key string) float64 {
	s := &pathScanner{text: n.attr[key]}
	v, ok := s.number()
	if !ok {
		return 0
	}
	switch unit := strings.ToLower(strings.TrimSpace(s.text[s.at:])); unit {
	case "", "px":
	default:
		v *= svgUnits[unit] / svgUnits["px"]
	}
	return v
}

// automatic are ids that drawing programs make up.
var automatic = regexp.MustCompile(`^(?:(?:path|g|group|rect|circle|ellipse|line|polyline|polygon|use|layer|svg|surface|clip|source|glyph|object|shape)[-_]?\d*(?:[-_]\d+)*)?$`)

// called gives the name the builder gave an element, or an empty one.
func (n *svgNode) called() string {
	if label := strings.TrimSpace(n.attr["label"]); label != "" && !automatic.MatchString(label) {
		return label
	}
	if id := n.attr["id"]; !automatic.MatchString(id) {
		return id
	}
	return ""
}

// ownID is the id of an element that has no other name.
func (n *svgNode) ownID() string {
	if n.called() != "" {
		return ""
	}
	return n.attr["id"]
}

// within says where an element stands in the drawing.
type within struct {
	names  []string // of the groups around it that have one, from the outermost
	layer  string
	alone  bool // the innermost name is a layer's, or there is none
	depth  int
	unseen bool       // visibility is hidden
	view   mgl64.Vec2 // breadth and height of the picture that holds it, in its own units
}

func (w within) deeper() within {
	w.depth++
	return w
}

// also is w with the name of an element added. A layer is a group marked as one
// by the drawing program, or otherwise the outermost group with a name.
func (w within) also(n *svgNode) within {
	name := n.called()
	if name == "" || w.depth == 0 {
		return w
	}
	w.names = append(slices.Clip(w.names), name)
	w.alone = n.attr["groupmode"] == "layer"
	if w.alone || (w.layer == "" && n.name == "g") {
		w.layer = name
	}
	return w
}

// element draws an element and its content.
func (s *svgReader) element(n *svgNode, to mgl64.Mat3, in within, uses int) {
	if s.visits > 2*mostElements {
		return
	}
	is := s.shown(n)
	if s.visits++; is.none || s.left < 0 || len(s.strokes) > mostStrokes || in.depth > deepestGroup {
		return
	}
	if is.visible != "" && is.visible != "inherit" {
		in.unseen = is.visible != "visible"
	}
	if text := n.attr["transform"]; text != "" {
		m, ok := svgTransform(text)
		if !ok {
			s.Add(n.line, "", "write it as in the SVG standard, or apply it and save again", "the transform %s is not understood", fault.Name(text))
			return
		}
		to = to.Mul3(m)
	}
	in = in.also(n)
	switch n.name {
	case "svg":
		if in.depth > 0 {
			to = to.Mul3(mgl64.Translate2D(n.across("x", in.view[0]), n.across("y", in.view[1])))
			to, in.view = n.window(to, n.size(nil, in.view))
		}
		s.all(n, to, in, uses)
	case "g", "a", "switch":
		s.all(n, to, in, uses)
	case "use":
		s.use(n, to, in, uses)
	default:
		if in.unseen {
			return
		}
		s.shape(n, pen{to: to, names: in.names, layer: in.layer, id: n.ownID(), alone: s.number(in.alone), line: n.line, strokes: &s.strokes, left: &s.left, wild: &s.wild})
	}
}

// number is a new number for an element that is alone, otherwise 0.
func (s *svgReader) number(alone bool) int {
	if alone {
		return s.visits
	}
	return 0
}

func (s *svgReader) all(n *svgNode, to mgl64.Mat3, in within, uses int) {
	for _, inner := range n.inner {
		s.element(inner, to, in.deeper(), uses)
	}
}

// use draws a copy of another element.
func (s *svgReader) use(n *svgNode, to mgl64.Mat3, in within, uses int) {
	of := s.byID[strings.TrimPrefix(n.attr["href"], "#")]
	if of == nil || uses == deepestUse {
		return
	}
	to = to.Mul3(mgl64.Translate2D(n.across("x", in.view[0]), n.across("y", in.view[1])))
	switch of.name {
	case "symbol":
		if s.shown(of).none {
			return
		}
		to = to.Mul3(mgl64.Translate2D(of.across("x", in.view[0]), of.across("y", in.view[1])))
		to, in.view = of.window(to, of.size(n, in.view))
		s.all(of, to, in, uses+1)
		return
	case "svg":
		to = to.Mul3(mgl64.Translate2D(of.across("x", in.view[0]), of.across("y", in.view[1])))
		to, in.view = of.window(to, of.size(n, in.view))
		s.all(of, to, in.deeper(), uses+1)
		return
	}
	s.element(of, to, in.deeper(), uses+1)
}

// shape draws a path or a basic shape; other elements draw nothing.
func (s *svgReader) shape(n *svgNode, p pen) {
	v := n.number
	switch n.name {
	case "path":
		if wrong := pathData(n.attr["d"], &p); wrong != "" {
			s.Add(n.line, "", "save the drawing again, or draw the line anew", "the path %s", wrong)
		}
	case "line":
		p.move(mgl64.Vec2{v("x1"), v("y1")})
		p.lineTo(mgl64.Vec2{v("x2"), v("y2")})
	case "polyline", "polygon":
		pts := &pathScanner{text: n.attr["points"]}
		for first := true; !p.spent(); first = false {
			x, okX := pts.number()
			y, okY := pts.number()
			if !okX || !okY {
				break
			}
			if first {
				p.move(mgl64.Vec2{x, y})
			} else {
				p.lineTo(mgl64.Vec2{x, y})
			}
		}
		if n.name == "polygon" {
			p.close()
		}
	case "rect":
		x, y, w, h := v("x"), v("y"), v("width"), v("height")
		p.move(mgl64.Vec2{x, y})
		p.lineTo(mgl64.Vec2{x + w, y})
		p.lineTo(mgl64.Vec2{x + w, y + h})
		p.lineTo(mgl64.Vec2{x, y + h})
		p.close()
	case "circle", "ellipse":
		s.round(n, &p)
	}
	p.lift()
}

// round draws a circle or ellipse.
func (s *svgReader) round(n *svgNode, p *pen) {
	centre := mgl64.Vec2{n.number("cx"), n.number("cy")}
	rx, ry := n.number("rx"), n.number("ry")
	if n.name == "circle" {
		rx = n.number("r")
		ry = rx
	}
	if rx > 0 && ry > 0 {
		p.move(centre.Add(mgl64.Vec2{rx, 0}))
		p.arc(centre, mgl64.Vec2{rx, 0}, mgl64.Vec2{0, ry}, 0, 2*math.Pi)
		p.close()
	}
}
