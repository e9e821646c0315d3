package source

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/strakewright/strakewright/hull"
	"github.com/strakewright/strakewright/hull/drawing"
	"github.com/strakewright/strakewright/hull/source/sourcetest"
)

// The launch as tables in many forms: each is either read correctly, every point
// within half the table's last unit of the exact hull, or refused with the sentence
// that helps.

// launchScale is the scale of the model to the ship of the tables.
const launchScale = 48

// launchTable is the table of offsets of the launch at full size, a column a station
// or a row a station.
func launchTable(head string, down bool, length func(mm float64) string) string {
	sections := sourcetest.Launch()
	columns := [][]string{{"station"}, {"x"}}
	add := func(title string, at func(s sourcetest.Section) (float64, bool)) {
		if strings.Contains(title, ",") { // in quotes, as a whole
			title = `"` + strings.ReplaceAll(title, `"`, "") + `"`
		}
		c := []string{title}
		for _, s := range sections {
			text := ""
			if v, ok := at(s); ok {
				text = length(v * launchScale)
			}
			c = append(c, text)
		}
		columns = append(columns, c)
	}
	for _, s := range sections {
		columns[0] = append(columns[0], s.Name)
		columns[1] = append(columns[1], length(s.X*launchScale))
	}
	add("height of sheer", func(s sourcetest.Section) (float64, bool) { return s.Sheer, true })
	add("half-breadth of sheer", func(s sourcetest.Section) (float64, bool) { return s.Half, true })
	for _, inches := range []float64{72, 60, 48, 36, 24, 12, 6, 3} { // at full size
		z := inches * 25.4 / launchScale
		add("waterline "+length(z*launchScale), func(s sourcetest.Section) (float64, bool) { return s.Breadth(z), z < s.Sheer })
	}
	for _, z := range []string{"height of rabbet", "half-breadth of rabbet"} {
		add(z, func(sourcetest.Section) (float64, bool) { return 0, true })
	}
	var b strings.Builder
	b.WriteString(head)
	if !down {
		for _, c := range columns {
			b.WriteString(strings.Join(c, ",") + "\n")
		}
		return b.String()
	}
	for k := range columns[0] {
		for i, c := range columns {
			if i > 0 {
				b.WriteByte(',')
			}
			b.WriteString(c[k])
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// parts writes mm in feet, inches and parts of an inch.
func parts(of int) func(mm float64) string {
	return func(mm float64) string {
		n := int(math.Round(mm / 25.4 * float64(of)))
		return fmt.Sprintf("%d-%d-%d", n/of/12, n/of%12, n%of)
	}
}

// withFraction writes a number of inches with a common fraction of eighths.
func withFraction(n int) string {
	whole, over, of := n/8, n%8, 8
	for over > 0 && over%2 == 0 {
		over, of = over/2, of/2
	}
	switch {
	case over == 0:
		return fmt.Sprint(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", over, of)
	}
	return fmt.Sprintf("%d %d/%d", whole, over, of)
}

// launchVariant is one form of the table.
type launchVariant struct {
	text   string
	unit   float64 // the last unit of the table, mm of the model
	refuse string
}

func launchVariants() map[string]launchVariant {
	decimal := func(per float64, digits int) func(float64) string {
		return func(mm float64) string { return fmt.Sprintf("%.*f", digits, mm/per) }
	}
	quotedComma := func(digits int) func(float64) string {
		return func(mm float64) string {
			return `"` + strings.Replace(fmt.Sprintf("%.*f", digits, mm), ".", ",", 1) + `"`
		}
	}
	inches := func(mm float64) string { return withFraction(int(math.Round(mm / 25.4 * 8))) }
	marks := func(foot, inch string) func(float64) string {
		return func(mm float64) string {
			n := int(math.Round(mm / 25.4 * 8))
			switch {
			case n == 0:
				return "0"
			case n < 96:
				return withFraction(n) + inch
			case n%96 == 0:
				return fmt.Sprint(n/96) + foot
			}
			return fmt.Sprint(n/96) + foot + " " + withFraction(n%96) + inch
		}
	}
	quarters := func(mm float64) string {
		n := int(math.Round(mm / 25.4 * 4))
		return fmt.Sprint(n/4) + []string{"", "\u00bc", "\u00bd", "\u00be"}[n%4]
	}
	const scale = "scale,1:48\n"
	eighth, mm := 25.4/8/launchScale, 1.0/launchScale
	metric := launchTable("offsets\nunit,mm\n"+scale, false, decimal(1, 0))
	points := func(number func(float64) string) string {
		var b strings.Builder
		b.WriteString("frame,x_mm,y_mm,z_mm\n")
		for _, s := range sourcetest.Launch() {
			for _, p := range s.Points(17) {
				fmt.Fprintf(&b, "%s,%s,%s,%s\n", s.Name, number(s.X), number(p[0]), number(p[1]))
			}
		}
		return b.String()
	}
	return map[string]launchVariant{
		"millimetres":               {metric, mm, ""},
		"metres":                    {launchTable("offsets\nunit,m\n"+scale, false, decimal(1000, 3)), mm, ""},
		"decimal feet":              {launchTable("offsets\nunit,ft\n"+scale, false, decimal(304.8, 3)), 0.3048 / launchScale, ""},
		"eighths":                   {launchTable("offsets\n"+scale, false, parts(8)), eighth, ""},
		"sixteenths":                {launchTable("offsets\nunit,ft-in-16ths\n"+scale, false, parts(16)), eighth / 2, ""},
		"sixteenths called eighths": {launchTable("offsets\n"+scale, false, parts(16)), 0, "eighths in an inch"},
		"fractions":                 {launchTable("offsets\nunit,in\n"+scale, false, inches), eighth, ""},
		"feet and inches":           {launchTable("offsets\n"+scale, false, marks("'", `"`)), eighth, ""},
		"feet and inches told":      {launchTable("offsets\nunit,ft\n"+scale, false, marks("'", "''")), eighth, ""},
		"printed marks":             {launchTable("offsets\n"+scale, false, marks("\u2032", "\u2033")), eighth, ""},
		"marks in millimetres":      {launchTable("offsets\nunit,mm\n"+scale, false, marks("'", "''")), 0, "which is not a number"},
		"stations down":             {launchTable("offsets\nunit,mm\n"+scale, true, decimal(1, 0)), mm, ""},
		"stations down, in eighths": {launchTable(scale, true, parts(8)), eighth, ""},
		"decimal commas in quotes":  {launchTable("offsets\nunit,mm\n"+scale, false, quotedComma(1)), mm / 10, ""},
		"thousands in quotes": {launchTable("offsets\nunit,mm\n"+scale, false, func(mm float64) string {
			if n := int(math.Round(mm)); n >= 1000 {
				return fmt.Sprintf(`"%d,%03d"`, n/1000, n%1000)
			}
			return fmt.Sprint(int(math.Round(mm)))
		}), 0, "which is not a number"},
		"semicolons":                 {strings.ReplaceAll(strings.ReplaceAll(launchTable("offsets\nunit,cm\n"+scale, false, decimal(10, 1)), ",", ";"), ".", ","), mm, ""},
		"tabs":                       {strings.ReplaceAll(metric, ",", "\t"), mm, ""},
		"UTF-16, little end first":   {wide(metric, false), mm, ""},
		"UTF-16, big end first":      {wide(metric, true), mm, ""},
		"packed":                     {packed(metric), mm, ""},
		"no scale":                   {strings.Replace(metric, scale, "", 1), 0, `there is no row "scale"`},
		"no unit":                    {strings.Replace(metric, "unit,mm\n", "", 1), 0, `there is no row "unit"`},
		"points":                     {points(decimal(1, 3)), 0.001, ""},
		"points, commas in quotes":   {points(quotedComma(2)), 0.01, ""},
		"points in Windows-1252":     {strings.ReplaceAll(points(decimal(1, 3)), "C,", "\"C, 90\xb0 \x96 gro\xdfer\","), 0.001, ""},
		"quarters in Latin-1":        {latin(launchTable("offsets\nunit,in\n"+scale, false, quarters)), 2 * eighth, ""},
		"points, CRLF and a mark":    {"\ufeff" + strings.ReplaceAll(points(decimal(1, 3)), "\n", "\r\n"), 0.001, ""},
		"points in UTF-16":           {wide(points(decimal(1, 3)), true), 0.001, ""},
		"points of metres called mm": {points(decimal(1000, 5)), 0, "metres or inches"},
	}
}

// wide is a text in UTF-16 with its byte-order mark.
func wide(text string, bigEnd bool) string {
	var b bytes.Buffer
	for _, u := range utf16.Encode([]rune("\ufeff" + text)) {
		if bigEnd {
			b.Write([]byte{byte(u >> 8), byte(u)})
		} else {
			b.Write([]byte{byte(u), byte(u >> 8)})
		}
	}
	return b.String()
}

// latin is a text in Latin-1.
func latin(text string) string {
	var b []byte
	for _, r := range text {
		b = append(b, byte(r))
	}
	return string(b)
}

// packed is a text compressed with gzip.
func packed(text string) string {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, _ = z.Write([]byte(text))
	_ = z.Close()
	return b.String()
}

// offLaunch is the farthest that a frame's points lie off a section, mm, by its
// half-breadth there or, where it is flat, by its height.
func offLaunch(s sourcetest.Section, f hull.Frame) float64 {
	worst := 0.0
	for _, p := range f.Points {
		y := math.Abs(p.Y() - s.Breadth(p.Z()))
		w := math.Min(p.Y()/s.Half, 1)
		z := math.Abs(p.Z() - s.Sheer*(1-math.Sqrt(1-w*w)))
		worst = max(worst, min(y, z))
	}
	return worst
}

func TestTablesOfTheLaunch(t *testing.T) {
	for name, v := range launchVariants() {
		path := filepath.Join(t.TempDir(), "launch.csv")
		require.NoError(t, os.WriteFile(path, []byte(v.text), 0o600))
		c := Check(path, drawing.Options{})
		if v.refuse != "" {
			if assert.NotEmpty(t, c.Faults, name) {
				assert.Contains(t, c.Faults[0].Error(), v.refuse, name)
			}
			continue
		}
		if !assert.Empty(t, c.Faults, name) || !assert.Len(t, c.Hull.Frames, len(sourcetest.Launch()), name) {
			continue
		}
		for i, s := range sourcetest.Launch() {
			if name == "points in Windows-1252" && s.Name == "C" {
				assert.Equal(t, "C, 90\u00b0 \u2013 gro\u00dfer", c.Hull.Frames[i].Name)
			}
			assert.InDelta(t, s.X, c.Hull.Frames[i].X(), v.unit/2+1e-9, "%s: frame %s", name, s.Name)
			assert.LessOrEqual(t, offLaunch(s, c.Hull.Frames[i]), v.unit+1e-6, "%s: frame %s", name, s.Name)
			assert.GreaterOrEqual(t, len(c.Hull.Frames[i].Points), 8, "%s: frame %s", name, s.Name)
		}
	}
}
