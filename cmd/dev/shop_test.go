package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func testShop(t *testing.T) (*shop, *bytes.Buffer) {
	t.Helper()
	var out bytes.Buffer
	return &shop{ctx: context.Background(), root: t.TempDir(), out: &out, messages: &out}, &out
}

func TestModuleRoot(t *testing.T) {
	root := t.TempDir()
	deep := filepath.Join(root, "app", "draw")
	if err := os.MkdirAll(deep, 0o755); err != nil {
		t.Fatal(err)
	}
	if _, err := moduleRoot(deep); err == nil {
		t.Error("a folder without go.mod was taken for the module")
	}
	if err := os.WriteFile(filepath.Join(root, "go.mod"), []byte("module github.com/strakewright/strakewright\n\ngo 1.26\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if got, err := moduleRoot(deep); err != nil || got != root {
		t.Errorf("moduleRoot = %q, %v, want %q", got, err, root)
	}
}

func TestReadsCarriesTheComplaint(t *testing.T) {
	s, _ := testShop(t)
	_, err := s.reads(nil, "go", "no-such-command")
	if err == nil || !strings.Contains(err.Error(), "no-such-command") {
		t.Errorf("error %v, want what go said in it", err)
	}
}

func TestStreamsShowsOutputAndFails(t *testing.T) {
	s, out := testShop(t)
	if err := s.streams("listing", nil, "go", "env", "GOOS"); err != nil || out.Len() == 0 {
		t.Errorf("error %v, output %q", err, out)
	}
	if err := s.streams("failing", nil, "go", "no-such-command"); err == nil {
		t.Error("a failing command gave no error")
	}
}
