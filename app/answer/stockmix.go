package answer

import (
	"context"
	"fmt"
	"strings"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Mix is the best choice of strips for a band, beside strips of one width.
type Mix struct {
	Layer  int       `json:"layer,omitempty"` // from 1; left out where there is but one
	Band   int       `json:"band"`
	Parts  []MixPart `json:"parts"` // the narrowest first
	Order  []float64 `json:"order"` // the strip of each strake, down
	Shave  float64   `json:"shave_mm2"`
	Fill   float64   `json:"fill_mm2"`
	Alone  MixPart   `json:"alone"` // the best number of the stock's own strips
	Before float64   `json:"alone_mm2"`
	Advice string    `json:"advice"`

	says string // the advice without its band
}

// MixPart is so many strakes of one width.
type MixPart struct {
	Width float64 `json:"width"`
	Count int     `json:"count"`
}

// MixOf finds the best mix of a band (from 0) of a layer, its lengths told in
// units; nil for mm. The error is that of loft.Planking.BestMix.
func MixOf(ctx context.Context, k *loft.Planking, layer, band int, widths []float64, u Units) (Mix, error) {
	if u == nil {
		u = MM{}
	}
	m, err := k.BestMix(ctx, layer, band, widths)
	if err != nil {
		return Mix{}, err
	}
	alone, err := k.BestMix(ctx, layer, band, []float64{k.Plan.Layers[layer].Stock.Width})
	if err != nil {
		return Mix{}, err
	}
	out := Mix{Layer: layerKey(k, k.Layers[layer]), Band: band + 1, Parts: []MixPart{}, Order: append([]float64{}, m.Order...),
		Shave: tidy(m.Shave), Fill: tidy(m.Fill), Before: tidy(alone.Shave + alone.Fill)}
	for _, p := range m.Parts {
		out.Parts = append(out.Parts, MixPart(p))
	}
	out.Alone = MixPart(alone.Parts[0])
	out.says = out.advise(u)
	out.Advice = tongue.T("Band %d: %s", out.Band, out.says)
	return out, nil
}

// Tell names the strips of the mix, as "7 of 5 mm and 2 of 6 mm".
func (m Mix) Tell(u Units) string {
	var out []string
	for _, p := range m.Parts {
		out = append(out, tongue.T("%d of %s", p.Count, u.Length(p.Width)))
	}
	return andList(out)
}

// advise says what the mix leaves to do, against strips of one width.
func (m Mix) advise(u Units) string {
	text := tongue.T("%s leave %s to shave and %s to fill on one side, against %s with %d of %s alone",
		m.Tell(u), u.Area(m.Shave), u.Area(m.Fill), u.Area(m.Before), m.Alone.Count, u.Length(m.Alone.Width))
	if len(m.Parts) > 1 {
		text += tongue.T("; lay the wider ones where the frame is flattest: strakes %s", m.widest())
	}
	return text + "."
}

// widest lists the strakes that take the widest strip, counted down the band.
func (m Mix) widest() string {
	wide := m.Parts[len(m.Parts)-1].Width
	var out []string
	for i := 0; i < len(m.Order); i++ {
		if m.Order[i] != wide {
			continue
		}
		j := i
		for j+1 < len(m.Order) && m.Order[j+1] == wide {
			j++
		}
		if j > i {
			out = append(out, tongue.T("%d to %d", i+1, j+1))
		} else {
			out = append(out, fmt.Sprint(i+1))
		}
		i = j
	}
	return strings.Join(out, ", ")
}

// LayMix is the change to a plan that lays a mix in a band.
func LayMix(l *hull.Layer, m Mix) {
	b := &l.Bands[m.Band-1]
	b.Strakes = len(m.Order)
	b.Strips = append([]float64{}, m.Order...)
	b.Weights = nil
}

func (m Mix) text(p *page) {
	p.gap()
	text := m.Advice
	if m.Layer > 0 {
		text = tongue.T("Layer %d, band %d: %s", m.Layer, m.Band, m.says)
	}
	p.line("%s", text)
	p.line("Strips from the upper limit down: %s.", joined(m.Order, func(w float64) string { return decimals(w, -1) }))
}
