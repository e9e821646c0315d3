package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// screen starts an X server with one screen of that size, and gives its display.
//
// The number of the display is taken under the server's own lock, so that two tests
// never share a server, and the server stays as it is when its last window goes:
// by itself it would begin anew, and refuse whoever comes meanwhile.
func screen(t testing.TB, size string, options ...string) string {
	t.Helper()
	const first, most = 60, 200
	said := &strings.Builder{}
	for number := first + os.Getpid()%100; number < first+most; number++ {
		display := ":" + strconv.Itoa(number)
		c := exec.Command("Xvfb", append([]string{display, "-screen", "0", size + "x24", "-nolisten", "tcp", "-noreset"}, options...)...)
		c.Stderr = said
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		ended := make(chan struct{})
		go func() {
			_ = c.Wait() // by a signal, or because the display was taken
			close(ended)
		}()
		if serves(c.Process.Pid, number, ended) {
			t.Cleanup(func() {
				_ = c.Process.Signal(syscall.SIGTERM)
				<-ended
			})
			return display
		}
	}
	t.Fatalf("no X server of ours answers: %s", said)
	return ""
}

// serves waits until that server holds the lock of its display and answers there;
// it is false of a server that ends before, as where the display was taken.
func serves(process, number int, ended <-chan struct{}) bool {
	for {
		select {
		case <-ended:
			return false
		default:
		}
		if locks(process, number) && answers(number) {
			return true
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// locks tells whether a process holds the lock of a display.
func locks(process, number int) bool {
	text, err := os.ReadFile(fmt.Sprintf("/tmp/.X%d-lock", number))
	if errors.Is(err, os.ErrNotExist) {
		return false
	}
	holder, err := strconv.Atoi(strings.TrimSpace(string(text)))
	return err == nil && holder == process
}

// answers tells whether an X server answers.
func answers(number int) bool {
	c := exec.Command("xdotool", "getdisplaygeometry")
	c.Env = append(os.Environ(), "DISPLAY=:"+strconv.Itoa(number))
	return c.Run() == nil
}
