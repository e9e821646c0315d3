package drawing

import (
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"
)

// external gives the path of a reference program; without it the test is
// skipped, or fails where STRAKEWRIGHT_EXTERNAL asks for all checks.
func external(t *testing.T, program string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		missing(t, program)
	}
	return path
}

// withEzdxf gives the path of Debian's own Python, which has ezdxf.
func withEzdxf(t *testing.T) string {
	t.Helper()
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		missing(t, "python3-ezdxf")
	}
	return python
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("STRAKEWRIGHT_EXTERNAL") != "" {
		t.Fatalf("%s is not installed: go run ./cmd/dev test installs it", what)
	}
	t.Skipf("%s is not installed; go run ./cmd/dev test installs it and runs this check", what)
}

// ran runs a program and returns what it printed.
func ran(t *testing.T, program string, args ...string) string {
	t.Helper()
	out, err := exec.Command(program, args...).CombinedOutput()
	require.NoError(t, err, "%s", out)
	return string(out)
}
