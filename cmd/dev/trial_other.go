//go:build !linux

package main

import "errors"

// parseTrial refuses: the trials kill, mount and change users as Linux has it.
func parseTrial([]string) (func(*shop) error, error) {
	return nil, errors.New("trials are made on Linux alone")
}
