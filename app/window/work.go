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

// work does something that may take long off the main goroutine. After a while
// it shows so, with a button to stop it: that ends its context, and its result
// is dropped.
// then runs on the main goroutine after work that ended well. The work is
// stopped, too, when the window goes.
func (d *desk) work(what string, f func(context.Context) error, then func()) {
	d.workUnless(what, f, then, func() {})
}

// workUnless is work, with what is done on the main goroutine when the user stops
// it.
func (d *desk) workUnless(what string, f func(context.Context) error, then, stopped func()) {
	ctx, stop := context.WithCancel(d.life)
	done := make(chan error, 1)
	go func() { done <- f(ctx) }()
	select {
	case err := <-done:
		stop()
		d.worked(err, then)
		return
	case <-time.After(10 * time.Millisecond):
	}
	go d.watch(what, done, stop, then, stopped)
}

// watch waits for work that takes long. All it shows is shown on the main
// goroutine.
func (d *desk) watch(what string, done <-chan error, stop context.CancelFunc, then, stopped func()) {
	defer stop()
	var shown dialog.Dialog
	over := false // by the user; read and set on the main goroutine alone
	end := func(err error) {
		if shown != nil {
			shown.Hide()
			d.working = false
		}
		if !over && !d.gone {
			d.worked(err, then)
		}
	}
	select {
	case err := <-done:
		d.onMain(func() { end(err) })
		return
	case <-time.After(patience):
	}
	d.onMain(func() {
		if !d.gone {
			shown = d.progress(what, func() {
				over = true
				stop()
				stopped()
			})
		}
	})
	err := <-done
	d.onMain(func() { end(err) })
}

func (d *desk) worked(err error, then func()) {
	if err != nil {
		d.say(sentence(err))
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
func (a *aside) start(d *desk, f func(context.Context) (then func())) {
	a.end()
	ctx, stop := context.WithCancel(d.life)
	a.stop = stop
	go func() {
		then := f(ctx)
		d.onMain(func() {
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
func (d *desk) leave() {
	d.gone = true
	d.end()
}

// progress shows that work goes on.
func (d *desk) progress(what string, stop func()) dialog.Dialog {
	var shown *dialog.CustomDialog
	bar := widget.NewProgressBarInfinite()
	cancel := widget.NewButton("Stop", func() {
		stop()
		d.working = false
		shown.Hide()
		d.status("Stopped: nothing was changed.")
	})
	shown = dialog.NewCustomWithoutButtons(what, container.NewVBox(bar, cancel), d.win)
	d.working = true
	shown.SetOnClosed(bar.Stop)
	shown.Resize(fyne.NewSize(320, 120))
	shown.Show()
	return shown
}
