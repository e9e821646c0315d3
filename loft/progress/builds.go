package progress

import (
	"math"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// How much two builds of one builder differ, before several have shown it: this counts
// as one build. And how much less certain is what strips of another size of the same
// wood taught. Common practice, no source.
const (
	buildsApart = 0.3           // of the logarithm of a spread
	creepApart  = loft.Likeness // mm a strip
	stripApart  = 0.5           // of the logarithm of a spread, for other strips
	creepStrip  = 0.1           // mm a strip, likewise
)

// FromBuilds is how the work with such strips is expected to vary in a next build, from
// earlier ones in the builder's own file: those with the same wood and strip or else,
// with less certainty, those with other strips of the same wood. ok is false if there
// are none.
//
// Creep is combined by its precision, and each of the spreads by the mean of its
// logarithms, weighted by their certainty; both as random effects, since builds differ
// by more than the uncertainty of each (see acrossBuilds).
func FromBuilds(b *hull.Builder, strips hull.Stock) (taught hull.Spread, ok bool) {
	var same, wood []hull.Spread
	for _, p := range b.Strips {
		for _, x := range p.Builds {
			if x.Taught.Of(strips) {
				same = append(same, x.Taught)
			}
			if strips.Species != "" && hull.SameWood(x.Taught.Species, strips.Species) {
				wood = append(wood, x.Taught)
			}
		}
	}
	switch {
	case len(same) > 0:
		taught = together(same)
	case len(wood) > 0:
		taught = together(wood)
		taught.CreepSD = math.Hypot(taught.CreepSD, creepStrip)
		taught.Sure = math.Hypot(taught.Sure, stripApart)
	default:
		return taught, false
	}
	taught.Species, taught.Width, taught.Thickness = strips.Species, strips.Width, strips.Thickness
	return taught, true
}

// together combines what several builds taught.
func together(builds []hull.Spread) hull.Spread {
	out := hull.Spread{Builds: len(builds)}
	of := func(figure func(hull.Spread) (v, deviation float64), apart float64) (mean, deviation float64) {
		var values, variances []float64
		for _, s := range builds {
			v, d := figure(s)
			values, variances = append(values, v), append(variances, d*d)
		}
		return nextBuild(values, variances, apart)
	}
	out.Creep, out.CreepSD = of(func(s hull.Spread) (float64, float64) { return s.Creep, s.CreepSD }, creepApart)
	sure := 0.0
	into := strays(&out)
	for i := range into {
		mean, deviation := of(func(s hull.Spread) (float64, float64) { return math.Log(*strays(&s)[i]), s.Sure }, buildsApart)
		*into[i] = math.Exp(mean)
		sure += deviation * deviation
	}
	out.Sure = math.Sqrt(sure / float64(len(into))) // one figure for all
	for _, s := range builds {
		out.Readings += s.Readings
	}
	return out
}

// strays are the spreads whose logarithms are combined.
func strays(s *hull.Spread) []*float64 {
	return []*float64{&s.Shape, &s.Frame, &s.Knife, &s.Along, &s.Strake, &s.Reading}
}

// nextBuild is what a next build is expected to find, with its standard deviation: the
// mean over builds is known to some extent, and the next one differs from it as they
// differ from one another. Their difference is combined with the usual one, which
// counts as one build; apart is its standard deviation.
func nextBuild(values, variances []float64, apart float64) (mean, deviation float64) {
	n := float64(len(values))
	between := ((n-1)*acrossBuilds(values, variances) + apart*apart) / n
	mean, variance := weighed(values, variances, between)
	return mean, math.Sqrt(variance + between)
}

// acrossBuilds is the variance between studies of one figure, besides that within each:
// the moment estimate of DerSimonian and Laird, Meta-analysis in clinical trials,
// Controlled Clinical Trials 7, 1986, pages 177 to 188. It is 0 for a single one.
//
//	w = 1/s²,  Q = Σ w·(y − Σwy/Σw)²,  τ² = max(0, (Q − (n−1)) / (Σw − Σw²/Σw))
func acrossBuilds(values, variances []float64) float64 {
	mean, _ := weighed(values, variances, 0)
	q, sum, squares := 0.0, 0.0, 0.0
	for i, v := range values {
		w := 1 / variances[i]
		q += w * (v - mean) * (v - mean)
		sum, squares = sum+w, squares+w*w
	}
	if free := sum - squares/sum; free > 1e-12*sum {
		return max(0, (q-float64(len(values)-1))/free)
	}
	return 0
}

// weighed is the mean of figures weighted by their precision, 1/(s² + τ²), and its
// variance.
func weighed(values, variances []float64, between float64) (mean, variance float64) {
	sum, weight := 0.0, 0.0
	for i, v := range values {
		w := 1 / (variances[i] + between)
		sum, weight = sum+w*v, weight+w
	}
	return sum / weight, 1 / weight
}
