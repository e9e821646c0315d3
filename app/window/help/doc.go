// Package help is the program's handbook on the screen: a page for each task, from
// Markdown files of which each holds one, a search in them, and the pane that shows them
// beside the work.
package help
