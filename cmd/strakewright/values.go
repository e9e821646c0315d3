package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull"
)

// number is a flag's value that may be negative: kong itself takes -5 for a
// flag.
type number float64

// Decode reads the number after a flag.
func (n *number) Decode(ctx *kong.DecodeContext) error {
	text, err := valueOf(ctx)
	if err != nil {
		return err
	}
	if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1) // a decimal comma
	}
	v, err := readNumber(text)
	*n = number(v)
	return err
}

// readNumber reads a number that is one.
func readNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, tongue.Errorf("%q is not a number", text)
	}
	return v, nil
}

// whole is a flag's value that counts something.
type whole int

// Decode reads the whole number after a flag.
func (n *whole) Decode(ctx *kong.DecodeContext) error {
	text, err := valueOf(ctx)
	if err != nil {
		return err
	}
	v, err := strconv.Atoi(text)
	if err != nil {
		return tongue.Errorf("%q is not a whole number", text)
	}
	*n = whole(v)
	return nil
}

// inRange refuses the value of a flag that no bench knows; one left out is none.
func inRange(flag string, v *number, within hull.Range, unit string) error {
	if v == nil {
		return nil
	}
	if err := within.Refuse(flag, float64(*v), unit); err != nil {
		return misuse{err}
	}
	return nil
}

// word is a flag's value that is a name or a path.
type word string

// Decode reads the word after a flag; one that begins with a dash must be
// joined to its flag, as in --frame=-1.
func (w *word) Decode(ctx *kong.DecodeContext) error {
	joined := ctx.Scan.Peek().Type == kong.FlagValueToken
	text, err := valueOf(ctx)
	switch {
	case err != nil:
		return err
	case strings.HasPrefix(text, "-") && !joined:
		return tongue.Errorf("a value is missing before %s", text)
	case text == "":
		return tongue.New("its value is empty")
	}
	*w = word(text)
	return nil
}

// valueOf takes what stands after a flag.
func valueOf(ctx *kong.DecodeContext) (string, error) {
	t := ctx.Scan.Pop()
	if t.IsEOL() {
		return "", tongue.New("a value is missing after it")
	}
	return fmt.Sprint(t.Value), nil
}
