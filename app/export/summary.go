package export

import (
	"context"
	"math"
	"strconv"

	"github.com/strakewright/strakewright/app/answer"
	"github.com/strakewright/strakewright/app/tables"
	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// summary says on one page of the booklet what is planked, and with what.
func summary(k *loft.Planking, s Settings, cuts []*loft.CuttingPlan, marched [][]string) []string {
	frames := k.Plan.Hull.Frames
	limits := k.Plan.Hull.Limits
	out := []string{tongue.T("%d frames, from %s to %s, planked from the %s down to the %s. Both sides are alike: each sheet is for both.",
		len(frames), frames[0].Name, frames[len(frames)-1].Name, hull.LimitWord(limits.Upper), hull.LimitWord(limits.Lower))}
	if first, last := k.Plan.Hull.Planked(); first > 0 || last < len(frames)-1 {
		out = append(out, tongue.T("Strakes run only from frame %s to %s; filler blocks fill the rest.", frames[first].Name, frames[last].Name))
	}
	for _, l := range k.Layers {
		if s.Layer == 0 || s.Layer == l.Number {
			out = append(out, "")
			out = append(out, layerSummary(k, l, cuts[l.Number-1])...)
			out = append(out, marched[l.Number-1]...)
		}
	}
	if k.Plan.Hull.Shapeless() {
		out = append(out, "", tongue.T("The numbering map, flat strakes, bending card and filler blocks need the hull's shape, so this set leaves them out."))
	}
	out = append(out, "", tongue.T("Every strake is cut %s mm longer at its free end, to hold it by.", short(s.Overhang)))
	if s.BarX != bar || s.BarY != bar {
		out = append(out, tongue.T("These pages are corrected for a printer whose 100 mm bar measured %s mm across the paper and %s mm along it.", short(s.BarX), short(s.BarY)))
	}
	return out
}

func layerSummary(k *loft.Planking, l *loft.Layer, cuts *loft.CuttingPlan) []string {
	stock, edges := k.Plan.Layers[l.Number-1].Stock, k.Plan.Layers[l.Number-1].Edges
	species := stock.Species
	if species != "" {
		species = ", " + species
	}
	girth := l.Girths[l.Greatest()]
	out := []string{
		tongue.T("Layer %d: strips %s x %s x %s mm%s, %s edges.", l.Number, short(stock.Width), short(stock.Thickness), short(stock.Length), species, edges),
		tongue.T("Greatest girth %.2f mm; %d strakes a side in %d bands; %d wedges and stealers and %d drop strakes a side.",
			girth, len(l.Strakes), len(l.Bands), len(l.Wedges), len(l.Drops)),
	}
	for _, c := range tables.Strips(cuts) {
		out = append(out, tongue.T("For both sides %s.", c.String()))
	}
	if n := tables.Uncut(cuts); n > 0 {
		out = append(out, tongue.T("No strip or sheet is left for %d pieces: your own wood and the suppliers' hold too little.", n))
	}
	wood := answer.CuttingOf(k, l.Number-1, cuts, answer.MM{})
	if wood.Sheets != nil {
		out = append(out, tongue.T("For both sides: %s", wood.Sheets.Advice))
	}
	for _, b := range wood.Blocks {
		out = append(out, b.Tell(answer.MM{}))
	}
	for _, b := range cuts.Breaches {
		out = append(out, answer.BreachText(l, b))
	}
	return append(out, answer.LayerNotes(l, answer.MM{})...)
}

// marchedOut predicts, for every layer, from which strip on whole strips laid side
// by side are forced; nothing for a hull without a shape.
func marchedOut(ctx context.Context, k *loft.Planking) ([][]string, error) {
	out := make([][]string, len(k.Layers))
	if k.Plan.Hull.Shapeless() {
		return out, nil
	}
	for i, l := range k.Layers {
		ways, err := k.March(ctx, i)
		if err != nil {
			return nil, err
		}
		out[i] = []string{tongue.T("Whole strips laid edge to edge:")}
		for n := range ways {
			out[i] = append(out[i], answer.MarchText(k, l, &ways[n], answer.MM{}))
		}
	}
	return out, nil
}

// short is a number in as few digits as it needs, to a hundredth.
func short(v float64) string {
	return tongue.Figure(strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64))
}
