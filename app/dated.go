package app

import (
	"os"
	"strconv"
	"time"
)

// sourceDate is the environment variable that dates what is made, in seconds since
// 1970 (reproducible-builds.org, SOURCE_DATE_EPOCH): with it the same plan gives the
// same bytes wherever and whenever its file was copied.
const sourceDate = "SOURCE_DATE_EPOCH"

// DateOf is the date of what a file holds: when it was last changed, unless
// SOURCE_DATE_EPOCH says otherwise; the zero time where there is neither.
func DateOf(path string) time.Time {
	if at, ok := sourceDated(); ok {
		return at
	}
	info, err := os.Stat(path)
	if err != nil {
		return time.Time{}
	}
	return info.ModTime()
}

func sourceDated() (time.Time, bool) {
	s, err := strconv.ParseInt(os.Getenv(sourceDate), 10, 64)
	const latest = 253402300799 // the end of the year 9999, beyond which no date on paper reads
	if err != nil || s < 0 || s > latest {
		return time.Time{}, false
	}
	return time.Unix(s, 0).UTC(), true
}

// Date is the date of the plan as it stands: that of its file, and now where it was
// changed since or has none.
func (s *Session) Date() time.Time {
	if path := s.Path(); path != "" && !s.Changed() {
		return DateOf(path)
	}
	if at, ok := sourceDated(); ok {
		return at
	}
	return time.Now()
}
