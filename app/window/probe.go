package window

import (
	"encoding/json"
	"os"
	"slices"

	"fyne.io/fyne/v2"

	"github.com/strakewright/strakewright/app/draw/views"
	"github.com/strakewright/strakewright/app/window/boards"
)

// probe tells a test of the real window where to point: after each change it
// writes the places of the handles, and the size of the window, to the file named by STRAKEWRIGHT_PROBE.
// Without that it does nothing.
type probe struct {
	w    *mainWindow
	path string
	last string
}

func newProbe(w *mainWindow, path string) *probe { return &probe{w: w, path: path} }

// probed is a handle in a view; x and y are pixels from the window's corner.
type probed struct {
	View  string  `json:"view"`
	Line  int     `json:"line"` // -1 of a limit's
	Frame string  `json:"frame"`
	X     float32 `json:"x"`
	Y     float32 `json:"y"`
	Limit string  `json:"limit,omitempty"` // "upper" or "lower"
}

func (p *probe) write() {
	if p.path == "" || p.w.desk.Grip != nil { // the end of a drag is told of
		return
	}
	p.w.desk.Later(func() {
		w := p.w
		var out []probed
		out = append(out, w.probed("profile", w.Long, slices.Concat(w.LongHandles(), w.LongLimits()))...)
		out = append(out, w.probed("body", w.BodyPlan, w.BodyHandles())...)
		text, err := json.MarshalIndent(map[string]any{"handles": out, "size": w.pixels()}, "", " ")
		if err != nil || string(text) == p.last {
			return
		}
		p.last = string(text)
		_ = os.WriteFile(p.path, text, 0o600) // a test that finds no file fails by itself
	})
}

func (w *mainWindow) probed(view string, b *boards.Board, hs []views.Handle) []probed {
	var out []probed
	for _, h := range hs {
		x, y := w.pixel(b, h)
		limit := map[views.Limit]string{views.UpperLimit: "upper", views.LowerLimit: "lower"}[h.Limit]
		out = append(out, probed{view, h.Line, w.desk.FrameName(h.Frame), x, y, limit})
	}
	return out
}

// pixels is the window's width and height, in pixels.
func (w *mainWindow) pixels() [2]int {
	size, scale := w.Canvas().Size(), w.Canvas().Scale()
	return [2]int{int(size.Width*scale + 0.5), int(size.Height*scale + 0.5)}
}

// pixel gives a handle's place in the window's pixels.
func (w *mainWindow) pixel(b *boards.Board, h views.Handle) (x, y float32) {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b)
	scale := w.Canvas().Scale()
	return (at.X + float32(h.At.X)) * scale, (at.Y + float32(h.At.Y)) * scale
}
