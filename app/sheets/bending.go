package sheets

import (
	"fmt"
	"strings"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/draw"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// bendingCard tells how each strake of a layer is bent: its least radius and
// where, the strain there, its twist, and over which frames a strip goes on
// dry, soaked or heated. There must be such a layer.
func bendingCard(k *loft.Planking, layer int, s Settings) []draw.Sheet {
	l := k.Layers[layer-1]
	name := l.Surface.FrameName
	thickness := k.Plan.Layers[layer-1].Stock.Thickness
	t := &table{
		title: tongue.T("Bending, layer %d, strips %g mm thick, both sides", layer, thickness),
		columns: []column{
			{head: tongue.T("strake")}, {head: tongue.T("least radius mm"), number: true}, {head: tongue.T("near frame")}, {head: tongue.T("strain %"), number: true}, {head: tongue.T("round, mm"), number: true},
			{head: tongue.T("twist in all °"), number: true}, {head: tongue.T("most in 100 mm °"), number: true}, {head: tongue.T("how, and over which frames"), loose: true},
		},
	}
	for _, st := range l.Strakes {
		if st.To <= st.From {
			continue
		}
		b := l.BendOf(st)
		radius := tongue.T("flat")
		if b.Radius > 0 {
			radius = figure("%.0f", b.Radius)
		}
		guess := ""
		if b.Guessed() {
			guess = "?"
		}
		spans := bendNotes(l, st)
		for _, frame := range b.Untold {
			spans = append(spans, tongue.T("not known at %s: measure there", name(frame)))
		}
		for _, p := range b.Spans {
			if st.Making.Mode == hull.Block {
				break
			}
			spans = append(spans, fmt.Sprintf("%s–%s %s", name(p.From), name(p.To), answer.HowWord(p.How)))
		}
		t.rows = append(t.rows, []string{
			short(b.ID), radius + guess, name(b.Near), figure("%.2f", 100*b.Strain) + guess, formAcross(b) + guess,
			plain("%.1f", b.Twist.Degrees(), 0.05), plain("%.1f", 100*hull.Angle(b.TwistMost).Degrees(), 0.05), strings.Join(spans, "; "),
		})
	}
	t.fit(s.double())
	pieces := []*piece{
		note(tongue.T("Before bending"), tongue.T(bendCaution), s.Column),
		note("", answer.LimitsText(loft.BendingOf(k.Plan, k.Plan.Layers[layer-1].Stock.Species))+" "+tongue.T(bendThumb), s.Column),
		t.piece(),
	}
	return flow(kind{
		section: tongue.T("Bending"),
		name:    fmt.Sprintf("bending-layer-%d", layer),
		title:   tongue.T("Bending card, layer %d", layer),
	}, pieces, s.Room)
}

// formAcross is the diameter of the form under a strake's inner face at its
// tightest bend, to a millimetre.
func formAcross(b loft.Bend) string {
	if b.Form <= 0 {
		return ""
	}
	return figure("%.0f", b.Form)
}

// bendNotes says of a strake that is no strip how it is made.
func bendNotes(l *loft.Layer, st *loft.Strake) []string {
	if st.Making.Mode == hull.Sprung {
		return nil
	}
	return []string{answer.MakingText(st.Making, l.Surface.FrameName)}
}
