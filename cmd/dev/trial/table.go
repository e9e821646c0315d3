//go:build linux

package trial

import (
	"fmt"
	"strings"
	"text/tabwriter"
)

// Failed is how many attempts failed in all.
func Failed(results []Result) int {
	n := 0
	for _, r := range results {
		n += len(r.Failures)
	}
	return n
}

// Table shows the results: what was tried, how often, and how often it failed.
func Table(results []Result) string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "trial\tcount\tfailures\twhat is tried\n")
	for _, r := range results {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", r.Name, r.count(), r.failures(), strings.ReplaceAll(r.Does, "`", ""))
	}
	_ = w.Flush() // a builder takes all
	for _, r := range results {
		for _, f := range r.Failures {
			fmt.Fprintf(&b, "  %s\n", f)
		}
	}
	return b.String()
}

// Markdown is the table as it stands in the README.
func Markdown(results []Result) string {
	var b strings.Builder
	b.WriteString("| test | count | failures |\n| --- | ---: | ---: |\n")
	made := 0
	for _, r := range results {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", strings.ReplaceAll(r.Does, "|", `\|`), r.count(), r.failures())
		made += r.Made
	}
	fmt.Fprintf(&b, "| all | %s | %d |\n", grouped(made), Failed(results))
	return b.String()
}

func (r Result) count() string {
	if r.Untried != "" {
		return "not tried: " + r.Untried
	}
	return grouped(r.Made)
}

func (r Result) failures() string {
	if r.Untried != "" {
		return ""
	}
	return fmt.Sprint(len(r.Failures))
}

// grouped is a count with its thousands set off.
func grouped(n int) string {
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%s,%03d", grouped(n/1000), n%1000)
}
