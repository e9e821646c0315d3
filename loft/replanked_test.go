package loft

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft/internal/bodies"
)

// TestAnyReplankIsPlank: through any sequence of changes, what is reused from the
// previous planking equals, to the last digit, what would be computed afresh.
func TestAnyReplankIsPlank(t *testing.T) {
	hulls := [][]hull.Frame{bodies.Wigley(800, 9, 9), bodies.Boxy(8)}
	rapid.Check(t, func(t *rapid.T) {
		frames := rapid.SampledFrom(hulls).Draw(t, "hull")
		p := anyPlan(t, frames)
		p.Layers = append(p.Layers, anyPlan(t, frames).Layers...)
		for i := range p.Layers {
			p.Layers[i].Stock.Thickness = min(p.Layers[i].Stock.Thickness, 0.5)
		}
		k, err := Plank(p)
		if err != nil {
			t.Skip(err)
		}
		for range 4 {
			q := k.Plan.Clone()
			anyChange(t, q)
			afresh, err := Plank(q)
			if err != nil {
				continue
			}
			again, err := k.Replank(q)
			if err != nil {
				t.Fatalf("Plank takes it, Replank not: %v", err)
			}
			if at := unlike(reflect.ValueOf(afresh.Layers), reflect.ValueOf(again.Layers), "layers"); at != "" {
				t.Fatalf("Replank differs from Plank at %s", at)
			}
			k = again
		}
	})
}

// anyChange makes one of the changes to a plan that a builder makes.
func anyChange(t *rapid.T, p *hull.Plan) {
	l := &p.Layers[rapid.IntRange(0, len(p.Layers)-1).Draw(t, "layer")]
	band := rapid.IntRange(0, len(l.Bands)-1).Draw(t, "band")
	switch what := rapid.IntRange(0, 9).Draw(t, "change"); {
	case what == 0:
		l.Stock.Width *= 1.1
	case what == 1:
		l.Stock.Thickness *= 0.9
	case what == 2:
		l.Creep = rapid.Float64Range(0, 0.2).Draw(t, "creep")
	case what == 3:
		l.Bands[band].Strakes = rapid.IntRange(0, 30).Draw(t, "strakes")
	case what == 7:
		l.Stock.Species = rapid.SampledFrom([]string{"", "balsa", "birch"}).Draw(t, "species")
	case what == 8:
		l.Bands[band].Modes = rapid.SliceOfN(rapid.SampledFrom([]hull.Mode{"", hull.Sprung, hull.Spiled, hull.Block}), 0, 9).Draw(t, "modes")
	case len(l.Lines) == 0:
	case what == 4:
		b := &l.Lines[rapid.IntRange(0, len(l.Lines)-1).Draw(t, "line")]
		b.LineType = rapid.SampledFrom([]hull.LineType{hull.Drawn, hull.Free, hull.Least}).Draw(t, "manner")
	case what == 9:
		b := &l.Lines[rapid.IntRange(0, len(l.Lines)-1).Draw(t, "line")]
		b.Follows = rapid.SampledFrom([]hull.Follows{hull.ThinBatten, hull.StripItself}).Draw(t, "follows")
	default:
		b := &l.Lines[rapid.IntRange(0, len(l.Lines)-1).Draw(t, "line")]
		b.Handles[rapid.IntRange(0, len(b.Handles)-1).Draw(t, "handle")].Down += rapid.Float64Range(-3, 3).Draw(t, "by")
	}
}

// unlike gives where two values of one type differ, empty if nowhere. NaN equals NaN;
// surfaces, whose girths are among the values, are skipped.
func unlike(a, b reflect.Value, at string) string {
	switch a.Kind() {
	case reflect.Float64:
		if x, y := a.Float(), b.Float(); x != y && !(math.IsNaN(x) && math.IsNaN(y)) {
			return fmt.Sprintf("%s: %v and %v", at, x, y)
		}
		return ""
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() || a.Pointer() == b.Pointer() {
			if a.IsNil() != b.IsNil() {
				return at
			}
			return ""
		}
		return unlike(a.Elem(), b.Elem(), at)
	case reflect.Interface:
		if a.Elem().Type() != b.Elem().Type() {
			return fmt.Sprintf("%s: %s and %s", at, a.Elem().Type(), b.Elem().Type())
		}
		return unlike(a.Elem(), b.Elem(), at)
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return fmt.Sprintf("%s: %d and %d", at, a.Len(), b.Len())
		}
		for i := range a.Len() {
			if found := unlike(a.Index(i), b.Index(i), fmt.Sprintf("%s[%d]", at, i)); found != "" {
				return found
			}
		}
		return ""
	case reflect.Struct:
		for i := range a.NumField() {
			if a.Field(i).Type() == reflect.TypeFor[*Surface]() {
				continue
			}
			if found := unlike(a.Field(i), b.Field(i), at+"."+a.Type().Field(i).Name); found != "" {
				return found
			}
		}
		return ""
	}
	if !a.Equal(b) {
		return fmt.Sprintf("%s: %v and %v", at, a, b)
	}
	return ""
}
