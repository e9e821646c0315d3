package boards

import (
	"image"
	"sync"

	"github.com/strakewright/strakewright/app/window/desk"
)

// picture paints itself to an image of w x h pixels; scale is how many of them
// go to one of the board's own units.
type picture interface {
	paint(w, h int, scale float64) image.Image
}

// Paint draws the view; Fyne calls it when the screen is drawn.
func (b *Board) paint(w, h int) image.Image {
	b.desk.Frames.Painted()
	if img := b.latest(w, h); img != nil {
		return img
	}
	img := b.ready.take(b, w, h)
	if img == nil {
		img = b.image(w, h)
	}
	b.drawn, b.w, b.h = b.view.from(), w, h
	return img
}

func (b *Board) image(w, h int) image.Image {
	scale := 1.0
	if bw, _ := b.size(); bw > 0 {
		scale = float64(w) / bw
	}
	return b.view.paint(w, h, scale)
}

// ready is an image of a board made before the screen asks for it.
type ready struct {
	img  image.Image
	w, h int
	from any
}

// make makes the image that the screen will ask for next.
func (r *ready) make(b *Board) {
	*r = ready{img: b.image(b.w, b.h), w: b.w, h: b.h, from: b.view.from()}
}

// take gives the image if it is what is asked for, and else nil. It is taken once.
func (r *ready) take(b *Board, w, h int) image.Image {
	img := r.img
	if w != r.w || h != r.h || b.view.from() != r.from {
		img = nil
	}
	*r = ready{}
	return img
}

// drawAhead draws the boards that are to be made anew, in the background, while
// the panel and the table catch up, and returns when all is done that the next
// frame shows. Nothing else runs on the main goroutine meanwhile, and neither
// changes what the other reads: what is kept from drawing to drawing is brought up
// to date before. Views that share something go in turn.
func drawAhead(d *desk.Desk) {
	d.FrameCurves()
	d.WholeCurves()
	turns := map[any][]*Board{}
	for _, v := range d.Boards {
		b := v.(*Board)
		if b.drawn == nil && b.w > 0 && b.h > 0 { // it is on the screen, and not as it should be
			turns[b.view.turn()] = append(turns[b.view.turn()], b)
		}
	}
	var wg sync.WaitGroup
	for _, list := range turns {
		wg.Go(func() {
			for _, b := range list {
				b.ready.make(b)
			}
		})
	}
	d.CatchUp()
	wg.Wait()
	for _, v := range d.Boards {
		v.(*Board).drawBehind()
	}
}
