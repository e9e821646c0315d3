package paper

import (
	"context"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/app/export"
	"github.com/strakewright/strakewright/app/window/windowtest"
)

func TestTheBookletIsPrintedUnscaled(t *testing.T) {
	d := windowtest.NewDesk(t)
	p := openPaper(t, d)
	p.sections.SetSelected(p.known[:1]) // is quicker
	windowtest.Until(t, func() bool { return p.set != nil })
	var args []string
	fails := error(nil)
	p.out.print = func(_ context.Context, a ...string) (string, error) {
		args = a
		data, err := os.ReadFile(a[len(a)-1])
		assert.NoError(t, err)
		assert.True(t, strings.HasPrefix(string(data), "%PDF-"))
		return "request id is office-7 (1 file(s))", fails
	}
	var status, said string
	d.Status, d.Say = func(s string) { status = s }, func(s string) { said = s }
	test.Tap(p.print)
	test.Tap(windowtest.ButtonNamed(t, d.Win.Canvas().Overlays().Top(), "Print"))
	windowtest.Until(t, func() bool { return strings.Contains(status, "office-7") })
	assert.True(t, slices.Contains(args, "print-scaling=none"))
	assert.True(t, slices.Contains(args, "media=A4"))
	assert.NoFileExists(t, args[len(args)-1], "nothing is left over")

	fails = errors.New("exit status 1")
	test.Tap(p.print)
	test.Tap(windowtest.ButtonNamed(t, d.Win.Canvas().Overlays().Top(), "Print"))
	windowtest.Until(t, func() bool { return said != "" })
	assert.Contains(t, said, "It was not printed")

	// A roll, and a computer without lp: another program prints.
	_, ok := printing(export.Settings{Paper: export.Roll}, "", "")
	assert.False(t, ok)
	p.out.print = nil
	opened := ""
	p.out.open = func(path string) error { opened = path; return nil }
	test.Tap(p.print)
	windowtest.Until(t, func() bool { return strings.Contains(status, "100 %") })
	assert.FileExists(t, opened)
	require.NoError(t, os.RemoveAll(opened))
}

func TestTheFolderIsOpenedWhenAllIsWritten(t *testing.T) {
	d := windowtest.NewDesk(t)
	p := &paperDialog{desk: d}
	opened := ""
	p.out.open = func(path string) error { opened = path; return nil }
	p.offerFolder("somewhere")
	test.Tap(windowtest.ButtonNamed(t, d.Win.Canvas().Overlays().Top(), "Open the folder"))
	assert.Equal(t, "somewhere", opened)
	p.out.open = func(string) error { return errors.New("no program opens it") }
	var said string
	d.Say = func(s string) { said = s }
	p.openOutside("/no/where")
	assert.Contains(t, said, "/no/where could not be opened from here")
}
