package workbook

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/strakewright/strakewright/hull/plaintext"
)

// shownAs occurs in the text of a cell whose number is shown as something else.
const shownAs = ", shown as "

// Shown gives the number that a cell holds and what it shows instead, if it does: a
// date, for instance.
func Shown(text string) (holds, shows string, ok bool) { return strings.Cut(text, shownAs) }

// numberShown is the text for a cell that holds a number and shows it in a
// given form.
func numberShown(v float64, shown string) string {
	plain := plaintext.Figure(v)
	if shown == "" || shown == plain || shows(shown, v) {
		return plain
	}
	return plain + shownAs + shown
}

var fractionShown = regexp.MustCompile(`^(-?)\s*(?:(\d+)\s+)?(?:(\d+)\s*/\s*(\d+))?$`)

// shows reports whether a text is the number, rounded, in any of the ways in which
// sheets write one: with a decimal point or comma, with thousands separated, with an
// exponent, or as a common fraction.
func shows(text string, v float64) bool {
	text = strings.NewReplacer("\u00a0", "", "\u202f", "", "\u2212", "-", "'", "").Replace(strings.TrimSpace(text))
	if m := fractionShown.FindStringSubmatch(text); m != nil && m[4] != "" {
		whole, _ := strconv.ParseFloat("0"+m[2], 64)
		over, _ := strconv.ParseFloat(m[3], 64)
		of, _ := strconv.ParseFloat(m[4], 64)
		is := whole + over/of
		if m[1] != "" {
			is = -is
		}
		return of > 0 && math.Abs(is-v) <= 0.5/of*(1+1e-9)
	}
	text = strings.ReplaceAll(text, " ", "")
	for _, plain := range []string{
		strings.ReplaceAll(text, ",", ""),
		strings.ReplaceAll(strings.ReplaceAll(text, ".", ""), ",", "."),
	} {
		is, err := strconv.ParseFloat(plain, 64)
		if err == nil && strings.Trim(plain, "0123456789.+-eE") == "" && math.Abs(is-v) <= lastDigit(plain)*0.5*(1+1e-6) {
			return true
		}
	}
	return false
}

// lastDigit is the place value of a number's last digit.
func lastDigit(number string) float64 {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(number), "e")
	tens, _ := strconv.Atoi(exponent)
	_, decimals, _ := strings.Cut(mantissa, ".")
	return math.Pow10(tens - len(decimals))
}
