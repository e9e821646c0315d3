package kit

import (
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// places is where the cells of a table are.
type places struct {
	scroll *container.Scroll               // what the cells scroll in; nil before the table is laid out
	cells  map[int]map[int]*fyne.Container // by column and row, −1 for heads, what was filled for them last
	widths map[int]float32                 // of the columns
	high   float32                         // of a row
	lines  *fyne.Container                 // between rows and columns, where the toolkit's own are in the wrong place; nil where they are not
	hover  *canvas.Rectangle               // over the cell under the pointer, with those lines
	drawn  drawn                           // where the lines are
}

// drawn is what the lines between cells depend on.
type drawn struct {
	off, at    fyne.Position
	size       fyne.Size
	rows, cols int
	high, wide float32
	ink        color.Color
}

// tableRenderer is that of a table.
type tableRenderer struct {
	ringed
	table *Table
}

// Objects are those of the toolkit's table, the lines under its cells, and the ring.
func (r *tableRenderer) Objects() []fyne.CanvasObject {
	o := r.ringed.Objects()
	p := &r.table.places
	if p.lines == nil {
		return o
	}
	return slices.Insert(slices.Clone(o), slices.Index(o, fyne.CanvasObject(p.scroll)), fyne.CanvasObject(p.lines))
}

// Layout lays the table out. Where all of it comes to be in view the toolkit (v2.7.1,
// Scroll.updateOffset) moves it there without telling the table.
func (r *tableRenderer) Layout(s fyne.Size) {
	scroll := r.table.places.scroll
	was := scroll.Offset
	r.ringed.Layout(s)
	if now := scroll.Offset; now != was {
		scroll.OnScrolled(now)
	}
	r.table.Fit()
}

// Refresh draws the table anew. The toolkit (v2.7.1, tableRenderer.Refresh) leaves what
// scrolls as large as it was, with which there is no scrolling to what has come in.
func (r *tableRenderer) Refresh() {
	r.ringed.Refresh()
	if s := r.table.places.scroll; s.Content.Size() != s.Content.MinSize().Max(s.Size()) {
		s.Refresh()
	}
}

// lay begins with what a new renderer draws.
func (t *Table) lay(objects []fyne.CanvasObject) {
	p := &t.places
	for _, o := range objects {
		if s, ok := o.(*container.Scroll); ok {
			p.scroll = s
		}
	}
	if p.cells == nil {
		p.cells = map[int]map[int]*fyne.Container{}
	}
	if t.StickyColumnCount > 0 {
		p.hover = canvas.NewRectangle(theme.Color(theme.ColorNameHover))
		p.hover.Hide()
		p.lines, p.drawn = container.NewWithoutLayout(p.hover), drawn{}
	}
	t.Fit()
}

// SetColumnWidth makes a column so wide.
func (t *Table) SetColumnWidth(col int, width float32) {
	t.widthIs(col, width)
	t.Table.SetColumnWidth(col, width)
}

func (t *Table) widthIs(col int, width float32) {
	if t.places.widths == nil {
		t.places.widths = map[int]float32{}
	}
	t.places.widths[col] = width
}

// keep notes for what a cell, or a head, was filled.
func (t *Table) keep(id widget.TableCellID, cell *fyne.Container) {
	p := &t.places
	if p.cells == nil {
		p.cells = map[int]map[int]*fyne.Container{}
	}
	if p.cells[id.Col] == nil {
		p.cells[id.Col] = map[int]*fyne.Container{}
	}
	frameOf(cell).id = id
	p.cells[id.Col][id.Row] = cell
	t.widthIs(id.Col, cell.Size().Width)
	if id.Row >= 0 {
		p.high = cell.Size().Height
	}
}

// settle brings to their places what stands under the head of a column, or the head of a
// row. The toolkit (v2.7.1, tableCellsRenderer.refreshForID) fills the heads of all that
// it shows last, whenever it has moved or filled anything.
func (t *Table) settle(id widget.TableCellID) {
	if t.places.scroll == nil {
		return
	}
	t.rule()
	if id.Col < 0 {
		t.fit(id)
		return
	}
	for row := range t.places.cells[id.Col] {
		t.fit(widget.TableCellID{Row: row, Col: id.Col})
	}
}

// Fit brings all cells to their places anew: after some were filled other than by the
// toolkit.
func (t *Table) Fit() {
	if t.places.scroll == nil {
		return
	}
	t.rule()
	for col, cells := range t.places.cells {
		for row := range cells {
			t.fit(widget.TableCellID{Row: row, Col: col})
		}
	}
}

// fit brings a cell to its place, with no more in it than is seen whole there.
func (t *Table) fit(id widget.TableCellID) {
	cell := t.places.cells[id.Col][id.Row]
	f := frameOf(cell)
	if f.id != id { // it is another cell by now
		delete(t.places.cells[id.Col], id.Row)
		return
	}
	view := t.view(id)
	if x := t.columnAt(id.Col); id.Col >= t.StickyColumnCount && t.StickyColumnCount > 0 {
		if id.Row < 0 {
			x -= t.places.scroll.Offset.X
		}
		if at := fyne.NewPos(x, cell.Position().Y); cell.Position() != at {
			cell.Move(at)
		}
	}
	at, size := cell.Position(), cell.Size()
	seen := span2{span{view.x.low - at.X, view.x.high - at.X}, span{view.y.low - at.Y, view.y.high - at.Y}}
	all := whole(size)
	seen = span2{seen.x.within(all.x), seen.y.within(all.y)}
	f.fit(cell, seen, view.x.length())
}

// far is farther than any table reaches.
const far = 1e6

// view is what is seen of all cells of a kind, as their places are told: of what scrolls,
// of the columns that stay in sight, and of the heads.
func (t *Table) view(id widget.TableCellID) span2 {
	s := t.places.scroll
	off, size := s.Offset, s.Size()
	v := span2{span{-far, far}, span{-far, far}}
	scrolls := id.Col >= t.StickyColumnCount
	switch {
	case id.Row >= 0 && scrolls:
		return span2{span{off.X, off.X + size.Width}, span{off.Y, off.Y + size.Height}}
	case id.Row >= 0:
		v.y = span{0, size.Height}
	case scrolls:
		v.x = span{0, size.Width}
	}
	return v
}

// columnAt is where a column that scrolls begins, from the first of these. The toolkit
// (v2.7.1, Table.visibleColumnWidths) reckons with the widths of the columns that stay in
// sight in the place of those that are scrolled away, so that all columns leap as they are
// scrolled, and a click (Table.columnAt) finds another than is seen there.
func (t *Table) columnAt(col int) (x float32) {
	for k := t.StickyColumnCount; k < col; k++ {
		x += t.places.widths[k] + theme.Padding()
	}
	return x
}

// rule draws the lines between rows and columns, where their places have changed.
func (t *Table) rule() {
	p := &t.places
	if p.lines == nil {
		return
	}
	d := drawn{off: p.scroll.Offset, at: p.scroll.Position(), size: p.scroll.Size(), high: p.high, ink: theme.Color(theme.ColorNameSeparator)}
	d.rows, d.cols = t.Length()
	d.wide = t.columnAt(d.cols)
	if d == p.drawn {
		return
	}
	p.drawn = d
	p.hover.Hide()
	end := fyne.NewPos(d.at.X+d.size.Width, d.at.Y+d.size.Height)
	thick := theme.SeparatorThicknessSize()
	half := (theme.Padding() - thick) / 2
	var lines []span2
	for col := range d.cols - 1 {
		if x := t.columnSpan(col).high + half; col < t.StickyColumnCount || x >= d.at.X && x < end.X {
			lines = append(lines, span2{span{x, x + thick}, span{0, end.Y}})
		}
	}
	for row := range d.rows - 1 {
		if y := t.rowSpan(row).high + half; y >= d.at.Y && y < end.Y {
			lines = append(lines, span2{span{0, end.X}, span{y, y + thick}})
		}
	}
	p.ruled(lines)
	p.lines.Resize(fyne.NewSize(end.X, end.Y))
}

// ruled draws so many lines there.
func (p *places) ruled(lines []span2) {
	for len(p.lines.Objects)-1 < len(lines) {
		p.lines.Objects = append(p.lines.Objects, canvas.NewRectangle(p.drawn.ink))
	}
	for k, o := range p.lines.Objects[1:] { // the first is that of the pointer
		if k >= len(lines) {
			o.Hide()
			continue
		}
		o.(*canvas.Rectangle).FillColor = p.drawn.ink
		lines[k].place(o)
		o.Show()
	}
}

// columnSpan is where a column is in the table, from left to right.
func (t *Table) columnSpan(col int) span {
	p := &t.places
	x := p.scroll.Position().X
	if col >= t.StickyColumnCount {
		x += t.columnAt(col) - p.scroll.Offset.X
	}
	for k := col; k < t.StickyColumnCount; k++ {
		x -= p.widths[k] + theme.Padding()
	}
	return span{x, x + p.widths[col]}
}

// rowSpan is where a row is in a table whose rows are all of one height, from above down.
func (t *Table) rowSpan(row int) span {
	p := &t.places
	y := p.scroll.Position().Y - p.scroll.Offset.Y + float32(row)*(p.high+theme.Padding())
	return span{y, y + p.high}
}

// MouseIn marks the cell under the pointer.
func (t *Table) MouseIn(e *desktop.MouseEvent) {
	t.Table.MouseIn(e)
	t.hoverAt(e.Position)
}

// MouseMoved marks the cell under the pointer.
func (t *Table) MouseMoved(e *desktop.MouseEvent) {
	t.Table.MouseMoved(e)
	t.hoverAt(e.Position)
}

// MouseOut takes the mark away.
func (t *Table) MouseOut() {
	t.Table.MouseOut()
	if h := t.places.hover; h != nil {
		h.Hide()
	}
}

// hoverAt marks the cell at a place of the table, where the lines are its own.
func (t *Table) hoverAt(at fyne.Position) {
	p := &t.places
	if p.hover == nil {
		return
	}
	low, size := p.scroll.Position(), p.scroll.Size()
	y, ok := found(at.Y, span{low.Y, low.Y + size.Height}, 0, p.drawn.rows, t.rowSpan)
	view, from, to := span{low.X, low.X + size.Width}, t.StickyColumnCount, p.drawn.cols
	if at.X < low.X {
		view, from, to = span{0, low.X}, 0, from
	}
	x, in := found(at.X, view, from, to, t.columnSpan)
	if !ok || !in {
		p.hover.Hide()
		return
	}
	p.hover.FillColor, p.hover.CornerRadius = theme.Color(theme.ColorNameHover), theme.SelectionRadiusSize()
	span2{x, y}.place(p.hover)
	p.hover.Show()
}

// found is the part in view of that row or column, of some of them, in which a place is.
func found(at float32, view span, from, to int, spanOf func(int) span) (s span, ok bool) {
	for k := from; k < to; k++ {
		if s = spanOf(k).within(view); at >= s.low && at < s.high {
			return s, true
		}
	}
	return span{}, false
}
