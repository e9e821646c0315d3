// Package views makes the drawings of a planked hull that the window shows, the
// profile, the body plan and the gauge strip among them, and tells what can be
// taken hold of or chosen at a point of each. It computes nothing of the planking itself and knows no window: a view is asked
// for its drawing, and then what lies at a point of it.
package views
