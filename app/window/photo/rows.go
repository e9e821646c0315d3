package photo

import (
	"fmt"
	"slices"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/loft/sight"
)

// group is what is marked together.
type group int

// The groups, in the order in which they are marked.
const (
	ends  group = iota // of frames, at the limits
	laid               // seams between strakes that lie
	edges              // of what is left
	groups
)

var groupNames = [groups]string{tongue.Mark("ends of the frames"), tongue.Mark("seams already laid"), tongue.Mark("edges of what is left")}

// row is something that can be marked.
type row struct {
	group group
	known sight.Known // of ends and seams
	edge  sight.Edge  // of edges
	frame string
}

// id tells rows apart, whatever becomes of the plan meanwhile.
func (r *row) id(strake string) string {
	return fmt.Sprint(r.group, r.known.What, r.edge.Of, strake, " ", r.frame)
}

// marked is a row as it is marked.
type marked struct {
	row
	mark    sight.Mark
	snapped bool
	face    sight.Face
}

// offered are all rows of the band at hand, in the order in which they are offered:
// along the upper limit, along the rabbet, seam by seam, and along the edges.
func (p *photo) offered() []row {
	l := p.layer()
	var out []row
	first, last := l.Surface.Planked()
	add := func(r row) {
		for f := first; f <= last; f++ {
			r.known.Frame, r.edge.Frame, r.frame = f, f, l.Surface.FrameName(f)
			if r.group != laid || l.Strakes[r.known.Strake].At[f].Laid {
				out = append(out, r)
			}
		}
	}
	add(row{group: ends, known: sight.Known{What: sight.UpperLimit}})
	add(row{group: ends, known: sight.Known{What: sight.Rabbet}})
	for _, s := range p.states() {
		for _, id := range s.Laid {
			add(row{group: laid, known: sight.Known{What: sight.SeamBelow, Strake: l.StrakeNamed(id)}})
		}
	}
	add(row{group: edges, edge: sight.Edge{Of: sight.Above}})
	add(row{group: edges, edge: sight.Edge{Of: sight.Below}})
	return out
}

// key tells a row apart.
func (p *photo) key(r *row) string {
	if r.group == laid {
		return r.id(p.layer().Strakes[r.known.Strake].ID)
	}
	return r.id("")
}

// name is what a row is called.
func (p *photo) name(r *row) string {
	switch {
	case r.group != edges:
		return answer.KnownPlace(p.main.Planking(), p.layerAt, r.known, p.main.Units)
	case r.edge.Of == sight.Above:
		return tongue.T("edge above the gap at frame %s", r.frame)
	}
	return tongue.T("edge below the gap at frame %s", r.frame)
}

// marks are all marks, as they are read, and the rows of the known places among them.
func (p *photo) marks() (m sight.Marks, known []string) {
	w, h := p.pic.Size()
	m.Picture = sight.Picture{Width: float64(w), Height: float64(h), Cropped: p.cropped}
	for _, r := range p.rows {
		k := p.key(&r)
		x, ok := p.set[k]
		switch {
		case !ok:
		case r.group == edges:
			r.edge.Mark, r.edge.Face = x.mark, x.face
			m.Edges = append(m.Edges, r.edge)
		default:
			r.known.Mark, r.known.Face = x.mark, x.face
			m.Known = append(m.Known, r.known)
			known = append(known, k)
		}
	}
	return m, known
}

// shown are the rows of the group at hand, as indices.
func (p *photo) shown() []int {
	var out []int
	for i := range p.rows {
		if p.rows[i].group == p.group {
			out = append(out, i)
		}
	}
	return out
}

// next goes on to the next row of the group that is not marked yet, or with any to the
// next at all; it stays where there is none.
func (p *photo) next(any bool) {
	list := p.shown()
	at := slices.Index(list, p.at)
	for i := at + 1; i < len(list); i++ {
		if _, ok := p.set[p.key(&p.rows[list[i]])]; any || !ok {
			p.at = list[i]
			return
		}
	}
}

// take takes a group in hand, at the first row of it that is not marked.
func (p *photo) take(g group) {
	p.group, p.at = g, -1
	if p.next(false); p.at < 0 {
		p.next(true)
	}
	p.changed()
}
