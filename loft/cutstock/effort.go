package cutstock

import (
	"context"

	"github.com/strakewright/strakewright/assets/tongue"
)

// stopped returns an error that wraps the context's own if the work in hand must stop;
// nil while it may go on.
//
//tongue:says 1
func stopped(ctx context.Context, what string) error {
	if err := ctx.Err(); err != nil {
		return tongue.Errorf("%s was stopped: %w", tongue.T(what), err)
	}
	return nil
}

// effort is the number of steps that a search may still take, and the context that ends
// it earlier.
type effort struct {
	ctx  context.Context
	left int
}

// use takes a number of steps.
func (e *effort) use(steps int) { e.left -= steps }

// spent reports whether the search must end.
func (e *effort) spent() bool { return e.left <= 0 || e.ctx.Err() != nil }
