// Package tongue says the program's texts in the reader's language.
//
// The texts stand in the code in English, where they are used:
//
//	tongue.T("Save")                                    // Speichern
//	tongue.T("%d strips, %.1f mm wide", 12, 4.5)        // 12 Leisten, 4,5 mm breit
//	tongue.Count(n, "%d strake", "%d strakes", n)       // one or many
//	tongue.In("wood", "strip")                          // where one English word has several meanings
//	tongue.Errorf("reading %s: %w", path, err)          // an error, told in the language of whoever reads it
//	var tabs = []string{tongue.Mark("Hull"), ...}       // for tongue.T later, when the language is known
//
// Their translations are the JSON files beside this one, in the form that Fyne and
// go-i18n read: [prefix.]LANGUAGE.json, English text to text. What is not translated
// is said in English. "go run ./cmd/dev words" gathers the English texts from the
// code and tells what a language lacks.
//
// Figures among the arguments get the language's decimal sign. Whatever a program
// reads (JSON, CSV, DXF, the plan file) is written without this package.
package tongue

import (
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"reflect"
	"slices"
	"strings"
	"sync/atomic"
	"time"
)

//go:embed *.json
var files embed.FS

// Files are all translations, as [prefix.]LANGUAGE.json, for the window's toolkit.
func Files() embed.FS { return files }

// english is the language of the texts in the code.
const english = "en"

// language is what texts are said in.
type language struct {
	name     string
	texts    map[string]string
	decimal  string // the sign before tenths
	day      string // layouts of package time; day is "" for that of plans
	date     string
	dateTime string
}

// spoken is the language that was chosen; nil for English.
var spoken atomic.Pointer[language]

// Languages are those that texts can be said in, English first.
func Languages() []string {
	out := []string{english}
	names, _ := fs.Glob(files, "*.json") // the pattern is a good one
	for _, name := range names {
		if l := languageOf(name); !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	return out
}

// languageOf is the language that a file of translations is named for.
func languageOf(name string) string {
	stem := strings.TrimSuffix(name, ".json")
	return stem[strings.LastIndexByte(stem, '.')+1:]
}

// Use has all texts said in a language from now on: the first of those asked for, as
// "de_AT.UTF-8" or "en", that there is; else in English. It fails where a file of
// translations cannot be read.
func Use(asked ...string) error {
	for _, one := range asked {
		name, _, _ := strings.Cut(strings.ToLower(strings.NewReplacer("_", ".", "-", ".", "@", ".").Replace(one)), ".")
		if name == english || name == "c" || name == "posix" {
			break
		}
		if !slices.Contains(Languages(), name) {
			continue
		}
		texts, err := textsOf(name)
		if err != nil {
			return err
		}
		l := language{name: name, texts: texts, decimal: ".", date: "2 January 2006", dateTime: "2 January 2006, 15:04:05"}
		if name == "de" {
			l.decimal, l.day, l.date, l.dateTime = ",", "02.01.2006", "02.01.2006", "02.01.2006, 15:04:05"
		}
		spoken.Store(&l)
		return nil
	}
	spoken.Store(nil)
	return nil
}

// textsOf are all translations into a language, by their English text.
func textsOf(language string) (map[string]string, error) {
	texts := map[string]string{}
	names, err := fs.Glob(files, "*.json")
	if err != nil {
		return nil, fmt.Errorf("the translations: %w", err)
	}
	for _, name := range names {
		if languageOf(name) != language {
			continue
		}
		data, err := files.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("the translations %s: %w", name, err)
		}
		if err := json.Unmarshal(data, &texts); err != nil {
			return nil, fmt.Errorf("the translations %s: %w", name, err)
		}
	}
	return texts, nil
}

// Language is the one that texts are said in, as "en" or "de".
func Language() string {
	if l := spoken.Load(); l != nil {
		return l.name
	}
	return english
}

// T says a text; with arguments it is a format of package fmt.
func T(format string, args ...any) string { return say(format, format, args) }

// In says a text that has several meanings; context tells which, in a word.
func In(context, format string, args ...any) string {
	return say(Key(context, format), format, args)
}

// Key is what stands in a file of translations for a text said with In.
func Key(context, format string) string { return "[" + context + "] " + format }

// Count says one of two texts: of one thing, or of any other number.
func Count(n int, one, other string, args ...any) string {
	if n == 1 {
		return say(one, one, args)
	}
	return say(other, other, args)
}

