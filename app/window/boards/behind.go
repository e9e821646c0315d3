package boards

import "image"

// job is a drawing that takes longer than a frame of the screen should: while a
// handle is dragged it is made while frames pass by, shown with the next one that
// finds it done, and made again until it shows how things stand. So each drawing
// is whole and soon followed by the next, and exact when the hand rests; a drawing
// that is asked for otherwise is made at once, for the frame that asks.
type job struct {
	make func()             // off the main goroutine
	show func() image.Image // on it: takes over what was made
	from any                // what it is made from
	w, h int
	done chan struct{}
	img  image.Image // what it gave, once it has been taken over
}

// follows tells that the board's drawing follows a drag behind its frames.
func (b *Board) follows() bool {
	g := b.desk.Grip
	return g != nil && g.Ticked && b.drawn != nil && b.view.behind(b.w, b.h) != nil
}

// drawBehind begins to draw behind the frames what is not drawn there as it
// stands, unless the board is at it already.
func (b *Board) drawBehind() {
	if b.behind != nil || !b.follows() || b.view.from() == b.drawn {
		return
	}
	j := b.view.behind(b.w, b.h)
	j.from, j.w, j.h, j.done = b.view.from(), b.w, b.h, make(chan struct{})
	b.behind = j
	go func() {
		j.make()
		close(j.done)
		b.desk.OnMain(func() { // where no tick comes first
			b.TakeOver()
			b.drawBehind()
		})
	}()
}

// TakeOver has what was drawn behind the frames shown with the next one, if it is
// done and the board has not been drawn since for something newer.
func (b *Board) TakeOver() {
	j := b.behind
	if j == nil || !j.isDone() {
		return
	}
	b.behind = nil
	if b.desk.Gone {
		return
	}
	if !b.follows() || j.w != b.w || j.h != b.h {
		b.Refresh()
		return
	}
	j.img = j.show()
	b.made = j
	b.desk.Repaint(b.raster)
	b.drawn = j.from
}

func (j *job) isDone() bool {
	select {
	case <-j.done:
		return true
	default:
		return false
	}
}

// latest gives what was drawn behind the frames and taken over, if that is what
// the board shows; and else nil. It is taken once.
func (b *Board) latest(w, h int) image.Image {
	j := b.made
	b.made = nil
	if j == nil || j.w != w || j.h != h || j.from != b.drawn {
		return nil
	}
	return j.img
}
