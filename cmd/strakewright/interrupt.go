package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/strakewright/strakewright/assets/tongue"
)

// interruptible gives a context that ends when the user or the system asks the
// program to stop, and what lets go of their signals again.
func (s *streams) interruptible() (context.Context, context.CancelFunc) {
	within := context.Background()
	if s.within != nil {
		within = s.within()
	}
	return signal.NotifyContext(within, os.Interrupt, syscall.SIGTERM)
}

// unlessStopped gives the answer of work that writes nothing, or the error of the
// context as soon as that ends. Work that looks at the context ends too; other
// work is left behind, and ends with the program.
func unlessStopped[A any](ctx context.Context, work func() (A, error)) (A, error) {
	return meanwhile(ctx, nil, nil, work)
}

// meanwhile is unlessStopped that does something at every tick till the work is done.
func meanwhile[A any](ctx context.Context, ticks <-chan time.Time, do func(), work func() (A, error)) (A, error) {
	type answered struct {
		answer A
		err    error
	}
	if err := ctx.Err(); err != nil {
		var none A
		return none, err
	}
	done := make(chan answered, 1)
	go func() {
		a, err := work()
		done <- answered{a, err}
	}()
	for {
		select {
		case got := <-done:
			return got.answer, got.err
		case <-ctx.Done():
			var none A
			return none, ctx.Err()
		case <-ticks:
			do()
		}
	}
}

// working is unlessStopped for work that cannot tell how far it is: every second
// on a terminal, and every ten in a log, it tells what goes on, how long it has, and
// how to stop it.
func working[A any](ctx context.Context, s *streams, what string, work func() (A, error)) (A, error) {
	m := newMeter(s.messages)
	defer m.end()
	every := patience
	if !m.line {
		every *= 10
	}
	clock := time.NewTicker(every)
	defer clock.Stop()
	ticks := 0
	return meanwhile(ctx, clock.C, func() {
		ticks++
		m.write(tongue.T("%s, %.0f s so far; Ctrl+C stops it", what, (time.Duration(ticks) * every).Seconds()))
	}, work)
}
