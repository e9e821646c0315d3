package windowtest

import (
	"testing"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/window/kit"
)

// Forget has the toolkit forget on which canvas an object stands, as it does between
// two frames about once a minute, and gives what the window is then asked to paint anew.
func Forget(t testing.TB, n *kit.Notices) *Asked {
	t.Helper()
	asked := &Asked{Canvas: n.Win.Canvas()}
	was, win := fyne.CurrentApp(), n.Win
	fyne.SetCurrentApp(forgetfulApp{was})
	n.Win = askedWindow{win, asked}
	t.Cleanup(func() {
		n.Win = win
		fyne.SetCurrentApp(was)
	})
	return asked
}

// Asked is a canvas that keeps what it is asked to paint anew.
type Asked struct {
	fyne.Canvas
	For []fyne.CanvasObject
}

// Refresh notes what is to be painted anew.
func (a *Asked) Refresh(o fyne.CanvasObject) {
	a.For = append(a.For, o)
	a.Canvas.Refresh(o)
}

type askedWindow struct {
	fyne.Window
	asked *Asked
}

func (w askedWindow) Canvas() fyne.Canvas { return w.asked }

type forgetfulApp struct{ fyne.App }

func (a forgetfulApp) Driver() fyne.Driver { return forgetfulDriver{a.App.Driver()} }

type forgetfulDriver struct{ fyne.Driver }

func (forgetfulDriver) CanvasForObject(fyne.CanvasObject) fyne.Canvas { return nil }
