//go:build linux || darwin

package keep

import (
	"bytes"
	"os"
	"strings"

	"golang.org/x/sys/unix"

	"github.com/strakewright/strakewright/assets/tongue"
)

// inheritAttributes gives a new file the extended attributes of another,
// including access lists, and says which could not be set.
func inheritAttributes(f *os.File, from string) (lost []string) {
	for _, name := range attributes(from) {
		value, ok := attribute(func(b []byte) (int, error) { return unix.Getxattr(from, name, b) })
		if !ok {
			continue
		}
		fd := int(f.Fd())
		has, ok := attribute(func(b []byte) (int, error) { return unix.Fgetxattr(fd, name, b) })
		if ok && bytes.Equal(has, value) {
			continue // such as a security label that the system sets itself
		}
		if err := unix.Fsetxattr(fd, name, value, 0); err != nil {
			lost = append(lost, tongue.T("the file's extended attribute %q could not be kept.", name))
		}
	}
	return lost
}

// attributes names a file's extended attributes; none where the file system has
// none.
func attributes(path string) []string {
	list, ok := attribute(func(b []byte) (int, error) { return unix.Listxattr(path, b) })
	if !ok {
		return nil
	}
	return strings.FieldsFunc(string(list), func(r rune) bool { return r == 0 })
}

// attribute reads a value through get, after asking it for the size.
func attribute(get func([]byte) (int, error)) ([]byte, bool) {
	size, err := get(nil)
	if err != nil {
		return nil, false
	}
	value := make([]byte, size)
	if size, err = get(value); err != nil {
		return nil, false
	}
	return value[:size], true
}
