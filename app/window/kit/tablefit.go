package kit

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// frame lays out a cell of a table, or a head: the ground and the ring take all of it, and
// the content stands where the whole of it can be seen. A figure cut by the edge of the
// table or by the columns that stay in sight would be another figure: ".60" of 3.60.
type frame struct {
	id      widget.TableCellID // the cell that it was filled for last
	content fyne.CanvasObject
	room    span2        // where the content stands in the cell; empty for all of it
	rest    *canvas.Text // stands there instead where the content would be cut; nil until it has to
}

// span is a stretch of a line, and span2 one each way.
type (
	span  struct{ low, high float32 }
	span2 struct{ x, y span } // from left to right, and from above down
)

func (s span) length() float32 { return s.high - s.low }

func (s span) within(o span) span { return span{max(s.low, o.low), min(s.high, o.high)} }

// whole is all of a cell.
func whole(size fyne.Size) span2 { return span2{span{0, size.Width}, span{0, size.Height}} }

// place puts an object there.
func (s span2) place(o fyne.CanvasObject) {
	if at := fyne.NewPos(s.x.low, s.y.low); o.Position() != at {
		o.Move(at)
	}
	if size := fyne.NewSize(s.x.length(), s.y.length()); o.Size() != size {
		o.Resize(size)
	}
}

// framing gives the frame of a cell.
func (f *frame) framing() *frame { return f }

// frameOf gives the frame of a cell of ours; nil of anything else.
func frameOf(o fyne.CanvasObject) *frame {
	if c, ok := o.(*fyne.Container); ok {
		if f, ok := c.Layout.(interface{ framing() *frame }); ok {
			return f.framing()
		}
	}
	return nil
}

// framed is an object as a cell, with room for the ring over it.
func framed(o fyne.CanvasObject) fyne.CanvasObject {
	if frameOf(o) != nil {
		return o
	}
	f := &frame{content: o}
	return &fyne.Container{Layout: f, Objects: []fyne.CanvasObject{o}}
}

// madeOf is what a cell was made of.
func madeOf(cell *fyne.Container) fyne.CanvasObject {
	if isCell(cell) {
		return cell
	}
	return cell.Objects[0]
}

// Layout lays it out.
func (f *frame) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	for _, o := range objects {
		switch {
		case o == fyne.CanvasObject(f.rest): // is put in its place by fit
		case o == f.content && f.room != span2{}:
			f.room.place(o)
		default:
			whole(size).place(o)
		}
	}
}

// MinSize is that of all that stands in it.
func (f *frame) MinSize(objects []fyne.CanvasObject) (min fyne.Size) {
	for _, o := range objects {
		if o != fyne.CanvasObject(f.rest) {
			min = min.Max(o.MinSize())
		}
	}
	return min
}

// dots stand for what would be cut.
const dots = "…"

// fit puts a cell's content where it is seen whole, and leaves it out where it cannot be:
// of the cell, so much is seen, and of cells of its kind no more than so wide ever.
func (f *frame) fit(cell *fyne.Container, seen span2, widest float32) {
	size := cell.Size()
	if seen == whole(size) {
		f.show(seen)
		return
	}
	text, margin := lettering(f.content)
	x, fitsX := room(seen.x, size.Width, text.Width, margin)
	y, fitsY := room(seen.y, size.Height, text.Height, margin)
	if fitsX && fitsY {
		f.show(span2{x, y})
		return
	}
	f.content.Hide()
	said := dots
	if l, ok := f.content.(*widget.Label); ok && text.Width > widest {
		said = wholeWords(l, seen.x, size.Width, text.Width, margin)
	}
	f.say(cell, said, span2{seen.x, y}, fitsY)
}

// show shows the content there.
func (f *frame) show(at span2) {
	f.room = at
	at.place(f.content)
	f.content.Show()
	if f.rest != nil {
		f.rest.Hide()
	}
}

// say has a text stand in the place of the content, or nothing where there is no room.
func (f *frame) say(cell *fyne.Container, text string, at span2, fits bool) {
	if f.rest == nil {
		f.rest = canvas.NewText("", nil)
		f.rest.Alignment = fyne.TextAlignCenter
		cell.Objects = append(cell.Objects, f.rest)
	}
	r, was := f.rest, *f.rest
	r.Text, r.Color, r.TextSize = text, theme.Color(theme.ColorNameForeground), theme.TextSize()
	switch in := f.content.(type) {
	case *canvas.Text:
		r.Color, r.TextSize, r.TextStyle = in.Color, in.TextSize, in.TextStyle
	case *widget.Label:
		r.TextStyle = in.TextStyle
	}
	if !fits || r.MinSize().Width > at.x.length() {
		r.Hide()
		return
	}
	at.place(r)
	r.Show()
	if was.Text != r.Text || was.Color != r.Color {
		r.Refresh()
	}
}

// lettering is the room that the text of an object takes, and how much margin it has
// around it, in which nothing is drawn.
func lettering(o fyne.CanvasObject) (text fyne.Size, margin float32) {
	switch o := o.(type) {
	case *canvas.Text:
		if o.Text == "" {
			return fyne.Size{}, 0
		}
		return o.MinSize(), 0
	case *widget.Label:
		if o.Text == "" {
			return fyne.Size{}, 0
		}
		return fyne.MeasureText(o.Text, theme.TextSize(), o.TextStyle), theme.InnerPadding()
	case *fyne.Container:
		for _, in := range o.Objects {
			if in.Visible() {
				size, m := lettering(in)
				text, margin = text.Max(size), max(margin, m)
			}
		}
		return text, margin
	}
	return o.MinSize(), 0
}

// room is where content stands along one side of a cell of which so much is seen, so that
// its text is seen whole: where it would stand if all of the cell was seen, or else no
// further from there than it must. ok is false where it cannot be seen whole.
func room(seen span, size, text, margin float32) (at span, ok bool) {
	if seen.low <= 0 && seen.high >= size {
		return span{0, size}, true
	}
	text = min(text, size)
	if seen.length() < text {
		return span{0, size}, false
	}
	at = span{margin, size - margin}.within(seen)
	if at.length() < text {
		at.low = max(seen.low, at.high-text)
	}
	if at.length() < text {
		at.high = min(seen.high, at.low+text)
	}
	return span{at.low - margin, at.high + margin}, true
}

// wholeWords are those words of a text that are seen whole, with dots for the others: of a
// text too wide to be seen whole, however the table is scrolled.
func wholeWords(l *widget.Label, seen span, size, text, margin float32) string {
	width := func(s string) float32 { return fyne.MeasureText(s, theme.TextSize(), l.TextStyle).Width }
	start, gap := margin, width(dots+" ")
	if l.Alignment == fyne.TextAlignCenter {
		start = (size - text) / 2
	}
	words := strings.Split(l.Text, " ")
	var out []string
	before := ""
	for k, w := range words {
		low, high := start+width(before), start+width(before+w)
		before += w + " "
		fits := (low >= seen.low+gap || k == 0 && low >= seen.low) && (high <= seen.high-gap || k == len(words)-1 && high <= seen.high)
		switch {
		case fits:
			out = append(out, w)
		case len(out) == 0 || out[len(out)-1] != dots:
			out = append(out, dots)
		}
	}
	return strings.Join(out, " ")
}
