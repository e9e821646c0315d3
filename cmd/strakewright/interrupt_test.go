package main

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

func TestUnlessStoppedGivesTheAnswer(t *testing.T) {
	fault := errors.New("a fault")
	got, err := unlessStopped(t.Context(), func() (int, error) { return 7, fault })
	assert.Equal(t, 7, got)
	assert.Equal(t, fault, err)
}

// TestUnlessStoppedWaitsForNoWork: work that never looks at its context, and that
// goes on here until all is asserted, does not hold the program up.
func TestUnlessStoppedWaitsForNoWork(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	begun, finish, finished := make(chan struct{}), make(chan struct{}), make(chan struct{})
	go func() {
		<-begun
		stop()
	}()
	got, err := unlessStopped(ctx, func() (int, error) {
		defer close(finished)
		close(begun)
		<-finish
		return 7, nil
	})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Zero(t, got)
	close(finish)
	<-finished
}

// Work that cannot tell how far it is says that it goes on, and is left when it is
// stopped, though it never looks.
func TestWorkThatGoesOnSaysSo(t *testing.T) {
	ticks := make(chan time.Time)
	ctx, stop := context.WithCancel(t.Context())
	said := 0
	left := make(chan struct{})
	defer close(left)
	go func() {
		ticks <- time.Time{}
		ticks <- time.Time{}
		stop()
	}()
	_, err := meanwhile(ctx, ticks, func() { said++ }, func() (int, error) {
		<-left
		return 0, nil
	})
	assert.ErrorIs(t, err, context.Canceled)
	assert.Equal(t, 2, said)
}
