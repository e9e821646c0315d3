package app

import (
	"context"

	"github.com/strakewright/strakewright/hull"
)

// FromHull opens a new plan of a hull that is in no file, such as one that has
// been traced: it counts as changed until it is saved, and is autosaved. The
// error says why the hull cannot be lofted or planked, or wraps the context's
// if that ends first.
func FromHull(ctx context.Context, title string, h hull.Hull) (*Session, error) {
	s, err := startContext(ctx, hull.NewPlan(title, h), "", title, fingerprint{})
	if err != nil {
		return nil, err
	}
	s.saved = nil
	s.keep()
	return s, nil
}
