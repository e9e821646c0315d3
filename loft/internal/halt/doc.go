// Package halt words the one error by which long work ends before it is done.
package halt
