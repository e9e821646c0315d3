package progress

import (
	"slices"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/loft"
)

// Together is the set of strakes of a job's band, still to be cut on its side, that are
// cut like the job's own, which is included: they are clamped together and planed as
// one. Both says that their twins on the other side are cut alike too. It is empty if
// the strake has no cuts.
func (j *Job) Together() (ids []string, both bool) {
	if j.Cuts == nil {
		return nil, false
	}
	done := cutIDs(j.plan.Plan.Record.Of(j.Side))
	var strakes []*loft.Strake
	var on [][]loft.Crossing
	add := func(st *loft.Strake, at []loft.Crossing) {
		if st.ID == j.Strake.ID || !done[st.ID] {
			strakes, on = append(strakes, st), append(on, at)
		}
	}
	if j.rest != nil {
		for _, r := range j.rest {
			add(r.Strake, r.On)
		}
	} else {
		for _, st := range j.Layer.Strakes {
			if st.Band == j.Strake.Band {
				add(st, st.At)
			}
		}
	}
	sets := loft.GatherCuts(strakes, func(i int) *loft.Cuts { return j.Layer.CutsOf(strakes[i], on[i]) })
	for _, st := range loft.SetOf(sets, j.Strake.ID).Strakes {
		ids = append(ids, st.ID)
	}
	return ids, j.twins(ids)
}

// twins reports whether strakes are cut on the other side as on this one: both as
// planned, since on neither side was the band measured or is it to be made to fit, and
// none of them is cut there yet.
func (j *Job) twins(ids []string) bool {
	for _, side := range hull.Sides() {
		entries := j.plan.Plan.Record.Of(side)
		if slices.ContainsFunc(entries, j.reshares) {
			return false
		}
		done := cutIDs(entries)
		if side != j.Side && slices.ContainsFunc(ids, func(id string) bool { return done[id] }) {
			return false
		}
	}
	return true
}

// reshares reports whether an entry makes the strakes of the job's band be shared
// afresh.
func (j *Job) reshares(e hull.Entry) bool {
	if e.EntryKind.OfBand() {
		return e.Layer == j.Layer.Number && e.Band == j.Strake.Band
	}
	if !e.EntryKind.Measures() {
		return false
	}
	if e.EntryKind == hull.BareGirth {
		return e.Layer <= j.Layer.Number // an outer layer lies on the inner ones
	}
	n := j.Layer.StrakeNamed(e.Strake)
	return n >= 0 && j.Layer.Strakes[n].Band == j.Strake.Band
}

// cutIDs are the strakes that are cut on a side, or laid.
func cutIDs(entries []hull.Entry) map[string]bool {
	out := map[string]bool{}
	for _, e := range entries {
		switch e.EntryKind {
		case hull.Cutout, hull.Glued:
			out[e.Strake] = true
		case hull.Removed:
			delete(out, e.Strake)
		}
	}
	return out
}
