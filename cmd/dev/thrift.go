package main

import "strings"

// A build starts hundreds of compilers, each for a second or so. Left to themselves they
// spend a quarter of it on looking for memory that they could use again, and the linter
// half of its time. The limits are where they begin to look for it all the same, so that a
// small machine has room for one on each core.
var (
	thriftyTools = []string{"GOGC=off", "GOMEMLIMIT=1GiB"}
	thriftyLint  = []string{"GOGC=400", "GOMEMLIMIT=4GiB"}
)

// thriftyFlags are the flags of the go command that a user has set, and one by which env(1)
// starts its compilers and linkers with thriftyTools. The tests, some of which measure
// memory, are not among these. The flags stay as they are where there is no such program,
// and where the user has the tools started in a way of their own.
func thriftyFlags(system, users string) string {
	if system == "windows" || strings.Contains(users, "-toolexec") {
		return users
	}
	return strings.TrimSpace(users + " '-toolexec=env " + strings.Join(thriftyTools, " ") + "'")
}
