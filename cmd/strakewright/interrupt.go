package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// interruptible gives a context that ends when the user or the system asks the
// program to stop, and what lets go of their signals again.
func interruptible() (context.Context, context.CancelFunc) {
	return signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
}
