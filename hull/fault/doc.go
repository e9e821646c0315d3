// Package fault says what is wrong with something the builder gave: one sentence that says where it
// is, what is wrong and how to mend it.
//
//	f := fault.List{File: "skiff.csv"}
//	f.Add(3, "B", "give it as 0 or more", "the half-breadth is %s, below zero", fault.Figure(-2))
//	f.Sorted()[0].Error() // skiff.csv, line 3, frame B: the half-breadth is -2, below zero; give it as 0 or more.
//
// Every reader of a file collects its faults in a [List], so that all of them are reported and not
// only the first.
package fault
