package paper

import (
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/app/window/desk"
	"github.com/strakewright/strakewright/app/window/kit"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

// openPaper opens the dialog, as the menu does, and waits for its pages.
func openPaper(t *testing.T, d *desk.Desk) *paperDialog {
	t.Helper()
	p := Open(d)
	windowtest.Until(t, func() bool { return p.set != nil })
	return p
}

func TestPaperShowsThePages(t *testing.T) {
	d := windowtest.NewDesk(t)
	p := openPaper(t, d)
	require.Greater(t, p.set.Pages(), 3)
	assert.Contains(t, p.told.Text, "pages")
	assert.Equal(t, p.set.Sections(), p.sections.Options)
	assert.Equal(t, p.set.Sections(), p.sections.Selected, "all are chosen")

	// White paper on a ground that is neither white nor black, with ink on it.
	inked := func() (white, black int) {
		img := p.preview.paint(420, 594)
		for x := range 420 {
			for y := range 594 {
				switch c := color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y; {
				case c > 250:
					white++
				case c < 100:
					black++
				}
			}
		}
		return white, black
	}
	white, black := inked()
	assert.Greater(t, white, 420*594/3, "the page may lie on its side")
	assert.Greater(t, black, 100)
	assert.True(t, p.preview.back.Disabled())
	test.Tap(p.preview.onward)
	assert.Equal(t, 1, p.preview.page)
	assert.Contains(t, p.preview.number.Text, "page 2 of")
	_, black = inked()
	assert.Greater(t, black, 100)
	test.Tap(p.preview.back)
	assert.Equal(t, 0, p.preview.page)
}

func TestPaperFollowsItsSettings(t *testing.T) {
	d := windowtest.NewDesk(t)
	p := openPaper(t, d)
	before := p.set
	assert.True(t, p.roll.Entry.Disabled(), "a roll's width goes with a roll")
	p.change(func(s *export.Settings) { s.Paper = export.A3 })
	windowtest.Until(t, func() bool { return p.set != nil })
	assert.NotSame(t, before, p.set)
	assert.Less(t, p.set.Pages(), before.Pages(), "A3 holds more")

	// Sections left out are not in the booklet.
	all := p.set
	p.sections.SetSelected(p.known[:1])
	windowtest.Until(t, func() bool { return p.set != nil })
	assert.Less(t, p.set.Pages(), all.Pages())
	assert.Equal(t, p.known, all.Sections(), "they can be chosen again")

	// What was set is there again the next time.
	again := openPaper(t, d)
	assert.Equal(t, export.A3, again.settings.Paper)
	assert.Nil(t, again.settings.Sections)
}

func TestPaperThatCannotBeIsTold(t *testing.T) {
	d := windowtest.NewDesk(t)
	p := openPaper(t, d)
	p.change(func(s *export.Settings) { s.BarX = 180 })
	windowtest.Until(t, func() bool { return strings.Contains(p.told.Text, "180 mm") })
	assert.True(t, p.write.Disabled())
	assert.Nil(t, p.set)
	assert.NotNil(t, p.preview.paint(100, 100))
	p.change(func(s *export.Settings) { s.BarX = 99 })
	windowtest.Until(t, func() bool { return p.set != nil })
	assert.False(t, p.write.Disabled())
}

func TestPaperIsWrittenButNotOverOther(t *testing.T) {
	d := windowtest.NewDesk(t)
	p := openPaper(t, d)
	p.sections.SetSelected(p.known[:1]) // is quicker
	windowtest.Until(t, func() bool { return p.set != nil })
	dir := filepath.Join(t.TempDir(), "bench")
	p.folder.SetText(dir)
	var status string
	d.Status = func(s string) { status = s }
	test.Tap(p.write)
	windowtest.Until(t, func() bool { return strings.Contains(status, "written to "+dir) })
	booklet := filepath.Join(dir, "booklet.pdf")
	info, err := os.Stat(booklet)
	require.NoError(t, err)
	assert.Greater(t, info.Size(), int64(1000))
	assert.False(t, d.Working)

	require.NoError(t, os.WriteFile(booklet, []byte("mine"), 0o600))
	status = ""
	p = openPaper(t, d)
	p.folder.SetText(dir)
	test.Tap(p.write)
	windowtest.Until(t, func() bool { return hasButton(d.Win, "Replace") })
	data, err := os.ReadFile(booklet)
	require.NoError(t, err)
	assert.Equal(t, "mine", string(data))
	var said string
	d.Say = func(s string) { said = s }
	test.Tap(windowtest.ButtonNamed(t, d.Win.Canvas().Overlays().Top(), "Replace"))
	windowtest.Until(t, func() bool { return strings.Contains(status, "written to "+dir) })
	data, err = os.ReadFile(booklet)
	require.NoError(t, err)
	assert.NotEqual(t, "mine", string(data))
	assert.Contains(t, said, "Left in the folder, but not of this set: booklet (kept).pdf", "what was changed is kept, and told")
	data, err = os.ReadFile(filepath.Join(dir, "booklet (kept).pdf"))
	require.NoError(t, err)
	assert.Equal(t, "mine", string(data))
}

func hasButton(w fyne.Window, name string) bool {
	found := false
	if top := w.Canvas().Overlays().Top(); top != nil {
		windowtest.Walk(top, func(o fyne.CanvasObject) {
			b, ok := o.(*kit.Button)
			found = found || ok && b.Text == name
		})
	}
	return found
}

func TestPaperCanBeStopped(t *testing.T) {
	d := windowtest.NewDesk(t)
	p := openPaper(t, d)
	dir := filepath.Join(t.TempDir(), "bench")
	p.folder.SetText(dir)
	var status string
	d.Status = func(s string) { status = s }
	test.Tap(p.write)
	test.Tap(windowtest.ButtonNamed(t, d.Win.Canvas().Overlays().Top(), "Stop"))
	windowtest.Until(t, func() bool { return status != "" })
	assert.Equal(t, "Stopped: nothing was written.", status)
	assert.NoDirExists(t, dir)
}

func TestPaperCannotGoIntoAFile(t *testing.T) {
	d := windowtest.NewDesk(t)
	p := openPaper(t, d)
	path := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	p.folder.SetText(path)
	var said string
	d.Say = func(s string) { said = s }
	test.Tap(p.write)
	windowtest.Until(t, func() bool { return said != "" })
	assert.Contains(t, said, "is not a folder")
}
