package halt

import (
	"context"

	"github.com/strakewright/strakewright/assets/tongue"
)

// Asked returns an error that wraps the context's own if the work in hand must stop;
// nil while it may go on.
//
//tongue:says 1
func Asked(ctx context.Context, what string) error {
	if err := ctx.Err(); err != nil {
		return tongue.Errorf("%s was stopped: %w", tongue.T(what), err)
	}
	return nil
}
