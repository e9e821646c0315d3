// Package halt provides the one error with which long work ends before it is done.
package halt
