// Package apptest holds plans that tests of several rooms open: a hull known from
// the literature, and one of which only the girths are known.
package apptest
