package answer

import (
	"io"
	"slices"
	"strconv"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/fault"
	"github.com/strakewright/strakewright/hull/source"
)

// Source is the answer of the command check: what was read of a plan or hull
// source and every fault found in it.
type Source struct {
	File   string   `json:"file"`
	Kind   string   `json:"kind"` // one of source.Kind; empty where nothing could be read
	Title  string   `json:"title"`
	Bow    string   `json:"bow"` // "first" or "last": which frame lies foremost
	Upper  string   `json:"upper"`
	Lower  string   `json:"lower"`
	From   string   `json:"from"` // the frames between which the hull is planked
	To     string   `json:"to"`
	Frames []Read   `json:"frames"`
	Layers []Laid   `json:"layers"` // of a plan
	Notes  []string `json:"notes"`  // what the builder should know of a source
	Faults []Fault  `json:"faults"`
	// Misfits are those of the frames, where they were asked for.
	Misfits []Misfit `json:"misfits"`
}

// Read is a frame as read.
type Read struct {
	Frame    string  `json:"frame"`
	X        float64 `json:"x"`
	Points   int     `json:"points"` // 0 where only its girth is known
	Knuckles int     `json:"knuckles"`
	Cant     float64 `json:"cant_deg"` // off square, seen from above; positive where x rises outwards
	Rake     float64 `json:"rake_deg"` // off upright, seen from the side; positive where x rises upwards
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
// source.Kind, or empty. The plan may be as far as it could be read, or nil where nothing could.
func SourceOf(file, kind string, p *hull.Plan, notes []string, faults []fault.Fault) Source {
	out := Source{File: file, Kind: kind, Frames: []Read{}, Layers: []Laid{}, Notes: append([]string{}, notes...), Faults: []Fault{}, Misfits: []Misfit{}}
	if p != nil {
		out.Title, out.Bow = p.Title, string(p.Hull.Bow)
		out.Upper, out.Lower = p.Hull.Limits.Upper, p.Hull.Limits.Lower
		for i, f := range p.Hull.Frames {
			r := Read{Frame: f.Name, X: tidy(f.X()), Points: measured(&p.Hull, i), Knuckles: len(f.Knuckles)}
			if plane, ok := f.Plane(); ok {
				r.Cant, r.Rake = tidy(plane.Cant.Degrees()), tidy(plane.Rake.Degrees())
			}
			out.Frames = append(out.Frames, r)
		}
		if n := len(p.Hull.Frames); n > 0 {
			from, to := p.Hull.Planked()
			out.From, out.To = p.Hull.Frames[from].Name, p.Hull.Frames[to].Name
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
var kinds = map[source.Kind]string{
	source.PlanFile: tongue.Mark("a plan"), source.Points: tongue.Mark("a table of points"), source.Offsets: tongue.Mark("a table of offsets"),
	source.Girths: tongue.Mark("measured girths"), source.List: tongue.Mark("a list of points"), source.PDF: tongue.Mark("a drawing (PDF)"),
	source.Mesh: tongue.Mark("a mesh of the hull"),
	source.SVG:  tongue.Mark("a drawing (SVG)"), source.DXF: tongue.Mark("a drawing (DXF)"),
}

// Text writes what was read, without the faults, which are messages.
func (a Source) Text(w io.Writer) error {
	p := &page{w: w}
	what, read := kinds[source.Kind(a.Kind)]
	if !read {
		what = tongue.Mark("none of it could be read")
	}
	what = tongue.T(what)
	if a.Title != "" {
		what += tongue.In("title", " of %s", a.Title)
	}
	p.line("%s: %s", a.File, what)
	if len(a.Frames) > 0 {
		if a.Bow == string(hull.BowLast) {
			p.line("%d frames from the %s down to the %s; the bow lies last.", len(a.Frames), hull.LimitWord(a.Upper), hull.LimitWord(a.Lower))
		} else {
			p.line("%d frames from the %s down to the %s; the bow lies first.", len(a.Frames), hull.LimitWord(a.Upper), hull.LimitWord(a.Lower))
		}
		if n := len(a.Frames); a.From != a.Frames[0].Frame || a.To != a.Frames[n-1].Frame {
			p.line("Planked from frame %s to frame %s.", a.From, a.To)
		}
		p.table(a.frameTable())
	}
	for i, l := range a.Layers {
		p.gap()
		wood := l.Species
		if wood != "" {
			wood = " " + wood
		}
		size := short(l.Width) + " x " + short(l.Thickness) + " x " + short(l.Length)
		if l.Edges == string(hull.Square) {
			p.line("Layer %d: strips %s mm%s, square edges, build-up %s mm per strip, bands: %d.", i+1, size, wood, short(l.Creep), l.Bands)
		} else {
			p.line("Layer %d: strips %s mm%s, bevelled edges, build-up %s mm per strip, bands: %d.", i+1, size, wood, short(l.Creep), l.Bands)
		}
	}
	p.misfits(a.Misfits)
	p.list(tongue.T("Notes"), a.Notes)
	p.gap()
	p.line("%s", counted(len(a.Faults), "no faults", "%d fault", "%d faults"))
	return p.err
}

// frameTable lists the frames; those off square with their angles, in degrees.
func (a Source) frameTable() table {
	t := table{head: heads("frame", "x", "points", "knuckles")}
	off := slices.ContainsFunc(a.Frames, func(f Read) bool { return f.Cant != 0 || f.Rake != 0 })
	if off {
		t.head = append(t.head, tongue.T("cant°"), tongue.T("rake°"))
	}
	for _, f := range a.Frames {
		row := []string{f.Frame, mm(f.X), points(f.Points), strconv.Itoa(f.Knuckles)}
		if off {
			row = append(row, decimals(f.Cant, 2), decimals(f.Rake, 2))
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// short is a number in as few digits as it needs.
func short(x float64) string { return decimals(x, -1) }
