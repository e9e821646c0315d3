package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// The table of rooms in the guide says which of our packages each package
// imports. It is compared with what go list shows, so that it stays true.

// guide is the file that holds the rooms and the paths through them.
const guide = "DEVELOPERS.md"

// roomsHead begins the table of rooms.
const roomsHead = "| folder | holds | sees |"

// The words of the column "sees" other than folders in backquotes.
const (
	standardAlone = "the standard library alone"
	nothingOurs   = "nothing of ours"
	fyneWord      = "Fyne"
)

// sight is what a row says about the imports of its folders.
type sight struct {
	ours     []string // folders of the module
	fyne     bool
	standard bool // the standard library and nothing else
	none     bool // the column is blank: the folders hold no package
}

// roomRow is one folder of a row of the table.
type roomRow struct {
	line   int // in the guide, from 1
	folder string
	sees   sight
}

// roomsTold fails, with a sentence for each, where the table of rooms differs
// from the packages' own imports. The table leaves out what only tests import.
func (s *shop) roomsTold() error {
	text, err := os.ReadFile(filepath.Join(s.root, guide))
	if err != nil {
		return fmt.Errorf("reading the table of rooms: %w", err)
	}
	out, err := s.reads(nil, "go", "list", "-f", listFormat, "./...")
	if err != nil {
		return fmt.Errorf("listing the imports: %w", err)
	}
	rows, faults := parseRooms(string(text))
	faults = append(faults, untrueRooms(rows, parseListing(out))...)
	for _, r := range rows {
		if info, err := os.Stat(filepath.Join(s.root, filepath.FromSlash(r.folder))); err != nil || !info.IsDir() {
			faults = append(faults, r.fault("there is no folder `%s`: take it out of the table", r.folder))
		}
	}
	return s.told(faults, "the table of rooms in "+guide+" is not what the code is")
}

// told shows faults, a line for each and in order, and returns an error with
// the summary if there are any.
func (s *shop) told(faults []string, summary string) error {
	if len(faults) == 0 {
		return nil
	}
	s.say("%s", strings.Join(faults, "\n"))
	return errors.New(summary)
}

// parseRooms reads the table of rooms, and returns a sentence for each row that
// cannot be read.
func parseRooms(text string) (rows []roomRow, faults []string) {
	lines := strings.Split(text, "\n")
	head := slices.Index(lines, roomsHead)
	if head < 0 {
		return nil, []string{fmt.Sprintf("%s has no table that begins with %q", guide, roomsHead)}
	}
	for i := head + 2; i < len(lines) && strings.HasPrefix(lines[i], "|"); i++ {
		read, fault := parseRoom(i+1, lines[i])
		if fault != "" {
			faults = append(faults, fault)
			continue
		}
		rows = append(rows, read...)
	}
	return rows, faults
}

// parseRoom reads one row, which may name several folders with the same
// imports.
func parseRoom(line int, text string) (rows []roomRow, fault string) {
	cells := strings.Split(strings.Trim(text, "|"), "|")
	if len(cells) != 3 {
		return nil, fmt.Sprintf("%s:%d: a row has three cells, folder, holds and sees, and this one has %d", guide, line, len(cells))
	}
	folders, ok := quotedPaths(strings.TrimSpace(cells[0]))
	if !ok {
		return nil, fmt.Sprintf("%s:%d: the first cell holds folders in backquotes with commas between, not %q", guide, line, strings.TrimSpace(cells[0]))
	}
	column := strings.TrimSpace(cells[2])
	sees, ok := parseSight(column)
	if !ok {
		return nil, fmt.Sprintf("%s:%d: the last cell holds folders in backquotes with commas between, and after them \"and Fyne\", or %q, or %q, not %q",
			guide, line, standardAlone, nothingOurs, column)
	}
	for _, f := range folders {
		rows = append(rows, roomRow{line, f, sees})
	}
	return rows, ""
}

