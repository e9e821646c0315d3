package loft

import (
	"fmt"

	"strakewright/hull"
)

// noteRunouts says where a free line leaves the planked region, first and
// worst, at either limit.
func (l *Layer) noteRunouts(line int, out []Runout) {
	for _, upper := range []bool{true, false} {
		var at []Runout
		worst := 0
		for _, r := range out {
			if r.Upper == upper {
				at = append(at, r)
				if r.By > at[worst].By {
					worst = len(at) - 1
				}
			}
		}
		if len(at) == 0 {
			continue
		}
		where := "over the upper limit"
		if !upper {
			where = "under the lower limit"
		}
		text := fmt.Sprintf("Free line %d runs out %s at frame %s by %.1f mm", line, where, l.name(at[worst].Frame), at[worst].By)
		if len(at) > 1 {
			text += fmt.Sprintf(" (at %d frames from %s to %s)", len(at), l.name(at[0].Frame), l.name(at[len(at)-1].Frame))
		}
		l.Notes = append(l.Notes, text+"; there it goes on along the limit, half a strip from it.")
	}
}

// name is the name of a frame.
func (l *Layer) name(i int) string { return l.Surface.names[i] }

// noteSurplus says that a band was given more strakes than it can hold.
func (l *Layer) noteSurplus(b *Band, h hull.Band) {
	if h.Strakes > b.Strakes {
		l.Notes = append(l.Notes, fmt.Sprintf("Band %d is given %d strakes, but nowhere is there room for more than %d of at least half a strip: %d are laid.", b.Number, h.Strakes, b.Strakes, b.Strakes))
	}
}

// noteWidths says where strakes need far more than the stock, and where a band
// gapes all along.
func (l *Layer) noteWidths(h *hull.Layer) {
	for _, b := range l.Bands {
		frame, width, worst := -1, 0.0, MostShare
		for k := range b.Weights {
			st := l.Strakes[b.First+k]
			for i, c := range st.At {
				if c.Laid && c.WidthCut > worst*st.Strip {
					frame, width, worst = i, c.WidthCut, c.WidthCut/st.Strip
				}
			}
		}
		if frame >= 0 {
			l.Notes = append(l.Notes, fmt.Sprintf("Band %d needs strakes of %.1f mm at frame %s, over one and a half times the stock: give it more strakes or wider strips.", b.Number, width, l.name(frame)))
		}
		l.noteShort(b, h)
	}
}

// noteShort says where a band gapes by no more than its strips creep apart of
// themselves, or at every frame.
func (l *Layer) noteShort(b *Band, h *hull.Layer) {
	excess := l.excess(b)
	first, last := l.Surface.Planked()
	peak, least := first, excess[first]
	for i := first; i <= last; i++ {
		e := excess[i]
		least = min(least, e)
		if e > excess[peak] {
			peak = i
		}
	}
	each := excess[peak] / float64(b.Laid[peak])
	switch {
	case least > FitTolerance*float64(b.Strakes):
		l.Notes = append(l.Notes, fmt.Sprintf("Band %d gapes at every frame, by %.1f mm at the least: allow %.2f mm of creep a strip, or give it another strake.", b.Number, least, least/float64(b.Strakes)))
	case each > FitTolerance && excess[peak] < b.creepAt(peak, h):
		l.Notes = append(l.Notes, fmt.Sprintf("Band %d is %.1f mm wider at frame %s than its strips, %.2f mm a strip: so much they creep apart of themselves, and no wedge is planned.", b.Number, excess[peak], l.name(peak), each))
	}
}
