package answer

import (
	"io"
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/sight"
)

// Photo is the answer of record photo: what a picture tells of what is left of a
// band.
type Photo struct {
	Side     string         `json:"side"`
	Layer    int            `json:"layer"`
	Band     int            `json:"band"`
	Readings []PhotoReading `json:"readings"`
	LeftOut  []string       `json:"left_out"` // known places that the others contradict
	Fit      string         `json:"fit"`      // how well the known places fit, in a sentence or two
	Read     bool           `json:"read"`     // false where the known places do not settle the camera
	Written  string         `json:"written,omitempty"`
}

// PhotoReading is what is left at a frame.
type PhotoReading struct {
	Frame string  `json:"frame"`
	Given bool    `json:"given"`
	Left  float64 `json:"left"`
	Bound float64 `json:"bound"` // 95 of 100 readings are out by no more
	Why   string  `json:"why"`   // why it is not given
}

// PhotoOf puts what a picture tells into words, of a band (from 0) of a layer (from 0).
func PhotoOf(k *loft.Planking, side hull.Side, layer, band int, m *sight.Marks, s *sight.Seen, u Units) Photo {
	out := Photo{Side: string(side), Layer: layer + 1, Band: band + 1, Readings: []PhotoReading{}, LeftOut: []string{}, Fit: photoFit(k, layer, m, s), Read: !s.Lost && len(s.Unclear) == 0}
	for _, i := range s.Slips {
		out.LeftOut = append(out.LeftOut, tongue.T("%s: the others contradict it, %s px off its mark", KnownPlace(k, layer, m.Known[i], u), decimals(s.Out[i], 0)))
	}
	for _, r := range s.Readings {
		x := PhotoReading{Frame: k.Layers[layer].Surface.FrameName(r.Frame), Given: r.Given()}
		if x.Given {
			x.Left, x.Bound = tidy(r.Left), tidy(r.Bound())
		} else {
			x.Why = photoDoubt(r, u)
		}
		out.Readings = append(out.Readings, x)
	}
	return out
}

// KnownPlace names a known place of a picture.
func KnownPlace(k *loft.Planking, layer int, p sight.Known, u Units) string {
	l := k.Layers[layer]
	what := ""
	switch p.What {
	case sight.UpperLimit:
		what = tongue.T("upper limit")
	case sight.Rabbet:
		what = tongue.T("rabbet")
	case sight.SeamBelow:
		what = tongue.T("seam below %s", l.Strakes[p.Strake].ID)
	case sight.AtGirth:
		what = tongue.T("%s below the upper limit", told(u, p.Girth, 2))
	}
	if p.Beyond {
		what += tongue.T(" on the other side")
	}
	return tongue.T("%s at frame %s", what, l.Surface.FrameName(p.Frame))
}

// photoFit tells how well the known places of a picture fit.
func photoFit(k *loft.Planking, layer int, m *sight.Marks, s *sight.Seen) string {
	part := ""
	if !m.Picture.Cropped {
		part = tongue.T(" If the picture is part of a larger one, mark it as cropped: its middle then lies elsewhere.")
	}
	switch {
	case s.Lost && s.OtherSide:
		return tongue.T("The known places fit the other side of the ship: name the side in the picture, or check that the plan has the bow at the right end.")
	case s.Lost:
		return tongue.T("The known places do not fit together: check that each is marked at the frame it names.%s", part)
	case len(s.Unclear) > 0:
		var names []string
		for _, i := range s.Unclear {
			names = append(names, KnownPlace(k, layer, m.Known[i], MM{}))
		}
		return tongue.T("One of the known places is marked wrongly, but the others do not show which: it may be the %s. Check these, or mark another known place.", strings.Join(names, tongue.T(", or the ")))
	}
	sum, n := 0.0, 0
	left := map[int]bool{}
	for _, i := range s.Slips {
		left[i] = true
	}
	for i, v := range s.Out {
		if !left[i] {
			sum, n = sum+v*v, n+1
		}
	}
	text := tongue.T("%d known places fit within %s px.", n, decimals(math.Sqrt(sum/float64(n)), 1))
	if s.Loose > 1 {
		text += tongue.T(" That is more than such careful marks should be off, so all bounds are %s times as wide.", decimals(s.Loose, 1)) + part
	}
	if s.Spare < 2 {
		text += tongue.T(" None is to spare, so a slip among them would not show: mark one more.")
	}
	return text
}

// photoDoubt tells why a reading is not given.
func photoDoubt(r sight.Reading, u Units) string {
	switch r.Doubt {
	case sight.NotPlanked:
		return tongue.T("the hull is not planked there")
	case sight.Hidden:
		return tongue.T("the frame turns away from the camera where it is marked")
	case sight.Astray:
		return tongue.T("the mark lies %s px off the frame's outline: is it of that frame?", decimals(r.Off, 0))
	case sight.Twofold:
		return tongue.T("the frame passes the mark twice, so the place is not clear")
	case sight.NoAbove:
		return tongue.T("strakes are laid above: mark their lower edge too")
	case sight.NoBelow:
		return tongue.T("strakes are laid below: mark their upper edge too")
	case sight.OtherFrame:
		return tongue.T("known places on one frame alone give no other frame")
	case sight.Crossed:
		return tongue.T("the upper edge appears below the lower")
	case sight.TooWide:
		return tongue.T("it would be out by up to %s: the camera sees the frame too much aslant, or the known places are too far off", told(u, r.Bound(), 1))
	}
	return ""
}

// PhotoEntries are the readings given, as they are noted in the record.
func PhotoEntries(k *loft.Planking, layer, band int, s *sight.Seen, remark string) []hull.Entry {
	var out []hull.Entry
	for _, r := range s.Readings {
		if !r.Given() {
			continue
		}
		note := tongue.T("from a photograph, ±%s mm (%s)", decimals(r.Bound(), 2), tongue.T(Sure))
		if remark != "" {
			note = remark + "; " + note
		}
		// It counts as one with a rule so divided that rounding alone has such an error:
		// that of a division d is d/√12.
		division := math.Round(r.Error*math.Sqrt(12)*100) / 100
		out = append(out, hull.Entry{
			EntryKind: hull.LeftOver, To: min(max(division, hull.RuleDivision.Low), hull.RuleDivision.High), Layer: layer + 1, Band: band + 1, Frame: k.Layers[layer].Surface.FrameName(r.Frame),
			MM: math.Round(r.Left*100) / 100, Note: note,
		})
	}
	return out
}

// Text writes a row a frame.
func (a Photo) Text(w io.Writer) error {
	p := &page{w: w}
	p.line("%s, layer %d, band %d, from a photograph", said(sideWords, a.Side), a.Layer, a.Band)
	p.line("  %s", a.Fit)
	p.list(tongue.T("Left out"), a.LeftOut)
	if len(a.Readings) > 0 {
		t := table{head: heads("frame", tongue.In("rest", "left"), "at least", "at most", "")}
		for _, r := range a.Readings {
			row := []string{r.Frame, ".", ".", ".", r.Why}
			if r.Given {
				row = []string{r.Frame, mm(r.Left), mm(max(r.Left-r.Bound, 0)), mm(r.Left + r.Bound), ""}
			}
			t.rows = append(t.rows, row)
		}
		p.table(t)
		p.line("mm; in 95 of 100 cases what is left lies between the two.")
	}
	if a.Written != "" {
		p.gap()
		p.line("Written to %s.", a.Written)
	}
	return p.err
}
