// Package bench is the panel for the work at the bench: what was done to a strake
// and measured, what follows for the rest, how a strake is laid step by step, in
// which order, and the record day by day.
package bench
