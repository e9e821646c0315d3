package app

import (
	"context"
	"errors"
	"io/fs"
	"slices"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/keep"
	"github.com/strakewright/strakewright/loft"
	"github.com/strakewright/strakewright/loft/progress"
)

// BuilderExtension is the extension offered for a builder's own file.
const BuilderExtension = ".strakebuilds"

// errNothingLearned is returned if a plan's record teaches nothing yet.
var errNothingLearned = tongue.New("nothing has been measured at the bench yet, so there is nothing to learn from: note what is left of a band first")

// LearnInto puts what a plan's record has taught into the builder's own file at a path, which is made
// if it does not exist. What the same build taught before is replaced, and what the plan has from
// other builds is left out. Nobody else writes the file meanwhile, and it is written whole or not at
// all. lost are sentences on what could not be kept of the old file; waiting is called if another
// program holds the file for longer than a moment.
func LearnInto(ctx context.Context, path string, waiting func(), k *loft.Planking) (taught []hull.Spread, lost []string, err error) {
	taught, err = progress.Learned(alone(k))
	if err != nil {
		return nil, nil, err
	}
	if len(taught) == 0 {
		return nil, nil, errNothingLearned
	}
	release, err := holdTelling(ctx, path, waiting)
	if err != nil {
		return nil, nil, err
	}
	defer release()
	b, err := hull.OpenBuilder(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		b = &hull.Builder{}
	case err != nil:
		return nil, nil, err
	}
	for _, s := range taught {
		b.Learn(k.Plan.Title, k.Plan.Hull.Mark(), s)
	}
	lost, err = keep.ReplaceFileTold(path, b.Write)
	return taught, lost, err
}

// alone is a planking without what other builds taught it: otherwise what it
// teaches would count theirs again.
func alone(k *loft.Planking) *loft.Planking {
	p := *k.Plan
	p.Record.Spreads = nil
	return &loft.Planking{Plan: &p, Layers: k.Layers}
}

// TakeSpreads takes from a builder's own file, read from the path, how far the work
// with the woods and strips of the plan's layers strays, and puts it into the record
// as one step to undo. The error says if none of its builds applies.
func (s *Session) TakeSpreads(b *hull.Builder, path string) (taken []hull.Spread, err error) {
	err = s.keepNow(tongue.T("take what other builds taught"), func(p *hull.Plan) error {
		taken = nil
		for _, l := range p.Layers {
			of, ok := progress.FromBuilds(b, l.Stock)
			if ok && !slices.ContainsFunc(taken, func(t hull.Spread) bool { return t.Of(l.Stock) }) {
				taken = append(taken, of)
			}
		}
		if len(taken) == 0 {
			return tongue.Errorf("%s has no build with the wood of this plan", path)
		}
		kept := slices.DeleteFunc(slices.Clone(p.Record.Spreads), func(old hull.Spread) bool {
			return slices.ContainsFunc(taken, func(t hull.Spread) bool { return t.Of(old.Strips()) })
		})
		p.Record.Spreads = append(kept, taken...)
		return nil
	})
	if errors.Is(err, ErrNotKept) || len(taken) == 0 {
		return nil, err
	}
	return taken, err
}
