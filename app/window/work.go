package window

import (
	"context"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// patience is how long work may take before it shows that it goes on.
const patience = 400 * time.Millisecond

// background is the work that goes on for a window off the main goroutine, with
// what that window tells of it. It is used on the main goroutine alone.
type background struct {
	*notices
	onMain  func(func())       // has the main goroutine do something
	life    context.Context    // of all that goes on for the window: it ends when that goes
	end     context.CancelFunc // ends it
	working bool               // long work shows its progress
	gone    bool
}

// newBackground is that of a window, for no longer than life lasts.
func newBackground(life context.Context, win fyne.Window) *background {
	b := &background{notices: newNotices(win), onMain: fyne.Do}
	b.life, b.end = context.WithCancel(life)
	return b
}

// later has f run on the main goroutine when what goes on now is over.
func (b *background) later(f func()) {
	fyne.Do(func() {
		if !b.gone {
			f()
		}
	})
}

// work does something that may take long off the main goroutine. After a while
// it shows so, with a button to stop it: that ends its context, and its result
// is dropped.
// then runs on the main goroutine after work that ended well. The work is
// stopped, too, when the window goes.
func (b *background) work(what string, f func(context.Context) error, then func()) {
	b.workUnless(what, f, then, func() {})
}

// workUnless is work, with what is done on the main goroutine when the user stops
// it.
func (b *background) workUnless(what string, f func(context.Context) error, then, stopped func()) {
	ctx, stop := context.WithCancel(b.life)
	done := make(chan error, 1)
	go func() { done <- f(ctx) }()
	select {
	case err := <-done:
		stop()
		b.worked(err, then)
		return
	case <-time.After(10 * time.Millisecond):
	}
	go b.watch(what, done, stop, then, stopped)
}

// watch waits for work that takes long. All it shows is shown on the main
// goroutine.
func (b *background) watch(what string, done <-chan error, stop context.CancelFunc, then, stopped func()) {
	defer stop()
	var shown dialog.Dialog
	over := false // by the user; read and set on the main goroutine alone
	end := func(err error) {
		if shown != nil {
			shown.Hide()
			b.working = false
		}
		if !over && !b.gone {
			b.worked(err, then)
		}
	}
	select {
	case err := <-done:
		b.onMain(func() { end(err) })
		return
	case <-time.After(patience):
	}
	b.onMain(func() {
		if !b.gone {
			shown = b.progress(what, func() {
				over = true
				stop()
				stopped()
			})
		}
	})
	err := <-done
	b.onMain(func() { end(err) })
}

func (b *background) worked(err error, then func()) {
	if err != nil {
		b.say(sentence(err))
		return
	}
	then()
}

// aside is work that goes on unseen, and whose result only the newest question
// waits for: a new one ends the one before. It is used on the main goroutine.
type aside struct {
	stop context.CancelFunc // nil where nothing goes on
}

// start ends what goes on and does f off the main goroutine. What f gives is done
// on the main goroutine, unless the work was ended by then. Its context ends with
// the work, and when the window goes.
func (a *aside) start(b *background, f func(context.Context) (then func())) {
	a.end()
	ctx, stop := context.WithCancel(b.life)
	a.stop = stop
	go func() {
		then := f(ctx)
		b.onMain(func() {
			if ctx.Err() == nil {
				a.end()
				then()
			}
		})
	}()
}

// end stops what goes on, and tells whether anything did.
func (a *aside) end() bool {
	if a.stop == nil {
		return false
	}
	a.stop()
	a.stop = nil
	return true
}

// leave ends all that goes on when the window goes.
func (b *background) leave() {
	b.gone = true
	b.end()
}

// progress shows that work goes on.
func (b *background) progress(what string, stop func()) dialog.Dialog {
	var shown *dialog.CustomDialog
	bar := widget.NewProgressBarInfinite()
	cancel := widget.NewButton("Stop", func() {
		stop()
		b.working = false
		shown.Hide()
		b.status("Stopped: nothing was changed.")
	})
	shown = dialog.NewCustomWithoutButtons(what, container.NewVBox(bar, cancel), b.win)
	b.working = true
	shown.SetOnClosed(bar.Stop)
	shown.Resize(fyne.NewSize(320, 120))
	shown.Show()
	return shown
}
