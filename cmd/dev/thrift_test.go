package main

import (
	"os/exec"
	"runtime"
	"strings"
	"testing"
)

func TestThriftyFlagsKeepTheUsers(t *testing.T) {
	const tools = "'-toolexec=env GOGC=off GOMEMLIMIT=1GiB'"
	for _, c := range []struct{ system, users, want string }{
		{"linux", "", tools},
		{"linux", "-mod=mod -p=1", "-mod=mod -p=1 " + tools},
		{"linux", "-toolexec=time", "-toolexec=time"},
		{"windows", "-mod=mod", "-mod=mod"},
	} {
		if got := thriftyFlags(c.system, c.users); got != c.want {
			t.Errorf("%s, %q: %q, want %q", c.system, c.users, got, c.want)
		}
	}
}

// The go command takes the flag in its quotes, and starts its tools as it says.
func TestTheGoCommandStartsItsToolsWithThrift(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("they are started as ever there")
	}
	dir := t.TempDir()
	writeFile(t, dir, "go.mod", "module thrift\n")
	writeFile(t, dir, "a.go", "package thrift\n")
	cmd := exec.Command("go", "build", "-n", ".")
	cmd.Dir, cmd.Env = dir, append(cmd.Environ(), "GOFLAGS="+thriftyFlags(runtime.GOOS, ""))
	if said, err := cmd.CombinedOutput(); err != nil || !strings.Contains(string(said), "env GOGC=off GOMEMLIMIT=1GiB ") {
		t.Errorf("%v: the compiler is not started so:\n%s", err, said)
	}
}
