package quote

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A place in JSON is keys with strokes between: the name of a member, the number of an
// element from 0, key=value for the first element that has it, count for how many there
// are, count:key=value for how many have it, least:key and most:key for the least and the
// greatest there is.

// valueAt gives what stands at a place, in a format of fmt where there is one.
func valueAt(text []byte, path, format string) (string, error) {
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		return "", fmt.Errorf("what was printed is no JSON: %w", err)
	}
	for step := range strings.SplitSeq(path, "/") {
		next, err := stepped(v, step)
		if err != nil {
			return "", fmt.Errorf("%s: %w", path, err)
		}
		v = next
	}
	switch v := v.(type) {
	case string:
		return v, nil
	case float64:
		if format == "" {
			format = "%g"
		}
		return strings.Replace(fmt.Sprintf(format, v), "-", "−", 1), nil
	}
	return "", fmt.Errorf("%s is neither a text nor a number", path)
}

// stepped goes one step on.
func stepped(v any, step string) (any, error) {
	switch in := v.(type) {
	case map[string]any:
		if next, ok := in[step]; ok {
			return next, nil
		}
	case []any:
		if n, err := strconv.Atoi(step); err == nil && n >= 0 && n < len(in) {
			return in[n], nil
		}
		if v, ok := ofAll(in, step); ok {
			return v, nil
		}
	}
	return nil, fmt.Errorf("there is no %s", step)
}

// ofAll gives what a step tells of all elements, or the one that it seeks.
func ofAll(in []any, step string) (any, bool) {
	what, of, _ := strings.Cut(step, ":")
	switch what {
	case "count":
		n := 0
		for _, e := range in {
			if of == "" || has(e, of) {
				n++
			}
		}
		return float64(n), true
	case "least", "most":
		sign, best := 1.0, math.Inf(-1)
		if what == "least" {
			sign = -1
		}
		for _, e := range in {
			if m, ok := e.(map[string]any); ok {
				if x, ok := m[of].(float64); ok {
					best = max(best, sign*x)
				}
			}
		}
		return sign * best, !math.IsInf(best, 0)
	}
	for _, e := range in {
		if has(e, step) {
			return e, true
		}
	}
	return nil, false
}

// has tells whether an element has some values, given as key=value with & between.
func has(e any, step string) bool {
	m, is := e.(map[string]any)
	for one := range strings.SplitSeq(step, "&") {
		key, value, ok := strings.Cut(one, "=")
		if is = is && ok && fmt.Sprint(m[key]) == value; !is {
			return false
		}
	}
	return true
}

// changed gives a plan's file with what stands at a place replaced. Its members come in
// the order of their names, which a plan's file does not mind.
func changed(plan []byte, path, value string) ([]byte, error) {
	d := json.NewDecoder(bytes.NewReader(plan))
	d.UseNumber()
	var all, to any
	if err := d.Decode(&all); err != nil {
		return nil, err
	}
	d = json.NewDecoder(strings.NewReader(value))
	d.UseNumber()
	if err := d.Decode(&to); err != nil {
		return nil, fmt.Errorf("%s: %w", value, err)
	}
	all, err := put(all, strings.Split(path, "/"), to)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return json.MarshalIndent(all, "", " ")
}

// put puts something at a place in JSON, and gives that. A list grows by one whose number
// is one more than its last.
func put(v any, steps []string, to any) (any, error) {
	if len(steps) == 0 {
		return to, nil
	}
	switch in := v.(type) {
	case map[string]any:
		member, err := put(in[steps[0]], steps[1:], to)
		in[steps[0]] = member
		return in, err
	case []any:
		n, err := strconv.Atoi(steps[0])
		if err != nil || n < 0 || n > len(in) {
			break
		}
		if n == len(in) {
			in = append(in, nil)
		}
		in[n], err = put(in[n], steps[1:], to)
		return in, err
	}
	return nil, fmt.Errorf("there is no %s", steps[0])
}
