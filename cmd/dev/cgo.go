package main

import (
	"runtime"
	"strings"
)

// quickNames has cgo find out sooner what the names of a C library are. For each of them it
// has the compiler read "NAME *__cgo_undefined__2;", which is a declaration where NAME is a
// type, and else fails (guessKinds in cmd/cgo): and for the unknown name that
// it then is, GCC seeks a similar one among all that it has read. With the 5,700 names of the
// OpenGL bindings that took four minutes of every cold build. With a name in its place that
// GCC knows, and with which nothing can be multiplied, it fails as well, and at once.
const quickNames = "-D__cgo_undefined__2=__builtin_abort"

// withC is the environment that forces cgo on: Go silently turns it off where it finds no
// compiler. The flags that the user has set for it are kept.
func (s *shop) withC() []string {
	env := []string{"CGO_ENABLED=1"}
	if runtime.GOOS == "darwin" { // its compiler is none of GCC
		return env
	}
	if users, err := s.reads(nil, "go", "env", "CGO_CFLAGS"); err == nil && !strings.Contains(users, quickNames) {
		env = append(env, "CGO_CFLAGS="+strings.TrimSpace(users)+" "+quickNames)
	}
	return env
}
