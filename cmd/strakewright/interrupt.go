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

// unlessStopped gives the answer of work that writes nothing, or the error of the
// context as soon as that ends. Work that looks at the context ends too; other
// work is left behind, and ends with the program.
func unlessStopped[A any](ctx context.Context, work func() (A, error)) (A, error) {
	type answered struct {
		answer A
		err    error
	}
	done := make(chan answered, 1)
	go func() {
		a, err := work()
		done <- answered{a, err}
	}()
	select {
	case got := <-done:
		return got.answer, got.err
	case <-ctx.Done():
		var none A
		return none, ctx.Err()
	}
}
