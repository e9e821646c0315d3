package main

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// events are what go test -json prints for a package in which one test passes,
// one fails and one is skipped; another line comes from elsewhere.
const events = `{"Action":"start","Package":"m/a"}
{"Action":"run","Package":"m/a","Test":"TestGood"}
{"Action":"output","Package":"m/a","Test":"TestGood","Output":"=== RUN   TestGood\n"}
{"Action":"output","Package":"m/a","Test":"TestGood/part","Output":"a part\n"}
{"Action":"pass","Package":"m/a","Test":"TestGood/part","Elapsed":1.4}
{"Action":"pass","Package":"m/a","Test":"TestGood","Elapsed":1.5}
go: downloading something
{"Action":"output","Package":"m/a","Test":"TestBad","Output":"    a_test.go:9: bent\n"}
{"Action":"output","Package":"m/a","Test":"TestBad","Output":"--- FAIL: TestBad (2.50s)\n"}
{"Action":"fail","Package":"m/a","Test":"TestBad","Elapsed":2.5}
{"Action":"output","Package":"m/a","Test":"TestIdle","Output":"    a_test.go:12: no tool\n"}
{"Action":"skip","Package":"m/a","Test":"TestIdle","Elapsed":0}
{"Action":"output","Package":"m/a","Output":"FAIL\n"}
{"Action":"output","Package":"m/a","Output":"FAIL\tm/a\t4.0s\n"}
{"Action":"fail","Package":"m/a","Elapsed":4}
{"Action":"output","Package":"m/b","Output":"PASS\n"}
{"Action":"output","Package":"m/b","Output":"ok  \tm/b\t0.1s\n"}
{"ImportPath":"m/c","Action":"build-output","Output":"c.go:3: undefined: x\n"}
`

func TestTheLogShowsWhatFailed(t *testing.T) {
	var out bytes.Buffer
	l := newTestLog(&out, false)
	for part := range strings.SplitSeq(events, "\"Package\"") { // in pieces, as from a pipe
		fmt.Fprint(l, part)
		fmt.Fprint(l, "\"Package\"")
	}
	want := `go: downloading something
    a_test.go:9: bent
--- FAIL: TestBad (2.50s)
    a_test.go:12: no tool
FAIL
FAIL	m/a	4.0s
ok  	m/b	0.1s
c.go:3: undefined: x
`
	if out.String() != want {
		t.Errorf("shown\n%s\nwant\n%s", &out, want)
	}
	if got, want := l.slowest(), "    2.5 s  m/a TestBad\n    1.5 s  m/a TestGood\n    0.0 s  m/a TestIdle"; got != want {
		t.Errorf("slowest\n%s\nwant\n%s", got, want)
	}
}

func TestTheLogShowsAllThatIsAskedFor(t *testing.T) {
	var out bytes.Buffer
	fmt.Fprint(newTestLog(&out, true), events)
	for _, want := range []string{"=== RUN   TestGood\n", "a part\n", "PASS\n"} {
		if strings.Count(out.String(), want) != 1 {
			t.Errorf("%q is not shown once:\n%s", want, &out)
		}
	}
}

// A test that panics never ends: its output is not lost.
func TestTheLogKeepsWhatDidNotEnd(t *testing.T) {
	l := newTestLog(&bytes.Buffer{}, false)
	fmt.Fprintln(l, `{"Action":"output","Package":"m/a","Test":"TestTorn","Output":"panic: torn\n"}`)
	if got := l.rest(); got != "panic: torn\n" {
		t.Errorf("rest %q", got)
	}
}

func TestOnlyTheSlowestTenAreListed(t *testing.T) {
	l := newTestLog(&bytes.Buffer{}, false)
	for i := range 15 {
		fmt.Fprintf(l, "{\"Action\":\"pass\",\"Package\":\"m\",\"Test\":\"T%d\",\"Elapsed\":%d}\n", i, i)
	}
	lines := strings.Split(l.slowest(), "\n")
	if len(lines) != 10 || !strings.HasSuffix(lines[0], "m T14") || !strings.HasSuffix(lines[9], "m T5") {
		t.Errorf("listed %q", lines)
	}
}
