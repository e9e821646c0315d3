// Package window is the program's window, a drawing board on which the planking
// is looked at and changed: the profile over the gauge strip on one axis, the
// body plan, the lofted hull and the strake table, with a panel of what can be
// set. It holds no results: everything is drawn from the session's planking.
//
// How it is split: desk.go keeps what all views share (session, choice, units)
// and tells them of changes; board.go is the custom widget that a view draws
// on, with its mouse.go, keys.go and render.go; profile.go, gauge.go, body.go
// and hullview.go are the views; table.go the strake table; panel*.go the
// panel; edits.go the changes to a plan, each a pure function; files.go and
// help.go the dialogs.
package window
