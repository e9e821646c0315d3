// Package windowtest holds what tests of several parts of the window need: a desk
// in a window of Fyne's test driver, and hands for mouse and keys.
package windowtest
