// Package apptest holds plans and hulls that tests of several rooms open: a hull known from
// the literature, one of which only the girths are known, and invented ones by formulas,
// given and random.
package apptest
