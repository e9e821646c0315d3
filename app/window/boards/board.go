package boards

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/app/window/desk"
)

// view is what is drawn on a board, and what it does with the mouse. Places are
// in the board's own units from its upper left corner.
type view interface {
	picture                  // the drawing
	from() any               // what the drawing is made from: the same again gives the same drawing
	turn() any               // views that give the same draw in turn, for what they share; others at the same time
	behind(w, h int) *job    // the drawing as work that goes on while frames pass by; nil where it is made for the next frame
	press(p draw.Point) bool // the left button goes down; tells whether it took hold of something
	tap(p draw.Point)        // it comes up again without a drag, nothing held
	drag(p draw.Point, dx, dy float64)
	release()                  // the left button goes up after a drag
	hover(p draw.Point) string // what lies there, for the status line
	wheel(p draw.Point, by float64)
	fit()                         // shows the whole again
	menu(p draw.Point) *fyne.Menu // nil for none
	drawing() *draw.Drawing       // what it is drawn with in lines, nil for none
}

// Board is the widget that a view draws on.
type Board struct {
	widget.BaseWidget
	desk   *desk.Desk
	view   view
	raster *canvas.Raster
	ring   *canvas.Rectangle // around what has the focus
	least  fyne.Size
	Placed func() // called when the board has another size
	drawn  any    // what the drawing on the screen was made from; nil before there is one, or where it is to be made anew
	w, h   int    // of the image on the screen, pixels
	ready  ready
	behind *job                            // what is being drawn while frames pass by, or nil
	made   *job                            // one that is done and to be shown, or nil
	keyed  func(*Board, fyne.KeyName) bool // takes a key before the board does, or not
	typed  func(rune)                      // takes a character

	shift   bool // the Shift key is down
	down    bool // the left button is down
	held    bool // it took hold of something
	dragged bool // the pointer has moved since
}

var (
	_ fyne.Draggable         = (*Board)(nil)
	_ fyne.Focusable         = (*Board)(nil)
	_ fyne.Scrollable        = (*Board)(nil)
	_ fyne.DoubleTappable    = (*Board)(nil)
	_ desktop.Mouseable      = (*Board)(nil)
	_ desktop.Hoverable      = (*Board)(nil)
	_ desktop.Keyable        = (*Board)(nil)
	_ fyne.SecondaryTappable = (*Board)(nil)
)

func newBoard(d *desk.Desk, v view, least fyne.Size) *Board {
	b := &Board{desk: d, view: v, least: least, Placed: func() {}, keyed: func(*Board, fyne.KeyName) bool { return false }, typed: func(rune) {}}
	b.raster = canvas.NewRaster(b.paint)
	b.ring = canvas.NewRectangle(color.Transparent)
	b.ring.StrokeWidth = 2
	b.ring.Hide()
	b.ExtendBaseWidget(b)
	d.Boards, d.DrawAhead = append(d.Boards, b), func() { drawAhead(d) }
	return b
}

// CreateRenderer gives Fyne the raster to show, and the ring of the focus.
func (b *Board) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewStack(b.raster, container.New(layout.NewCustomPaddedLayout(1, 1, 1, 1), b.ring)))
}

// MinSize is the least size at which the view is of use.
func (b *Board) MinSize() fyne.Size { return b.least }

// Resize gives the board its size.
func (b *Board) Resize(s fyne.Size) {
	if s == b.Size() {
		return
	}
	b.BaseWidget.Resize(s)
	b.desk.Repaint(b.raster)
	b.Placed()
}

// Refresh has the view drawn anew with the next frame of the screen, if it is
// made from anything else than what is drawn there. What is drawn behind the
// frames of a drag follows by itself.
func (b *Board) Refresh() {
	b.inkRing()
	if b.follows() {
		return
	}
	if b.drawn == nil || b.view.from() != b.drawn {
		b.drawn = nil
		b.desk.Repaint(b.raster)
	}
}

func (b *Board) Fit() { b.view.fit() }

func (b *Board) size() (w, h float64) {
	s := b.Size()
	return float64(s.Width), float64(s.Height)
}

// room is the size of a view when the whole was last fitted into it, in the
// board's own units.
type room struct{ w, h float64 }

// roomSlack is how far two sizes of one view may lie apart: the screen asks for
// whole pixels, while a board's size is a fraction of them.
const roomSlack = 2.0

// other tells whether a size is another than that, so that the whole is to be
// fitted anew.
func (r room) other(w, h float64) bool {
	return math.Abs(w-r.w) > roomSlack || math.Abs(h-r.h) > roomSlack
}
