package kit

import (
	"context"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"github.com/strakewright/strakewright/assets/tongue"
)

// patience is how long work may take before it shows that it goes on.
const patience = 400 * time.Millisecond

// Background is the work that goes on for a window off the main goroutine, with
// what that window tells of it. It is used on the main goroutine alone.
type Background struct {
	*Notices
	OnMain  func(func())       // has the main goroutine do something
	Life    context.Context    // of all that goes on for the window: it ends when that goes
	end     context.CancelFunc // ends it
	Working bool               // long work shows its progress
	Patient bool               // what is begun is waited for: nothing goes on beside it
	Gone    bool
}

// NewBackground is that of a window, for no longer than life lasts.
func NewBackground(life context.Context, win fyne.Window) *Background {
	b := &Background{Notices: newNotices(win), OnMain: fyne.Do}
	b.Life, b.end = context.WithCancel(life)
	b.After = b.later
	return b
}

// later does something on the main goroutine after a while, unless it is stopped or the
// window goes.
func (b *Background) later(long time.Duration, f func()) (stop func()) {
	t := time.AfterFunc(long, func() { b.Hand(f) })
	return func() { t.Stop() }
}

// Hand has the main goroutine do f, unless the window has gone by then. It may be called
// from any goroutine.
func (b *Background) Hand(f func()) {
	b.OnMain(func() {
		if !b.Gone {
			f()
		}
	})
}

// Later has f run when what goes on now is over. It is called on the main goroutine.
func (b *Background) Later(f func()) {
	fyne.Do(func() {
		if !b.Gone {
			f()
		}
	})
}

// Work does something that may take long off the main goroutine. After a while
// it shows so, with a button to stop it: that ends its context, and its result
// is dropped.
// then runs on the main goroutine after work that ended well. The work is
// stopped, too, when the window goes.
func (b *Background) Work(what string, f func(context.Context) error, then func()) {
	b.WorkUnless(what, f, then, func() {})
}

// WorkUnless is work, with what is done on the main goroutine when the user stops
// it.
func (b *Background) WorkUnless(what string, f func(context.Context) error, then, stopped func()) {
	ctx, stop := context.WithCancel(b.Life)
	if b.Patient {
		defer stop()
		b.worked(f(ctx), then)
		return
	}
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
func (b *Background) watch(what string, done <-chan error, stop context.CancelFunc, then, stopped func()) {
	defer stop()
	var shown dialog.Dialog
	over := false // by the user; read and set on the main goroutine alone
	end := func(err error) {
		if shown != nil {
			shown.Hide()
			b.Working = false
		}
		if !over && !b.Gone {
			b.worked(err, then)
		}
	}
	select {
	case err := <-done:
		b.OnMain(func() { end(err) })
		return
	case <-time.After(patience):
	}
	b.OnMain(func() {
		if !b.Gone {
			shown = b.progress(what, func() {
				over = true
				stop()
				stopped()
			})
		}
	})
	err := <-done
	b.OnMain(func() { end(err) })
}

func (b *Background) worked(err error, then func()) {
	if err != nil {
		b.Say(Sentence(err))
		return
	}
	then()
}

// Latest is work that goes on unseen, and whose result only the newest question
// waits for: a new one ends the one before. It is used on the main goroutine.
type Latest struct {
	stop context.CancelFunc // nil where nothing goes on
}

// Start ends what goes on and does f off the main goroutine. What f gives is done
// on the main goroutine, unless the work was ended by then. Its context ends with
// the work, and when the window goes.
func (a *Latest) Start(b *Background, f func(context.Context) (then func())) {
	a.End()
	ctx, stop := context.WithCancel(b.Life)
	if b.Patient {
		defer stop()
		f(ctx)()
		return
	}
	a.stop = stop
	go func() {
		then := f(ctx)
		b.OnMain(func() {
			if ctx.Err() == nil {
				a.End()
				then()
			}
		})
	}()
}

// End stops what goes on, and tells whether anything did.
func (a *Latest) End() bool {
	if a.stop == nil {
		return false
	}
	a.stop()
	a.stop = nil
	return true
}

// Leave ends all that goes on when the window goes.
func (b *Background) Leave() {
	b.Gone = true
	b.end()
}

// progress shows that work goes on.
func (b *Background) progress(what string, stop func()) dialog.Dialog {
	var shown *dialog.CustomDialog
	bar := widget.NewProgressBarInfinite()
	cancel := NewButton(tongue.T("Stop"), func() {
		stop()
		b.Working = false
		shown.Hide()
		b.Status(tongue.T("Stopped: nothing was changed."))
	})
	shown = b.NewDialog(what, container.NewVBox(bar, cancel))
	b.Working = true
	shown.SetOnClosed(bar.Stop)
	shown.Resize(fyne.NewSize(320, 120))
	shown.Show()
	return shown
}
