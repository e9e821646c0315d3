package nest

import (
	"context"

	"github.com/strakewright/strakewright/assets/tongue"
)

// stopped returns an error that wraps the context's own when the laying must stop; nil
// while it may go on.
func stopped(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return tongue.Errorf("the laying on sheets was stopped: %w", err)
	}
	return nil
}

// effort is the number of steps of about a nanosecond that a search may still take, and
// the context that ends it earlier.
type effort struct {
	ctx  context.Context
	left int
}

// use takes a number of steps.
func (e *effort) use(steps int) { e.left -= steps }

// spent reports whether the search must end.
func (e *effort) spent() bool {
	if e.left > 0 && e.ctx.Err() != nil {
		e.left = 0
	}
	return e.left <= 0
}
