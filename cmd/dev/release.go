package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// release identifies the program built from the source as it is now.
type release struct {
	version string    // 0.1.0; for a commit without that tag 0.1.0~20060102.0123456789ab, which Debian sorts before it
	commit  string    // its name, abbreviated
	when    time.Time // when it was made, UTC
	changed bool      // the source has been changed since, or has files that are in no commit
}

// release finds it from git, and from the first version under Changes in
// README.md.
func (s *shop) release() (release, error) {
	readme, err := os.ReadFile(filepath.Join(s.root, "README.md"))
	if err != nil {
		return release{}, err
	}
	told, err := s.reads(nil, "git", "log", "-1", "--format=%H %ct")
	if err != nil {
		return release{}, fmt.Errorf("the commit that the version is told by: %w", err)
	}
	status, err := s.reads(nil, "git", "status", "--porcelain")
	if err != nil {
		return release{}, fmt.Errorf("whether the source was changed: %w", err)
	}
	tags, err := s.reads(nil, "git", "tag", "--points-at", "HEAD")
	if err != nil {
		return release{}, fmt.Errorf("the tags of the commit: %w", err)
	}
	return releaseOf(string(readme), told, status, tags)
}

// changesHeading matches the heading of a version in README.md.
var changesHeading = regexp.MustCompile(`(?m)^### (\d+\.\d+\.\d+)\b.*$`)

// inPreparation stands in the heading of a version until it is released.
const inPreparation = "in preparation"

// versionTag matches the tag of a version.
var versionTag = regexp.MustCompile(`(?m)^v\d+\.\d+\.\d+$`)

// releaseOf finds it from README.md, the line of git log, the lines of git status and
// the tags of the commit.
func releaseOf(readme, told, status, tags string) (release, error) {
	heading := changesHeading.FindStringSubmatch(readme)
	if heading == nil {
		return release{}, fmt.Errorf(`README.md: no heading such as "### 0.1.0" tells the version`)
	}
	hash, seconds, _ := strings.Cut(strings.TrimSpace(told), " ")
	unix, err := strconv.ParseInt(seconds, 10, 64)
	if err != nil || len(hash) < 12 {
		return release{}, fmt.Errorf("git log tells no commit with its time, but %q", told)
	}
	r := release{version: heading[1], commit: hash[:12], when: time.Unix(unix, 0).UTC(), changed: strings.TrimSpace(status) != ""}
	switch tag := versionTag.FindString(tags); {
	case tag != "" && tag != "v"+r.version:
		return r, fmt.Errorf("the commit has the tag %s, and README.md begins its Changes with %s: mend either", tag, r.version)
	case tag != "" && strings.Contains(heading[0], inPreparation):
		return r, fmt.Errorf("the commit has the tag %s, and its heading in README.md still says %q: give its date there and tag that commit", tag, inPreparation)
	case tag == "" || r.changed:
		r.version += "~" + r.when.Format("20060102") + "." + r.commit
	}
	if r.changed {
		r.version += "+changed"
	}
	return r, nil
}

// linked is what the linker sets, so that the program can show it.
func (r release) linked() string {
	commit := r.commit + " " + r.when.Format(time.DateOnly)
	if r.changed {
		commit += " changed"
	}
	return fmt.Sprintf("-X main.released=v%s -X 'main.commit=%s'", r.version, commit)
}

// epoch is the time that all files of a package have (reproducible-builds.org, SOURCE_DATE_EPOCH).
func (r release) epoch() string { return fmt.Sprintf("SOURCE_DATE_EPOCH=%d", r.when.Unix()) }
