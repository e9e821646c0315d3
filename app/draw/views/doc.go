// Package views makes the drawings of a planking: the profile, the body plan
// and the gauge strip, with what can be taken hold of or chosen on them. It
// computes nothing of the planking itself and knows no window: a view is asked
// for its drawing, and then what lies at a point of it.
package views
