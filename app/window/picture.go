package window

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"github.com/strakewright/strakewright/app"
)

// Picture draws the window on a session, so many pixels wide and high, with the
// toolkit's painter in memory: no display is needed. It is the window as it
// opens, without the row of menus and the frame that a desktop puts round it.
// Nothing is written, and no plan is marked as open. The error tells that the
// theme's font cannot be read.
func Picture(s *app.Session, width, height int) (image.Image, error) {
	a := unseen{test.NewApp()}
	fyne.SetCurrentApp(a)
	w, err := made(a, s)
	if err != nil {
		return nil, err
	}
	defer w.Window.Close()
	w.Show()
	w.Resize(fyne.NewSize(float32(width), float32(height)))
	w.desk.Refresh()
	return w.Canvas().Capture(), nil
}

// unseen is Fyne's app without a screen. It has no loop that runs what it is
// handed, so that fyne.Do is to run it at once: that is what the migration named
// fyneDo makes it do on the goroutine of main.
type unseen struct{ fyne.App }

// Metadata says that fyne.Do is used wherever it must be.
func (unseen) Metadata() fyne.AppMetadata {
	return fyne.AppMetadata{Migrations: map[string]bool{"fyneDo": true}}
}
