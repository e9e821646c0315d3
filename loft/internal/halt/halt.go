package halt

import (
	"context"
	"fmt"
)

// Asked tells that what was being done is to go no further, as an error that
// wraps the context's own; nil while it may go on.
func Asked(ctx context.Context, what string) error {
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("%s was stopped: %w", what, err)
	}
	return nil
}
