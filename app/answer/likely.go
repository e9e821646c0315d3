package answer

import (
	"fmt"
	"math"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// Sure is said of every bound: it holds in 95 % of cases.
const Sure = "with 95 % certainty" // to be said with tongue.T

// Between tells a length that is known to within a bound, as "23.2 ± 0.3 mm": to a
// tenth of a millimetre, or a hundredth where the bound is finer. Where the bound cannot
// be told in those it is left out.
func Between(x, bound float64, u Units) string {
	decimals := 1
	if bound < 0.1 {
		decimals = 2
	}
	within := number(u, bound, decimals)
	if strings.Trim(within, "0.,") == "" {
		return tongue.T("about %s", minus(told(u, x, decimals)))
	}
	return fmt.Sprintf("%s ± %s %s", minus(number(u, x, decimals)), within, u.Name())
}

// LeftBetween is Between of what is left, which is never less than nothing.
func LeftBetween(left, bound float64, u Units) string {
	if low := left - bound; low < 0 {
		high := left + bound
		return Between(high/2, high/2, u)
	}
	return Between(left, bound, u)
}

// minus writes the sign as in print, and none before a zero.
func minus(number string) string {
	if s, ok := strings.CutPrefix(number, "-"); ok {
		if strings.Trim(s, "0.,inm ") == "" {
			return s
		}
		return "−" + s
	}
	return number
}

// The words of a probability, and from where on they hold: those of ICD 203, Analytic
// Standards, 2015, section D.6, from memory; at its ends, where that has no words, its
// last ones hold on.
var likelihoods = []struct {
	from float64
	word string
}{
	{0.95, tongue.Mark("almost certainly")}, {0.80, tongue.Mark("very likely")}, {0.55, tongue.Mark("likely")}, {0.45, tongue.Mark("as likely as not")},
	{0.20, tongue.Mark("unlikely")}, {0.05, tongue.Mark("very unlikely")}, {0, tongue.Mark("almost certainly not")},
}

// likely puts a probability into words, in English.
func likely(p float64) string {
	p = math.Round(100*p) / 100 // as it is told
	for _, l := range likelihoods {
		if p >= l.from {
			return l.word
		}
	}
	return likelihoods[len(likelihoods)-1].word
}

// chance tells a probability; nothing is told to be certain.
func chance(p float64) string {
	switch n := math.Round(100 * p); {
	case n < 1:
		return tongue.T("under 1 %")
	case n > 99:
		return tongue.T("over 99 %")
	default:
		return fmt.Sprintf("%.0f %%", n)
	}
}

// Outlook is whether the strake of a band that goes on last will fit.
type Outlook struct {
	Last      string      `json:"last"`
	Tolerance float64     `json:"tolerance"`    // it is to close to within this at every frame
	Fits      float64     `json:"fits"`         // probability, 0 to 1
	Verdict   string      `json:"verdict"`      // the same in words
	Room      []RoomAt    `json:"room"`         // what is expected to be left for it
	Next      []TellingAt `json:"measure_next"` // the frames worth measuring, the most telling first
	Sentence  string      `json:"sentence"`
}

// RoomAt is what is left for the last strake at a frame, and within which it lies in
// 95 % of cases.
type RoomAt struct {
	Frame string  `json:"frame"`
	Room  float64 `json:"room"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// TellingAt is the probability of a fit that is to be expected once what is left at a
// frame is measured.
type TellingAt struct {
	Frame string  `json:"frame"`
	Fits  float64 `json:"fits"`
}

// outlookOf is an outlook with its words in mm; nil where no strake is to go.
func outlookOf(k *loft.Planking, o progress.Outlook) *Outlook {
	if o.Last == "" {
		return nil
	}
	frames := frameNames(k)
	out := &Outlook{Last: o.Last, Tolerance: tidy(o.Tolerance), Fits: tidy(o.Fits), Verdict: likely(o.Fits), Room: []RoomAt{}, Next: []TellingAt{}, Sentence: OutlookText(k, o, MM{})}
	for f, room := range o.Room {
		if room > 0 {
			out.Room = append(out.Room, RoomAt{frames[f], tidy(room), tidy(max(room-o.Within[f], 0)), tidy(room + o.Within[f])})
		}
	}
	for _, t := range o.Tells {
		out.Next = append(out.Next, TellingAt{frames[t.Frame], tidy(t.Fits)})
	}
	return out
}

// OutlookText says whether the last strake of a band will fit, how sure its room is
// where it is least so, and what to measure next; empty where no strake is to go.
func OutlookText(k *loft.Planking, o progress.Outlook, u Units) string {
	if o.Last == "" {
		return ""
	}
	text := tongue.T("%s (%s), if you cut every strake as planned and measure no more: %s goes on last, and must close to within %s at every frame.",
		capital(tongue.T(likely(o.Fits))), chance(o.Fits), o.Last, told(u, o.Tolerance, -1))
	if f := leastSure(o); f >= 0 {
		text += tongue.T(" Frame %s is the least certain: %s will be left for it there (%s).", frameNames(k)[f], LeftBetween(o.Room[f], o.Within[f], u), tongue.T(Sure))
	}
	if tell := tellingText(k, o); tell != "" {
		text += " " + tell
	}
	return text
}

// A measurement is asked for that makes a fit likelier by worthTelling, or any while
// the fit is less than sureEnough. A matter of taste, no source.
const (
	worthTelling = 0.01
	sureEnough   = 0.95
)

// MostTelling is the measurement that tells most; ok is false where none is worth
// taking.
func MostTelling(o progress.Outlook) (t progress.Tell, ok bool) {
	if o.Last == "" || len(o.Tells) == 0 || o.Fits >= sureEnough && o.Tells[0].Fits < o.Fits+worthTelling {
		return t, false
	}
	return o.Tells[0], true
}

// tellingText asks for the measurement that tells most; empty where none tells
// anything.
func tellingText(k *loft.Planking, o progress.Outlook) string {
	t, ok := MostTelling(o)
	if !ok {
		return ""
	}
	text := tongue.T("Next measure what is left at frame %s, the most useful reading", frameNames(k)[t.Frame])
	if before, after := chance(o.Fits), chance(t.Fits); before != after {
		text += tongue.T(" (from %s to %s)", before, after)
	}
	return text + "."
}

// leastSure is the frame at which the room for the last strake is least sure, or −1.
func leastSure(o progress.Outlook) int {
	at := -1
	for f, room := range o.Room {
		if room > 0 && (at < 0 || o.Within[f] > o.Within[at]) {
			at = f
		}
	}
	return at
}
