package answer

import (
	"fmt"
	"io"
	"strconv"

	"strakewright/hull"
)

// Source is the answer of the command check: what was read of a plan or hull
// source and every fault found in it.
type Source struct {
	File   string   `json:"file"`
	Kind   string   `json:"kind"` // one of hull.Kind; empty where nothing could be read
	Title  string   `json:"title"`
	Bow    string   `json:"bow"` // "first" or "last": which frame lies foremost
	Upper  string   `json:"upper"`
	Lower  string   `json:"lower"`
	Frames []Read   `json:"frames"`
	Layers []Laid   `json:"layers"` // of a plan
	Notes  []string `json:"notes"`  // what the builder should know of a source
	Faults []Fault  `json:"faults"`
}

// Read is a frame as read.
type Read struct {
	Frame    string  `json:"frame"`
	X        float64 `json:"x"`
	Points   int     `json:"points"`
	Knuckles int     `json:"knuckles"`
}

// Laid is a layer as planned.
type Laid struct {
	Width     float64 `json:"width"`
	Thickness float64 `json:"thickness"`
	Length    float64 `json:"length"`
	Species   string  `json:"species"`
	Edges     string  `json:"edges"`
	Creep     float64 `json:"creep"`
	Bands     int     `json:"bands"`
}

// Fault is one thing that is wrong.
type Fault struct {
	Line  int    `json:"line"` // 0 where no one line is at fault
	Frame string `json:"frame"`
	Text  string `json:"text"` // the whole sentence
}

// SourceOf tells what was read of a file; kind is one of
// hull.Kind, or empty. The plan may be as far as it could be read, or nil where nothing could.
func SourceOf(file, kind string, p *hull.Plan, notes []string, faults []hull.Fault) Source {
	out := Source{File: file, Kind: kind, Frames: []Read{}, Layers: []Laid{}, Notes: append([]string{}, notes...), Faults: []Fault{}}
	if p != nil {
		out.Title, out.Bow = p.Title, string(p.Hull.Bow)
		out.Upper, out.Lower = p.Hull.Limits.Upper, p.Hull.Limits.Lower
		for _, f := range p.Hull.Frames {
			out.Frames = append(out.Frames, Read{f.Name, tidy(f.X()), len(f.Points), len(f.Knuckles)})
		}
		for _, l := range p.Layers {
			s := l.Stock
			out.Layers = append(out.Layers, Laid{tidy(s.Width), tidy(s.Thickness), tidy(s.Length), s.Species, string(l.Edges), tidy(l.Creep), len(l.Bands)})
		}
	}
	for _, f := range faults {
		out.Faults = append(out.Faults, Fault{f.Line, f.Frame, f.Error()})
	}
	return out
}

// kinds are the kinds of file, in words.
var kinds = map[hull.Kind]string{
	hull.PlanFile: "a plan", hull.Points: "a table of points", hull.Offsets: "a table of offsets",
	hull.Girths: "measured girths",
	hull.SVG:    "a drawing of the frames (SVG)", hull.DXF: "a drawing of the frames (DXF)",
}

// Text writes what was read, without the faults, which are messages.
func (a Source) Text(w io.Writer) error {
	p := &page{w: w}
	what, read := kinds[hull.Kind(a.Kind)]
	if !read {
		what = "nothing of it could be read"
	}
	if a.Title != "" {
		what += " of " + a.Title
	}
	p.line("%s: %s", a.File, what)
	if len(a.Frames) > 0 {
		p.line("%d frames from the %s down to the %s; the bow lies %s.", len(a.Frames), a.Upper, a.Lower, a.Bow)
		t := table{head: []string{"frame", "x", "points", "knuckles"}}
		for _, f := range a.Frames {
			t.rows = append(t.rows, []string{f.Frame, mm(f.X), strconv.Itoa(f.Points), strconv.Itoa(f.Knuckles)})
		}
		p.table(t)
	}
	for i, l := range a.Layers {
		p.gap()
		wood := l.Species
		if wood != "" {
			wood = " " + wood
		}
		p.line("Layer %d: strips %s x %s x %s mm%s, %s edges, creep %s mm a strip, bands: %d.", i+1,
			short(l.Width), short(l.Thickness), short(l.Length), wood, l.Edges, short(l.Creep), l.Bands)
	}
	p.list("Notes", a.Notes)
	p.gap()
	p.line("%s", count(len(a.Faults), "fault"))
	return p.err
}

// short is a number in as few digits as it needs.
func short(x float64) string { return decimals(x, -1) }

// count is a number with what it counts, as "no faults", "1 fault", "2 faults".
func count(n int, thing string) string {
	switch n {
	case 0:
		return "no " + thing + "s"
	case 1:
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
