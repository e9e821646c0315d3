// Package quote fills the pages of the book with what the program says, so that the two
// cannot disagree. A page's source is Markdown; a line that begins with %% is an
// instruction, and what stands between double braces is an answer:
//
//	%% run take-off measured.csv -o first.strakeplan
//	%% show check first.strakeplan | /frame/ /^$/
//	%% set forced.strakeplan = first.strakeplan layers/0/creep 0
//	%% save forced.strakeplan
//	%% picture profile | The profile. | forced.strakeplan --panes profile
//	%% drawn sheet tick-strips | A tick strip. | forced.strakeplan tick-strips-layer-1
//	Frame 8 has a girth of {{girths first.strakeplan -> frames/frame=8/girth %.1f}} mm,
//	and {{strakes first.strakeplan -> /1\.02: ([^(]*)/}}.
//
// run runs a command of the program, and show does so and quotes what it prints, all of
// it or the lines from one that matches an expression to one that matches another. set
// makes a plan of another with one thing in its file changed, for what is dragged in the
// window, and save keeps a plan beside the book. picture is a command of that name, and
// drawn a drawing that whoever makes the pictures knows. An answer is a place in the JSON
// that a command gives, with a format of fmt, or what an expression matches in its text:
// its first group.
package quote