// parseSight reads the column "sees".
func parseSight(column string) (sight, bool) {
	switch column {
	case "":
		return sight{none: true}, true
	case standardAlone:
		return sight{standard: true}, true
	case nothingOurs:
		return sight{}, true
	case fyneWord:
		return sight{fyne: true}, true
	}
	list, fyne := strings.CutSuffix(column, " and "+fyneWord)
	ours, ok := quotedPaths(list)
	return sight{ours: ours, fyne: fyne}, ok
}

// quotedPaths reads folders in backquotes separated by commas, without repeats.
func quotedPaths(list string) ([]string, bool) {
	var out []string
	for item := range strings.SplitSeq(list, ", ") {
		path, before := strings.CutPrefix(item, "`")
		path, behind := strings.CutSuffix(path, "`")
		if !before || !behind || path == "" || strings.ContainsAny(path, "` ,") || slices.Contains(out, path) {
			return nil, false
		}
		out = append(out, path)
	}
	return out, true
}

func (r roomRow) fault(format string, args ...any) string {
	return fmt.Sprintf("%s:%d: %s", guide, r.line, fmt.Sprintf(format, args...))
}

// untrueRooms compares the rows with the packages, without their tests, and
// returns a sentence for each difference.
func untrueRooms(rows []roomRow, packages []listed) []string {
	var faults []string
	byFolder := map[string]roomRow{}
	for _, r := range rows {
		if first, twice := byFolder[r.folder]; twice {
			faults = append(faults, r.fault("`%s` stands in line %d already", r.folder, first.line))
			continue
		}
		byFolder[r.folder] = r
	}
	held := map[string]bool{}
	for _, p := range packages {
		folder, ours := strings.CutPrefix(p.path, module+"/")
		if p.test || !ours {
			continue
		}
		held[folder] = true
		r, told := byFolder[folder]
		if !told {
			faults = append(faults, fmt.Sprintf("%s: package `%s` has no row in the table of rooms", guide, folder))
			continue
		}
		faults = append(faults, r.untrue(p)...)
	}
	for _, r := range byFolder {
		if !held[r.folder] && !r.sees.none {
			faults = append(faults, r.fault("`%s` holds no package: take it out of the table, or leave the last cell blank", r.folder))
		}
	}
	slices.Sort(faults)
	return faults
}

// untrue returns a sentence for each way in which a package's row differs from
// its imports.
func (r roomRow) untrue(p listed) []string {
	if r.sees.none {
		return []string{r.fault("`%s` holds a package, but the last cell does not tell what it sees", r.folder)}
	}
	var faults []string
	var seen []string
	fyneSeen := false
	for _, q := range p.imports {
		first, _, _ := strings.Cut(q, "/")
		folder, ours := strings.CutPrefix(q, module+"/")
		switch {
		case r.sees.standard && (ours || strings.Contains(first, ".")):
			faults = append(faults, r.fault("`%s` imports %s, so it sees more than %s", r.folder, q, standardAlone))
		case ours:
			seen = append(seen, folder)
			if !r.sees.standard && !slices.Contains(r.sees.ours, folder) {
				faults = append(faults, r.fault("`%s` imports `%s`, which its row does not tell", r.folder, folder))
			}
		case within(q, fyne):
			fyneSeen = true
		}
	}
	for _, folder := range r.sees.ours {
		if !slices.Contains(seen, folder) {
			faults = append(faults, r.fault("`%s` does not import `%s`, though its row says that it sees it", r.folder, folder))
		}
	}
	switch {
	case fyneSeen && !r.sees.fyne && !r.sees.standard:
		faults = append(faults, r.fault("`%s` imports Fyne, which its row does not tell", r.folder))
	case r.sees.fyne && !fyneSeen:
		faults = append(faults, r.fault("`%s` does not import Fyne, though its row says that it sees it", r.folder))
	}
	return faults
}
