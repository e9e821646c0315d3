package nest

import (
	"context"

	"github.com/strakewright/strakewright/assets/tongue"
)

// stopped tells that the laying is to go no further, as an error that wraps the
// context's own; nil while it may go on.
func stopped(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return tongue.Errorf("the laying on sheets was stopped: %w", err)
	}
	return nil
}

// effort is how many steps of about a nanosecond a search may yet take, and the
// context that ends it before.
type effort struct {
	ctx  context.Context
	left int
}

// use takes so many steps.
func (e *effort) use(steps int) { e.left -= steps }

// spent tells whether the search is to end.
func (e *effort) spent() bool {
	if e.left > 0 && e.ctx.Err() != nil {
		e.left = 0
	}
	return e.left <= 0
}
