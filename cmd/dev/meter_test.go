package main

import (
	"bytes"
	"fmt"
	"testing"
	"testing/synctest"
	"time"
)

// silent is a meter that draws only when it is told to.
func silent(out *bytes.Buffer, terminal bool) *meter {
	return &meter{out: out, terminal: terminal, what: "building", begun: time.Now()}
}

func TestMeterMakesWayForOutput(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
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
	})
}

func TestMeterInALogKeepsToLines(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var out bytes.Buffer
		m := silent(&out, false)
		m.draw()
		fmt.Fprint(m, "ok\n")
		if want := "  ... building, 0:00\nok\n"; out.String() != want {
			t.Errorf("wrote %q, want %q", &out, want)
		}
	})
}

func TestMeterStops(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var out bytes.Buffer
		m := newMeter(&out, "building")
		time.Sleep(logEvery - time.Second)
		if took := m.stop(); took != logEvery-time.Second {
			t.Errorf("took %v", took)
		}
		if out.Len() > 0 {
			t.Errorf("a short job drew a progress line: %q", &out)
		}
	})
}

func TestMeterGoesOnInALog(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var out bytes.Buffer
		m := newMeter(&out, "building")
		time.Sleep(2*logEvery + time.Second)
		m.stop()
		if want := "  ... building, 0:30\n  ... building, 1:00\n"; out.String() != want {
			t.Errorf("wrote %q, want %q", &out, want)
		}
	})
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
