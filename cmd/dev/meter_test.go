package main

import (
	"bytes"
	"fmt"
	"testing"
	"time"
)

// silent is a meter whose clock is not started.
func silent(out *bytes.Buffer, terminal bool) *meter {
	return &meter{out: out, terminal: terminal, what: "building", begun: time.Now()}
}

func TestMeterMakesWayForOutput(t *testing.T) {
	var out bytes.Buffer
	m := silent(&out, true)
	m.at("3 packages")
	m.draw()
	fmt.Fprint(m, "half a")
	m.draw() // would break into the line
	fmt.Fprint(m, " line\n")
	m.draw()
	line := "  ... building, 0:00, 3 packages"
	if want := line + eraseLine + "half a line\n" + line; out.String() != want {
		t.Errorf("wrote %q, want %q", &out, want)
	}
}

func TestMeterInALogKeepsToLines(t *testing.T) {
	var out bytes.Buffer
	m := silent(&out, false)
	m.draw()
	fmt.Fprint(m, "ok\n")
	if want := "  ... building, 0:00\nok\n"; out.String() != want {
		t.Errorf("wrote %q, want %q", &out, want)
	}
}

func TestMeterStops(t *testing.T) {
	var out bytes.Buffer
	m := newMeter(&out, "building")
	if took := m.stop(); took < 0 || took > time.Minute {
		t.Errorf("took %v", took)
	}
	if out.Len() > 0 {
		t.Errorf("a short job drew a progress line: %q", &out)
	}
}

func TestClockAndShorten(t *testing.T) {
	if got := clock(245*time.Second + 400*time.Millisecond); got != "4:05" {
		t.Errorf("clock = %s, want 4:05", got)
	}
	if got := shorten("façade", 4); got != "faç…" {
		t.Errorf("shorten = %q", got)
	}
	if got := shorten("short", 5); got != "short" {
		t.Errorf("shorten = %q", got)
	}
}
