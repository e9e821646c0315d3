package keep

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Owner is the run of the program, and the piece of work in it, that owns a
// file of ours beside the builder's. Its text is part of the file's name, so
// that the next run can distinguish leftovers from what is in use.
type Owner struct {
	Host  string // this computer's name, as far as a file's name can hold it
	PID   int
	Start string // tells apart all processes that ever had this number; empty where the system does not say
	Mark  string // eight hexadecimal digits that tell apart the owners within one process
}

// NewOwner is another owner in this process.
func NewOwner() Owner {
	return Owner{Host: ownHost(), PID: os.Getpid(), Start: ProcessStart(os.Getpid()), Mark: fmt.Sprintf("%08x", rand.Uint32())}
}

// String is the owner as written in a file's name.
func (o Owner) String() string {
	return fmt.Sprintf("%d-%s-%s@%s", o.PID, o.Start, o.Mark, o.Host)
}

var ownerText = regexp.MustCompile(`^([0-9]{1,10})-([0-9a-z]*)-([0-9a-f]{8})@([A-Za-z0-9_-]*)$`)

// ParseOwner reads what String writes.
func ParseOwner(text string) (Owner, bool) {
	m := ownerText.FindStringSubmatch(text)
	if m == nil {
		return Owner{}, false
	}
	pid, err := strconv.Atoi(m[1])
	return Owner{Host: m[4], PID: pid, Start: m[2], Mark: m[3]}, err == nil
}

// Here reports whether the owner is, or was, on this computer.
func (o Owner) Here() bool { return o.Host == ownHost() }

// Gone reports whether the owner was on this computer and no longer runs.
func (o Owner) Gone() bool { return o.Here() && !ProcessRuns(o.PID, o.Start) }

// longestHost and longestStem limit the names of our own files, so that a file
// system accepts them beside a plan of any name.
const (
	longestHost = 24  // bytes
	longestStem = 80  // bytes
	longestOurs = 160 // bytes of a name that is already one of ours
)

// ownHost is this computer's name, with characters that a host name cannot have
// replaced; empty where the system does not say.
func ownHost() string {
	name, err := os.Hostname()
	if err != nil {
		return ""
	}
	name = strings.Map(func(r rune) rune {
		if r < utf8.RuneSelf && (r == '-' || r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z') {
			return r
		}
		return '_'
	}, name)
	return name[:min(len(name), longestHost)]
}

// Beside is the path of a file of ours that belongs to another: hidden, in the
// folder of the real file if the path is a link, and named after that file and
// its purpose.
func Beside(path, what string) string {
	path = RealPath(path)
	return filepath.Join(filepath.Dir(path), "."+stem(filepath.Base(path))+"."+what)
}

// stem is a file's name, shortened where it would leave no room for more.
func stem(name string) string {
	if len(name) <= longestStem {
		return name
	}
	sum := sha256.Sum256([]byte(name))
	const digits = 8 // of the hash, in bytes
	at := longestStem - 2*digits - 1
	for at > 0 && !utf8.RuneStart(name[at]) {
		at--
	}
	return name[:at] + "~" + hex.EncodeToString(sum[:digits])
}

// RealPath is where a file really is: absolute, with all links followed. The
// file need not exist yet. A link that leads nowhere gives the path itself.
func RealPath(path string) string {
	target, err := linked(path)
	if err != nil {
		return path
	}
	abs, err := filepath.Abs(target)
	if err != nil {
		return target
	}
	dir, err := filepath.EvalSymlinks(filepath.Dir(abs))
	if err != nil {
		return abs
	}
	return filepath.Join(dir, filepath.Base(abs))
}

// partSuffix ends the name of a file that is being written.
const partSuffix = ".part"

// partPrefix begins the names of the files being written to replace the one
// with this name.
func partPrefix(name string) string {
	if strings.HasPrefix(name, ".") && len(name) <= longestOurs {
		return name + "."
	}
	return "." + stem(name) + "."
}

// Tidy removes what runs of the program left beside a file when they ended
// abruptly: half-written files, and a lock that nobody holds. It leaves what a
// live run, or one on another computer, may still use, and what cannot be
// removed.
func Tidy(path string) {
	path = RealPath(path)
	dropParts(filepath.Dir(path), partPrefix(filepath.Base(path)))
	dropStaleLock(path)
}

// dropParts removes the half-written files in a folder whose names begin with
// the prefix and whose owners are gone.
func dropParts(dir, prefix string) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		rest, ours := strings.CutPrefix(e.Name(), prefix)
		rest, part := strings.CutSuffix(rest, partSuffix)
		if !ours || !part {
			continue
		}
		// In the part file of a file of ours beside this one, that file's own name
		// comes in between.
		owner, ok := ParseOwner(rest[strings.LastIndexByte(rest, '.')+1:])
		if ok && owner.Gone() {
			_ = os.Remove(filepath.Join(dir, e.Name())) // it does no harm if it stays
		}
	}
}
