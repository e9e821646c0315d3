package autosave

import (
	"errors"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
)

// disk is what is written to in the tests.
type disk struct {
	mu      sync.Mutex
	written []string
	err     error
}

// fails has it fail from now on, or, with nil, no more.
func (d *disk) fails(err error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.err = err
}

func (d *disk) write(s string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.err == nil {
		d.written = append(d.written, s)
	}
	return d.err
}

func TestTheLastOfManyIsWrittenInTime(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var d disk
		s := New(d.write, nil)
		s.Note("a")
		time.Sleep(Delay / 2)
		synctest.Wait()
		s.Note("b") // puts nothing off
		time.Sleep(Delay / 2)
		synctest.Wait()
		assert.Equal(t, []string{"b"}, d.written)
		s.Note("c")
		assert.NoError(t, s.Now("c"))
		time.Sleep(2 * Delay)
		synctest.Wait()
		assert.Equal(t, []string{"b", "c"}, d.written, "it is written already")
		s.Note("d")
		s.Flush()
		s.Note("e")
		s.Forget()
		s.Note("f")
		s.Drop(func() { d.written = append(d.written, "dropped") })
		s.Close(func() {})
		s.Note("g")
		time.Sleep(2 * Delay)
		synctest.Wait()
		assert.Equal(t, []string{"b", "c", "d", "dropped"}, d.written)
	})
}

func TestWhatFailedIsToldAndTriedAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		full, gone := errors.New("full"), errors.New("gone")
		d := disk{err: full}
		s := New(d.write, func(err error) bool { return errors.Is(err, full) })
		var told []error
		s.OnError(func(err error) { told = append(told, err) })
		s.Note("a")
		time.Sleep(3*Delay + Delay/2)
		synctest.Wait()
		assert.Equal(t, []error{full}, told, "told once")
		assert.Equal(t, full, s.Err())
		d.fails(nil)
		time.Sleep(Delay)
		synctest.Wait()
		assert.Equal(t, []string{"a"}, d.written)
		assert.Equal(t, []error{full, nil}, told)
		d.fails(gone)
		assert.Equal(t, gone, s.Now("b"))
		d.fails(nil)
		time.Sleep(2 * Delay)
		synctest.Wait()
		assert.Equal(t, []string{"a"}, d.written, "that is not tried again")
		assert.Equal(t, gone, s.Err())
		s.Drop(func() {})
		assert.NoError(t, s.Err())
	})
}