// Mark is the text itself, unsaid: it is said with T when the language is known.
func Mark(text string) string { return text }

// say says a text in the language spoken.
func say(key, format string, args []any) string {
	format, args = chosen(key, format, args)
	if len(args) == 0 {
		return format
	}
	return fmt.Sprintf(format, args...)
}

// chosen is a format as the language has it, and its arguments as that writes them.
func chosen(key, format string, args []any) (string, []any) {
	l := spoken.Load()
	if l == nil {
		return format, args
	}
	if t, ok := l.texts[key]; ok && t != "" {
		format = t
	}
	if l.decimal == "." {
		return format, args
	}
	own := slices.Clone(args)
	for i, a := range own {
		own[i] = l.figure(a)
	}
	return format, own
}

// figure is an argument that writes the language's decimal sign, if it is a figure.
func (l *language) figure(a any) any {
	if _, named := a.(fmt.Stringer); named || a == nil {
		return a
	}
	if k := reflect.TypeOf(a).Kind(); k == reflect.Float64 || k == reflect.Float32 {
		return figure{reflect.ValueOf(a).Float(), l.decimal}
	}
	return a
}

// figure is a number with a decimal sign of its own.
type figure struct {
	value   float64
	decimal string
}

// Format writes it for package fmt.
func (f figure) Format(s fmt.State, verb rune) {
	text := fmt.Sprintf(fmt.FormatString(s, verb), f.value)
	_, _ = s.Write([]byte(strings.Replace(text, ".", f.decimal, 1))) // fmt keeps what fails
}

// Figure is a number that is written already, as "4.5", with the language's decimal
// sign.
func Figure(written string) string {
	if l := spoken.Load(); l != nil {
		return strings.Replace(written, ".", l.decimal, 1)
	}
	return written
}

// Date is the day of a time.
func Date(t time.Time) string {
	if l := spoken.Load(); l != nil {
		return t.Format(l.date)
	}
	return t.Format("2 January 2006")
}

// Moment is the day and the time of day of a time.
func Moment(t time.Time) string {
	if l := spoken.Load(); l != nil {
		return t.Format(l.dateTime)
	}
	return t.Format("2 January 2006, 15:04:05")
}

// Day is a date as plans keep it, of a day or of a time of it, as the language writes it
// in few figures: in English as it stands, 2026-03-01. What is no date stays.
func Day(date string) string { return relaid(date, planDays, languageDays()) }

// ReadDay is a date as plans keep it that is written so, or as Day writes it. What is
// no date stays.
func ReadDay(text string) string { return relaid(text, languageDays(), planDays) }

// planDays are the layouts of dates in plans.
var planDays = []string{time.DateOnly, "2006-01-02T15:04", "2006-01-02T15:04:05", time.RFC3339}

// languageDays are those of the language in their stead.
func languageDays() []string {
	if l := spoken.Load(); l != nil && l.day != "" {
		return []string{l.day, l.day + ", 15:04", l.day + ", 15:04:05", l.day + ", 15:04:05 Z07:00"}
	}
	return planDays
}

// relaid is a date with another layout.
func relaid(date string, from, to []string) string {
	for i, layout := range from {
		if t, err := time.Parse(layout, date); err == nil {
			return t.Format(to[i])
		}
	}
	return date
}

// told is an error that is put into words when it is read.
type told struct {
	format string
	args   []any
	causes []error
}

// New is an error with that text.
func New(text string) error { return &told{format: text} }

// Errorf is an error as fmt.Errorf makes it, %w included.
func Errorf(format string, args ...any) error {
	e := &told{format: format, args: args}
	made := fmt.Errorf(format, args...)
	if several, ok := made.(interface{ Unwrap() []error }); ok {
		e.causes = several.Unwrap()
	} else if cause := errors.Unwrap(made); cause != nil {
		e.causes = []error{cause}
	}
	return e
}

// Error says it. An error among the arguments is said in turn.
func (e *told) Error() string {
	format, args := chosen(e.format, e.format, e.args)
	if len(args) == 0 {
		return format
	}
	return fmt.Errorf(format, args...).Error() // Sprintf has no %w
}

// Unwrap gives what was wrapped with %w.
func (e *told) Unwrap() []error { return e.causes }
