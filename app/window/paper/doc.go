// Package paper is the dialog in which full-size paper for the bench is chosen,
// looked at and written.
package paper
