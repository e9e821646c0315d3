// Command strakewright plans the planking of a scale wooden ship hull: in a
// window, and from a shell.
//
//	strakewright                              open the window on the welcome page
//	strakewright PLAN                         open it on a plan or a hull source
//	strakewright take-off SOURCE -o PLAN      make a plan of a hull source
//	strakewright strakes PLAN                 print the strake table
//	strakewright --help                       name every command
//
// Every command takes --json. It exits 0 when done, 1 when the input is at
// fault and 2 when the command line is; messages go to standard error.
package main

import "os"

func main() {
	speak()
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}
