package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// everyKind names something of each kind that cgo tells apart.
const everyKind = `package kinds

/*
typedef unsigned int GLenum;
typedef void (*callback)(int);
struct point { double x, y; };
enum side { port, starboard };
#define SIXTY 0x3c
#define HALF 0.5
#define NAMED "rabbet"
#define ALSO GLenum
static int turned(GLenum by) { return (int)by; }
static int kept;
*/
import "C"

var (
	A C.GLenum = C.SIXTY
	B C.callback
	P C.struct_point
	S C.enum_side = C.starboard
	H       = C.HALF
	N       = C.NAMED
	L C.ALSO
	T       = C.turned(3)
	K       = C.kept
)
`

// cgo finds the same of every kind of name with quickNames as without.
func TestQuickNamesAreTheSame(t *testing.T) {
	if _, err := exec.LookPath("gcc"); err != nil {
		t.Skip("no GCC")
	}
	dir := t.TempDir()
	writeFile(t, dir, "kinds.go", everyKind)
	made := func(flags ...string) (out [2]string) {
		objects := filepath.Join(t.TempDir(), "made")
		if err := os.Mkdir(objects, 0o755); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command("go", append([]string{"tool", "cgo", "-objdir", objects, "-trimpath", dir, "--"}, append(flags, "kinds.go")...)...)
		cmd.Dir, cmd.Env = dir, append(cmd.Environ(), "CC=gcc")
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		for i, name := range []string{"_cgo_gotypes.go", "kinds.cgo1.go"} {
			text, err := os.ReadFile(filepath.Join(objects, name))
			if err != nil {
				t.Fatal(err)
			}
			out[i] = string(text)
		}
		return out
	}
	plain, quick := made(), made(quickNames)
	if !strings.Contains(plain[0], "type _Ctype_GLenum") {
		t.Errorf("GLenum is no type:\n%s", plain[0])
	}
	if plain != quick {
		t.Errorf("with %s the names are others:\n%v\nnot\n%v", quickNames, quick, plain)
	}
}
