package answer

import (
	"context"
	"fmt"
	"io"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// Record is the answer of the command record: both sides as they stand on the
// bench, or one of them.
type Record struct {
	Bands   []BenchBand `json:"bands"`
	Wet     []WetStrake `json:"wet"`
	Warn    []SideLine  `json:"sides_differ"` // lines of the two sides that differ by more than the tolerance
	Next    string      `json:"next"`         // one sentence; empty where all is laid
	Written string      `json:"written,omitempty"`
	Asks    string      `json:"question,omitempty"` // of an entry just noted that can hardly be right

	frames []string
}

// BenchBand is a band of one side.
type BenchBand struct {
	Side       string      `json:"side"`
	Layer      int         `json:"layer"`
	Band       int         `json:"band"`
	Laid       []string    `json:"laid"` // in the order of laying
	Remaining  []Remaining `json:"remaining"`
	Measured   bool        `json:"measured"`
	Creep      float64     `json:"creep"`       // a strip
	CreepBound float64     `json:"creep_bound"` // in 95 % of cases it is within this
	CreepLow   float64     `json:"creep_low"`
	CreepHigh  float64     `json:"creep_high"`
	Remedy     string      `json:"way"`     // how the rest is made to fit; empty for shared afresh
	Divides    bool        `json:"divides"` // what is left is shared without a gap or a strake too narrow or wide
	Left       []LeftAt    `json:"left"`
	Queries    []Query     `json:"queries"`
	Wet        []int       `json:"wet_entries"` // from 1: measured wet, left out of account
	Outlook    *Outlook    `json:"outlook"`     // whether the last strake will fit; null before anything is laid or measured, and after all is laid
}

// LeftAt is what is left of a band at a frame.
type LeftAt struct {
	Frame    string  `json:"frame"`
	Left     float64 `json:"left"`
	Bound    float64 `json:"bound"` // in 95 % of cases it is within this
	Low      float64 `json:"low"`
	High     float64 `json:"high"`
	Straying float64 `json:"straying"` // more than was planned
}

// Remaining is a strake still to go.
type Remaining struct {
	ID    string        `json:"id"`
	Strip float64       `json:"strip"`
	Cut   bool          `json:"cut"` // already: its widths stand
	At    []RemainingAt `json:"at"`
}

// RemainingAt is a strake still to go at a frame.
type RemainingAt struct {
	Frame      string  `json:"frame"`
	WidthFrame float64 `json:"width_frame"`
	WidthCut   float64 `json:"width_cut"`
	Change     float64 `json:"change"` // of the width along the frame, against the plan
	Action     string  `json:"action"`
	Gap        float64 `json:"gap"`
}

// Query is a measurement that can hardly be right.
type Query struct {
	Entry int    `json:"entry"` // from 1
	Kept  bool   `json:"kept"`  // it is believed all the same; else it is left out of account
	Why   string `json:"why"`
}

// WetStrake is a strake laid or held wet.
type WetStrake struct {
	Side     string   `json:"side"`
	ID       string   `json:"id"`
	Soaked   string   `json:"soaked"`
	Pinned   string   `json:"pinned"`
	Glued    string   `json:"glued"`
	GluedWet bool     `json:"glued_wet"`
	Awaits   bool     `json:"awaits_dry_measurement"`
	Woods    []string `json:"woods"`
	Least    *float64 `json:"shrinks_least"` // quarter-sawn; null where the species is not known
	Most     *float64 `json:"shrinks_most"`  // flat-sawn
}

// SideLine is a line that lies on both sides, mm below the upper limit.
type SideLine struct {
	Where     string  `json:"where"`
	Layer     int     `json:"layer"`
	Below     string  `json:"below"`
	Frame     string  `json:"frame"`
	Starboard float64 `json:"starboard"`
	Port      float64 `json:"port"`
	By        float64 `json:"by"` // lower to port
	Over      bool    `json:"over"`
}

// BenchOf is everything that is told of the record of a planking: of one side,
// or of both where it is empty. The woods are those the program brings along. It
// stops, with an error that wraps the context's, when the context ends.
func BenchOf(ctx context.Context, k *loft.Planking, side hull.Side, woods []hull.Wood) (Record, error) {
	out := Record{Bands: []BenchBand{}, Wet: []WetStrake{}, Warn: []SideLine{}, frames: frameNames(k)}
	first := map[hull.Side][]progress.BandState{}
	for layer := range k.Layers {
		states, err := progress.BothSides(k, layer, &k.Plan.Record, progress.UsualHabit())
		if err != nil {
			return out, err
		}
		for _, s := range hull.Sides() {
			first[s] = append(first[s], states[s]...)
			if side != "" && s != side {
				continue
			}
			for i := range states[s] {
				b, err := benchBand(ctx, k, s, &states[s][i])
				if err != nil {
					return out, err
				}
				out.Bands = append(out.Bands, b)
			}
			for _, w := range progress.WetStrakes(k, layer, k.Plan.Record.Of(s), woods) {
				out.Wet = append(out.Wet, WetStrakeOf(s, w))
			}
		}
		for _, d := range progress.CompareSides(k, states, k.Plan.Record.Tolerance) {
			if d.Over {
				out.Warn = append(out.Warn, sideLine(d, out.frames))
			}
		}
	}
	if _, j, ok := progress.Next(k, first); ok {
		out.Next = NextText(j, MM{})
	}
	return out, nil
}

func frameNames(k *loft.Planking) []string {
	var out []string
	for _, f := range k.Plan.Hull.Frames {
		out = append(out, f.Name)
	}
	return out
}

func benchBand(ctx context.Context, k *loft.Planking, side hull.Side, s *progress.BandState) (BenchBand, error) {
	frames, tally := frameNames(k), s.Tally()
	out := BenchBand{
		Side: string(side), Layer: s.Layer, Band: s.Band, Laid: append([]string{}, s.Laid...), Remaining: []Remaining{},
		Measured: s.Measured, Creep: tidy(s.Creep), CreepBound: tidy(s.CreepBound), CreepLow: tidy(s.Creep - s.CreepBound), CreepHigh: tidy(s.Creep + s.CreepBound), Remedy: string(s.Remedy), Divides: tally.Divides(),
		Left: []LeftAt{}, Queries: []Query{}, Wet: []int{},
	}
	for i, name := range frames {
		out.Left = append(out.Left, LeftAt{name, tidy(s.Left[i]), tidy(s.LeftBound[i]), tidy(max(s.Left[i]-s.LeftBound[i], 0)), tidy(s.Left[i] + s.LeftBound[i]), tidy(s.Straying[i])})
	}
	for _, st := range s.Rest() {
		r := Remaining{ID: st.ID, Strip: tidy(st.Strip), Cut: st.Cut, At: []RemainingAt{}}
		for i, c := range st.On {
			if c.Laid {
				r.At = append(r.At, RemainingAt{frames[i], tidy(c.WidthFrame), tidy(c.WidthCut), tidy(st.Change[i]), string(c.Action), tidy(c.Gap)})
			}
		}
		out.Remaining = append(out.Remaining, r)
	}
	for _, q := range s.Queries {
		out.Queries = append(out.Queries, Query{q.Entry + 1, q.Kept, DoubtText(q, MM{})})
	}
	for _, e := range s.Wet {
		out.Wet = append(out.Wet, e+1)
	}
	if len(s.Laid) == 0 && !s.Measured {
		return out, nil
	}
	ahead, err := s.Outlook(ctx)
	out.Outlook = outlookOf(k, ahead)
	return out, err
}

func sideLine(d progress.SideDifference, frames []string) SideLine {
	return SideLine{string(d.Where), d.Layer, d.Below, frames[d.Frame], tidy(d.Starboard), tidy(d.Port), tidy(d.By()), d.Over}
}

// Text writes band by band what is left and how it is shared.
func (a Record) Text(w io.Writer) error {
	p := &page{w: w}
	asked := map[string]bool{} // a bare frame is asked about once, though it bears on every band
	for _, b := range a.Bands {
		p.gap()
		p.line("%s, layer %d, band %d: %s laid, %s to go", said(sideWords, b.Side), b.Layer, b.Band, counted(len(b.Laid), "no strakes", "%d strake", "%d strakes"), strconv.Itoa(len(b.Remaining)))
		if b.Measured {
			p.line("  build-up %s per strip (%s)", Between(b.Creep, b.CreepBound, MM{}), tongue.T(Sure))
		}
		if b.Remedy != "" {
			p.line("  the rest fits by: %s", remedyWord(b.Remedy))
		}
		if !b.Divides && (len(b.Laid) > 0 || b.Measured) {
			p.line("  what is left does not divide among the remaining strakes: see the options")
		}
		for _, q := range b.Queries {
			if of := fmt.Sprint(b.Side, q.Entry); !asked[of] {
				asked[of] = true
				p.line("  %s", QueryText(tongue.T("entry %d", q.Entry), q.Why, q.Kept))
			}
		}
		for _, e := range b.Wet {
			p.line("  entry %d is left out: measured wet; measure again when it is dry", e)
		}
		if b.Outlook != nil {
			p.line("  will the last strake fit? %s", b.Outlook.Sentence)
		}
		if len(b.Laid) > 0 || b.Measured {
			a.rest(p, b)
		}
	}
	a.wet(p)
	var warn []string
	for _, d := range a.Warn {
		warn = append(warn, d.sentence())
	}
	p.list(tongue.T("The sides differ"), warn)
	if a.Next != "" {
		p.gap()
		p.line("%s", a.Next)
	}
	if a.Written != "" {
		p.gap()
		p.line("Written to %s.", a.Written)
	}
	if a.Asks != "" {
		p.line("%s", a.Asks)
	}
	return p.err
}

// Ask asks about an entry just noted to a side of the record, where it can hardly be
// right.
func (a *Record) Ask(r *hull.Record, side hull.Side, e hull.Entry) {
	list := r.Of(side)
	for i := len(list) - 1; i >= 0; i-- {
		if !reflect.DeepEqual(list[i], e) {
			continue
		}
		for _, b := range a.Bands {
			at := slices.IndexFunc(b.Queries, func(q Query) bool { return q.Entry == i+1 })
			if at >= 0 && b.Side == string(side) {
				q := b.Queries[at]
				a.Asks = tongue.T("Check the measurement. %s.", QueryText(tongue.T("Entry %d", q.Entry), q.Why, q.Kept))
				return
			}
		}
		return
	}
}

// rest writes what is left and the widths of the strakes to go, some frames at
// a time.
func (a Record) rest(p *page, b BenchBand) {
	for from := 0; from < len(a.frames); from += framesAcross {
		frames := a.frames[from:min(from+framesAcross, len(a.frames))]
		t := table{head: append([]string{"mm"}, frames...)}
		left, most, stray := []string{tongue.T("left, at least")}, []string{tongue.T("at most")}, []string{tongue.T("over the plan")}
		for i := range frames {
			left, most = append(left, mm(b.Left[from+i].Low)), append(most, mm(b.Left[from+i].High))
			stray = append(stray, mm(b.Left[from+i].Straying))
		}
		t.rows = append(t.rows, left, most, stray)
		for _, r := range b.Remaining {
			row, change := []string{r.ID}, []string{tongue.T("  change")}
			for _, f := range frames {
				width, by := ".", "."
				for _, c := range r.At {
					if c.Frame == f {
						width, by = mm(c.WidthCut)+mark(Crossing{Action: c.Action}), mm(c.Change)
					}
				}
				row, change = append(row, width), append(change, by)
			}
			t.rows = append(t.rows, row, change)
		}
		p.table(t)
	}
}

// wet writes the wet strakes.
func (a Record) wet(p *page) {
	var out []string
	for _, w := range a.Wet {
		out = append(out, w.Told(MM{}))
	}
	p.list(tongue.T("Wet strips"), out)
}

func (d SideLine) sentence() string {
	lower := hull.Port
	if d.By < 0 {
		lower = hull.Starboard
	}
	return tongue.T("%s, frame %s: the seam below %s lies %.1f mm lower %s", said(meetWays, d.Where), d.Frame, d.Below, math.Abs(d.By), said(sideWays, string(lower)))
}

// Sides is the answer of record sides.
type Sides struct {
	Tolerance float64    `json:"tolerance"`
	Lines     []SideLine `json:"lines"`
}

// SidesOf compares the two sides of every layer.
func SidesOf(k *loft.Planking) (Sides, error) {
	out := Sides{Tolerance: k.Plan.Record.Tolerance, Lines: []SideLine{}}
	if out.Tolerance == 0 {
		out.Tolerance = loft.UsualTolerance
	}
	for layer := range k.Layers {
		states, err := progress.BothSides(k, layer, &k.Plan.Record, progress.UsualHabit())
		if err != nil {
			return out, err
		}
		for _, d := range progress.CompareSides(k, states, out.Tolerance) {
			out.Lines = append(out.Lines, sideLine(d, frameNames(k)))
		}
	}
	return out, nil
}

// Text writes a row a line and frame.
func (a Sides) Text(w io.Writer) error {
	p := &page{w: w}
	if len(a.Lines) == 0 {
		p.line("The two sides have no seam in common yet.")
		return p.err
	}
	t := table{head: heads("at the", tongue.In("strake", "below"), "frame", "starboard", "port", "lower to port", "")}
	for _, d := range a.Lines {
		over := ""
		if d.Over {
			over = tongue.T("over %g mm", a.Tolerance)
		}
		t.rows = append(t.rows, []string{said(meetWords, d.Where), d.Below, d.Frame, mm(d.Starboard), mm(d.Port), mm(d.By), over})
	}
	p.table(t)
	p.line("mm of girth below the upper limit.")
	return p.err
}

// Next is the answer of record next.
type Next struct {
	ID       string `json:"id"` // empty where all is laid
	Side     string `json:"side"`
	Layer    int    `json:"layer"`
	Order    int    `json:"order"` // from 1
	Of       int    `json:"of"`
	Sentence string `json:"sentence"`
	Caution  string `json:"caution"`

	Outlook *Outlook `json:"outlook"` // whether the last strake of its band will fit; null where all is laid
}

// NextOf tells what comes next. It stops, with an error that wraps the context's,
// when the context ends.
func NextOf(ctx context.Context, k *loft.Planking) (Next, error) {
	states, err := benchOf(k)
	if err != nil {
		return Next{}, err
	}
	turn, j, ok := progress.Next(k, states)
	if !ok {
		return Next{Of: len(progress.Turns(k)), Sentence: tongue.T("Every strake is laid.")}, nil
	}
	out := Next{ID: turn.ID, Side: string(turn.Side), Layer: turn.Layer, Order: turn.Order, Of: len(progress.Turns(k)), Sentence: NextText(j, MM{}), Caution: CautionText(j.Caution())}
	for i := range states[turn.Side] {
		if s := &states[turn.Side][i]; slices.Contains(s.Remaining, turn.ID) {
			ahead, err := s.Outlook(ctx)
			if err != nil {
				return out, err
			}
			out.Outlook = outlookOf(k, ahead)
		}
	}
	return out, nil
}

// benchOf is the state of all layers.
func benchOf(k *loft.Planking) (map[hull.Side][]progress.BandState, error) {
	out := map[hull.Side][]progress.BandState{}
	for layer := range k.Layers {
		states, err := progress.BothSides(k, layer, &k.Plan.Record, progress.UsualHabit())
		if err != nil {
			return nil, err
		}
		for side, list := range states {
			out[side] = append(out[side], list...)
		}
	}
	return out, nil
}

// Text writes the sentence and the caution.
func (a Next) Text(w io.Writer) error {
	p := &page{w: w}
	p.line("%s", a.Sentence)
	if a.Caution != "" {
		p.line("%s", a.Caution)
	}
	if a.Outlook != nil {
		p.line("Will the last strake fit? %s", a.Outlook.Sentence)
	}
	return p.err
}

// Steps is the answer of record steps.
type Steps struct {
	ID    string `json:"id"`
	Side  string `json:"side"`
	Steps []Step `json:"steps"`
}

// Step is a step of laying a strake.
type Step struct {
	Key       string `json:"step"`
	Name      string `json:"name"`
	Figure    string `json:"figure"`
	Caution   string `json:"caution"`
	Pins      int    `json:"pins"`
	Treenails int    `json:"pegs"`
	Skip      bool   `json:"skip"`
}

// StepsOf tells the steps of a strake; with an empty ID of the next one. The
// error says that there is no such strake, or that all is laid.
func StepsOf(k *loft.Planking, side hull.Side, id string) (Steps, error) {
	states, err := benchOf(k)
	if err != nil {
		return Steps{}, err
	}
	if id == "" {
		turn, ok := progress.NextTurn(k)
		if !ok {
			return Steps{}, tongue.Errorf("every strake is laid: name a strake")
		}
		id, side = turn.ID, turn.Side
	}
	job, err := progress.Procedure(k, side, id, states[side])
	if err != nil {
		return Steps{}, err
	}
	out := Steps{ID: id, Side: string(side), Steps: []Step{}}
	for _, t := range job.Steps {
		out.Steps = append(out.Steps, Step{t.Key, t.Name, TaskText(job, t, MM{}), CautionText(t.Caution), t.Pins, t.Treenails, t.Skip})
	}
	return out, nil
}

// Text writes a numbered step a paragraph.
func (a Steps) Text(w io.Writer) error {
	p := &page{w: w}
	p.line("Strake %s %s", a.ID, said(sideWays, a.Side))
	for i, s := range a.Steps {
		p.gap()
		p.line("%d. %s", i+1, s.Name)
		if s.Figure != "" {
			p.line("   %s", s.Figure)
		}
		if s.Caution != "" {
			p.line("   Caution: %s", s.Caution)
		}
	}
	return p.err
}

// Options is the answer of record options.
type Options struct {
	Side    string   `json:"side"`
	Layer   int      `json:"layer"`
	Band    int      `json:"band"`
	Options []Option `json:"options"`
}

// Option is a way to make the rest of a band fit.
type Option struct {
	Remedy      string  `json:"way"`
	What        string  `json:"what"`
	Consequence string  `json:"consequence"`
	Fits        bool    `json:"fits"`
	Chosen      bool    `json:"chosen"`
	Strakes     int     `json:"strakes"` // still to go
	Gap         float64 `json:"gap"`     // the widest gathered at a frame
	Shave       float64 `json:"shave"`   // the most off a strip
	Narrowest   float64 `json:"narrowest"`
	Wedges      int     `json:"wedges"`
	Strips      int     `json:"strips"`
}

// OptionsOf puts options for a band (from 0) of a layer (from 0) into words.
func OptionsOf(side hull.Side, layer, band int, list []progress.Option) Options {
	out := Options{Side: string(side), Layer: layer + 1, Band: band + 1, Options: []Option{}}
	for i := range list {
		o := &list[i]
		t := o.After
		out.Options = append(out.Options, Option{string(o.Remedy), OptionText(o, MM{}), OptionOutcome(o, MM{}), o.Fits, o.Chosen, t.Strakes, tidy(t.Gap), tidy(t.Shave), tidy(t.Narrowest), len(t.Wedges), t.Strips})
	}
	return out
}

// Text writes an option a paragraph.
func (a Options) Text(w io.Writer) error {
	p := &page{w: w}
	if len(a.Options) == 0 {
		p.line("No choice is left: every strake of the band is laid or cut on one side or the other.")
		return p.err
	}
	for _, o := range a.Options {
		p.gap()
		sign := ""
		if o.Fits {
			sign = tongue.T(" (fits)")
		}
		if o.Chosen {
			sign += tongue.T(" (chosen)")
		}
		p.line("%s: %s%s", o.Remedy, o.What, sign)
		p.line("  %s", o.Consequence)
	}
	return p.err
}

// History is the answer of record history.
type History struct {
	Days []Day `json:"days"`
}

// Day is what was noted on a day.
type Day struct {
	Date    string  `json:"date"`
	Entries []Entry `json:"entries"`
}

// Entry is an entry of the record.
type Entry struct {
	Side      string   `json:"side"`
	Number    int      `json:"number"` // on its side, from 1
	Date      string   `json:"date"`
	EntryKind string   `json:"doing"`
	Layer     int      `json:"layer"`
	Band      int      `json:"band,omitempty"`
	Strake    string   `json:"strake,omitempty"`
	Frame     string   `json:"frame,omitempty"`
	MM        *float64 `json:"mm,omitempty"`
	To        float64  `json:"to,omitempty"` // the divisions of the rule it was read to
	Wet       bool     `json:"wet"`
	Remedy    string   `json:"way,omitempty"`
	Note      string   `json:"note,omitempty"`
}

// HistoryOf tells the record day by day, of one side or of both where it is
// empty.
func HistoryOf(r *hull.Record, side hull.Side) History {
	out := History{Days: []Day{}}
	for _, date := range r.Days() {
		day := Day{Date: date, Entries: []Entry{}}
		for _, s := range hull.Sides() {
			if side != "" && s != side {
				continue
			}
			for i, e := range r.Of(s) {
				if e.Day() == date {
					day.Entries = append(day.Entries, entry(s, i, e))
				}
			}
		}
		if len(day.Entries) > 0 {
			out.Days = append(out.Days, day)
		}
	}
	return out
}

func entry(side hull.Side, i int, e hull.Entry) Entry {
	out := Entry{Side: string(side), Number: i + 1, Date: e.Date, EntryKind: string(e.EntryKind), Layer: e.Layer, Band: e.Band, Strake: e.Strake, Frame: e.Frame, To: tidy(e.To), Wet: e.Wet, Remedy: string(e.Remedy), Note: e.Note}
	if e.EntryKind.Measures() || e.Remedy == hull.Tighter {
		mm := tidy(e.MM)
		out.MM = &mm
	}
	return out
}

// Text writes a line an entry under its day.
func (a History) Text(w io.Writer) error {
	p := &page{w: w}
	if len(a.Days) == 0 {
		p.line("No entry was made.")
	}
	for _, d := range a.Days {
		p.gap()
		p.line("%s", tongue.Day(d.Date))
		for _, e := range d.Entries {
			p.line("  %s %d: %s", said(sideWords, e.Side), e.Number, e.told())
		}
	}
	return p.err
}

// told tells an entry in a few words.
func (e Entry) told() string {
	var parts []string
	switch hull.EntryKind(e.EntryKind) {
	case hull.BareGirth:
		parts = append(parts, tongue.T("bare frame %s has %s mm of girth", e.Frame, mm(*e.MM)))
	case hull.LeftOver:
		parts = append(parts, tongue.T("%s mm left of band %d at frame %s", mm(*e.MM), e.Band, e.Frame))
	case hull.AsLaid:
		parts = append(parts, tongue.T("%s is %s mm wide at frame %s", e.Strake, mm(*e.MM), e.Frame))
	case hull.GapAbove:
		parts = append(parts, tongue.T("%s mm of gap above %s at frame %s", mm(*e.MM), e.Strake, e.Frame))
	case hull.Chosen:
		parts = append(parts, tongue.T("for the rest of band %d: %s", e.Band, remedyWord(e.Remedy)))
	default:
		parts = append(parts, e.Strake+" "+said(entryWords, e.EntryKind))
	}
	if e.To > 0 {
		parts = append(parts, tongue.T("read to %s", RuleText(e.To, MM{})))
	}
	if e.Layer > 1 {
		parts = append(parts, tongue.T("layer %d", e.Layer))
	}
	if e.Wet {
		parts = append(parts, tongue.T("wet"))
	}
	if e.Note != "" {
		parts = append(parts, e.Note)
	}
	return strings.Join(parts, ", ")
}

// RecordRows gives the record as rows of a CSV file, a heading first: a row an
// entry, side by side, with a point as the decimal mark.
func RecordRows(r *hull.Record) [][]string {
	out := [][]string{{"side", "number", "date", "doing", "layer", "band", "strake", "frame", "mm", "wet", "way", "note", "read_to"}}
	for _, side := range hull.Sides() {
		for i, e := range r.Of(side) {
			x := entry(side, i, e)
			band, value, wet, to := "", "", "", ""
			if x.Band > 0 {
				band = strconv.Itoa(x.Band)
			}
			if x.MM != nil {
				value = plain(*x.MM)
			}
			if x.Wet {
				wet = "wet"
			}
			if x.To > 0 {
				to = plain(x.To)
			}
			out = append(out, []string{x.Side, strconv.Itoa(x.Number), x.Date, x.EntryKind, strconv.Itoa(x.Layer), band, x.Strake, x.Frame, value, wet, x.Remedy, x.Note, to})
		}
	}
	return out
}

// TickOff is the answer of record order: every piece in the order of laying, to
// be ticked off.
type TickOff struct {
	Laying []string    `json:"laying,omitempty"` // where each layer is begun that is laid outward
	Pieces []TickPiece `json:"pieces"`
}

// TickPiece is a piece of a strake.
type TickPiece struct {
	Order     int     `json:"order"` // of its strake's turn, from 1
	Layer     int     `json:"layer"`
	ID        string  `json:"id"`
	Piece     int     `json:"piece"` // from 1
	Of        int     `json:"of"`
	Side      string  `json:"side"`
	Length    float64 `json:"length"` // to cut, the overhang included
	Pins      int     `json:"pins"`
	Treenails int     `json:"pegs"`
	Laid      bool    `json:"laid"`
}

// TickOffOf lists the pieces of all layers, as the cutting list has them. The
// error is that of loft.Planking.CutLayers.
func TickOffOf(ctx context.Context, k *loft.Planking) (TickOff, error) {
	out := TickOff{Pieces: []TickPiece{}}
	cut, err := k.CutLayers(ctx)
	if err != nil {
		return out, err
	}
	type turn struct {
		layer, strake int
		side          hull.Side
	}
	of := map[turn][]loft.LaidPiece{}
	for i, c := range cut {
		for _, p := range c.Pieces {
			at := turn{i + 1, p.Strake, p.Side}
			of[at] = append(of[at], p)
		}
	}
	out.Laying = layingOutward(k)
	for _, t := range progress.Turns(k) {
		for _, p := range of[turn{t.Layer, t.Strake, t.Side}] {
			out.Pieces = append(out.Pieces, TickPiece{t.Order, t.Layer, p.ID, p.Number, p.Of, string(p.Side), tidy(p.Length()), p.Pins, p.Treenails, t.Laid})
		}
	}
	return out, nil
}

// layingOutward tells of every layer where it is begun, if the plan lays outward.
func layingOutward(k *loft.Planking) []string {
	var out []string
	if k.Cutting().Laying != hull.Outward {
		return nil
	}
	for _, l := range k.Layers {
		if len(k.Layers) > 1 {
			out = append(out, tongue.T("The laying of layer %d goes outward: %s.", l.Number, BeginsAt(l, k.Cutting())))
		} else {
			out = append(out, tongue.T("The laying goes outward: %s.", BeginsAt(l, k.Cutting())))
		}
	}
	return out
}

// Text writes a row a piece with a box to tick.
func (a TickOff) Text(w io.Writer) error {
	p := &page{w: w}
	for _, l := range a.Laying {
		p.line("%s", l)
	}
	t := table{head: heads("", tongue.In("laying", "turn"), "piece", "side", "length", "pins", "treenails")}
	for _, x := range a.Pieces {
		box := "[ ]"
		if x.Laid {
			box = "[x]"
		}
		t.rows = append(t.rows, []string{box, strconv.Itoa(x.Order), x.name(), said(sideWords, x.Side), mm(x.Length), strconv.Itoa(x.Pins), strconv.Itoa(x.Treenails)})
	}
	p.table(t)
	return p.err
}

// name is the piece's number, as 1.05 or 1.05 a of several.
func (x TickPiece) name() string {
	if x.Of < 2 {
		return x.ID
	}
	return fmt.Sprintf("%s %d/%d", x.ID, x.Piece, x.Of)
}

// Rows gives the list as rows of a CSV file, a heading first.
func (a TickOff) Rows() [][]string {
	out := [][]string{{"turn", "layer", "strake", "piece", "of", "side", "cut_length_mm", "pins", "pegs", "laid"}}
	for _, x := range a.Pieces {
		laid := ""
		if x.Laid {
			laid = "laid"
		}
		out = append(out, []string{strconv.Itoa(x.Order), strconv.Itoa(x.Layer), x.ID, strconv.Itoa(x.Piece), strconv.Itoa(x.Of), x.Side, plain(x.Length), strconv.Itoa(x.Pins), strconv.Itoa(x.Treenails), laid})
	}
	return out
}

// RowsWritten is the answer of record --csv.
type RowsWritten struct {
	Written string `json:"written"`
	Rows    int    `json:"rows"` // without the heading
}

// Text says so.
func (a RowsWritten) Text(w io.Writer) error {
	p := &page{w: w}
	p.line("%s written to %s.", counted(a.Rows, "no rows", "%d row", "%d rows"), a.Written)
	return p.err
}
