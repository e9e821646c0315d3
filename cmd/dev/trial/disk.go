//go:build linux

package trial

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"syscall"
)

func disks() []trial {
	return []trial{
		{name: "disk-full", does: "a disk with 0 to 120 KiB left: the old file stays whole, nothing half written stays", full: 200, alone: true, needs: noMount, once: diskFull},
		{name: "output-full", does: "standard output that takes nothing (`/dev/full`): told, exit 1", full: 12, short: 2, once: outputFull},
	}
}

// noMount tells why no small disk can be made here.
func noMount(w *workshop) string {
	if _, err := w.smallDisk(); err != nil {
		return "a small disk needs root: " + err.Error()
	}
	return ""
}

// diskSize is the size of the small disk, bytes.
const diskSize = 1 << 20

// smallDisk is a folder that is a disk of its own, of few bytes.
func (w *workshop) smallDisk() (string, error) {
	return kept(w, "small disk", func() (string, error) {
		dir := filepath.Join(w.dir, "disk")
		if err := os.Mkdir(dir, 0o755); err != nil {
			return "", err
		}
		if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d", diskSize)); err != nil {
			return "", err
		}
		w.atClose(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
		return dir, nil
	})
}

// fill fills a disk up to so many bytes.
func fill(dir string, left int64) error {
	f, err := os.Create(filepath.Join(dir, "filler"))
	if err != nil {
		return err
	}
	defer f.Close()
	block := bytes.Repeat([]byte("full"), 1024)
	var at syscall.Statfs_t
	for {
		if err := syscall.Statfs(dir, &at); err != nil {
			return err
		}
		if int64(at.Bavail)*at.Bsize <= left {
			return nil
		}
		if _, err := f.Write(block); err != nil {
			return nil // it is full
		}
	}
}

// writers are command lines that write to the disk, which is the folder disk.
var writers = [][]string{
	{"take-off", "skiff.csv", "-o", "disk/out.strakeplan"},
	{"take-off", "skiff.csv", "-o", "disk/plan.strakeplan", "--replace"},
	{"line", "disk/plan.strakeplan", "-o", "disk/out.strakeplan"},
	{"record", "disk/plan.strakeplan", "note", "--side", "port", "--strake", "1.01", "--doing", "glued"},
	{"record", "disk/plan.strakeplan", "history", "--csv", "disk/history.csv"},
	{"rules", "disk/plan.strakeplan", "--set", "least_width=0.4", "-o", "disk/out.strakeplan"},
	{"sheets", "disk/plan.strakeplan", "-o", "disk/sheets"},
	{"picture", "disk/plan.strakeplan", "-o", "disk/window.png"},
}

func diskFull(a *attempt) error {
	disk, err := a.smallDisk()
	if err != nil {
		return err
	}
	defer func() {
		entries, _ := os.ReadDir(disk) // where it cannot be read the next attempt tells
		for _, e := range entries {
			_ = os.RemoveAll(filepath.Join(disk, e.Name()))
		}
	}()
	if err := os.Symlink(disk, a.in("disk")); err != nil {
		return err
	}
	if _, _, err := a.asset("skiff.csv", "skiff.csv"); err != nil {
		return err
	}
	if _, _, err := a.asset("skiff.strakeplan", "disk/plan.strakeplan"); err != nil {
		return err
	}
	const most = 120 << 10
	if err := fill(disk, a.rng.Int64N(most)); err != nil {
		return err
	}
	was, err := contents(disk)
	if err != nil {
		return err
	}
	r := a.run(pick(a.rng, writers...)...)
	if err := r.plain(); err != nil {
		return err
	}
	is, err := contents(disk)
	if err != nil {
		return err
	}
	if c := changes(was, is); r.code == 1 && len(c) > 0 {
		return fmt.Errorf("it was refused, and yet %.5q: %v", c, r)
	} else if r.code == 0 && len(c) == 0 {
		return fmt.Errorf("it ended well, and nothing was written: %v", r)
	}
	return nil
}

// outputFull has the answer go where nothing can be written.
func outputFull(a *attempt) error {
	if _, _, err := a.asset("skiff.strakeplan", "plan.strakeplan"); err != nil {
		return err
	}
	was, err := contents(a.dir)
	if err != nil {
		return err
	}
	args := [][]string{{"check", "plan.strakeplan"}, {"strakes", "plan.strakeplan"}, {"strakes", "plan.strakeplan", "--json"}, {"record", "plan.strakeplan"}, {"rules", "plan.strakeplan"}, {"licences"}}
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	defer full.Close()
	line := args[a.n%len(args)]
	c := a.command(a.ctx, line...)
	var said bytes.Buffer
	c.Stdout, c.Stderr = full, &said
	_ = c.Run() // its state tells
	r := ran{args: line, code: c.ProcessState.ExitCode(), said: said.String()}
	if r.code != 1 {
		return fmt.Errorf("it did not tell that its answer was lost: %v", r)
	}
	if err := r.plain(); err != nil {
		return err
	}
	return a.untouched(was)
}
