// Package window is the program's window: the drawings of a planking over the table
// of its strakes, with a panel beside them in which it is set. It holds no results:
// everything is drawn from the session's planking.
//
// It puts its rooms together: what all of them share is a desk.Desk; boards draws,
// settings and bench are the panel, stock the wood; paper, fairing and tracing open
// by themselves. What stays here is the window itself (window.go, its panel.go and
// table.go), how it opens files (open.go) and ends (ending.go), how it starts lean
// (lean.go), and what it tells tests (probe.go, painted.go).
package window
