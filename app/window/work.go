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
// then runs on the main goroutine after work that ended well.
func (d *desk) work(what string, f func(context.Context) error, then func()) {
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- f(ctx) }()
	select {
	case err := <-done:
		stop()
		d.worked(err, then)
		return
	case <-time.After(10 * time.Millisecond):
	}
	go d.watch(what, done, stop, then)
}

// watch waits for work that takes long. All it shows is shown on the main
// goroutine.
func (d *desk) watch(what string, done <-chan error, stop context.CancelFunc, then func()) {
	defer stop()
	var shown dialog.Dialog
	stopped := false // by the user; read and set on the main goroutine alone
	end := func(err error) {
		if shown != nil {
			shown.Hide()
			d.working = false
		}
		if !stopped && !d.gone {
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
				stopped = true
				stop()
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
