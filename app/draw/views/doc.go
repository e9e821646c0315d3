// Package views makes the drawings of a planked hull that the window shows, the profile, the body plan
// and the gauge strip among them, and says what can be dragged or chosen at a point of each. It
// computes nothing about the planking itself and knows no window: a view is asked for its drawing, and
// then for what lies at a point of it.
package views
