package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// examples are the files of assets that README.md works on.
var examples = []string{"coaster.csv", "coaster.strakeplan", "skiff.csv", "skiff.strakeplan"}

// exampleFolder is where they go, below share.
const exampleFolder = "doc/strakewright/examples"

// tarball is an archive of the program with what belongs to it, below one folder whose
// bin and share go into any place where a system looks, such as ~/.local.
func (s *shop) tarball(r release, system, work, program string, w words) (string, []byte, error) {
	name := "strakewright-" + plainName(r.version) + "-" + system + "-" + runtime.GOARCH
	below := filepath.Join(work, name)
	to, err := placesBelow(below, func(string) string { return "" })
	if err != nil {
		return "", nil, err
	}
	if err := to.fill(s.root, program, "strakewright", w); err != nil {
		return "", nil, err
	}
	if err := s.putTexts(below); err != nil {
		return "", nil, err
	}
	if err := s.putExamples(to.data); err != nil {
		return "", nil, err
	}
	if err := settled(below, r.when); err != nil {
		return "", nil, err
	}
	archive, err := tarOf(below, name, r.when)
	return name + ".tar.gz", archive, err
}

// windowsZip is an archive of the program for Windows.
func (s *shop) windowsZip(r release, program string) (map[string][]byte, error) {
	name := "strakewright-" + plainName(r.version) + "-windows-amd64"
	below := filepath.Join(filepath.Dir(program), name)
	built, err := os.ReadFile(program)
	if err != nil {
		return nil, err
	}
	if err := putFile(filepath.Join(below, "strakewright.exe"), built, true); err != nil {
		return nil, err
	}
	if err := s.putTexts(below); err != nil {
		return nil, err
	}
	if err := s.putExamples(below); err != nil {
		return nil, err
	}
	if err := settled(below, r.when); err != nil {
		return nil, err
	}
	archive, err := zipOf(below, name, r.when)
	return map[string][]byte{name + ".zip": archive}, err
}

// plainName is a version as files are named that go through any hands.
func plainName(version string) string {
	return strings.NewReplacer("~", "-", "+", "-").Replace(version)
}

// putTexts puts what everyone is to read on top.
func (s *shop) putTexts(below string) error {
	for to, from := range map[string]string{"README.md": "README.md", "LICENSE": "LICENSE", "LICENCES.txt": noticesFile} {
		if err := s.putCopy(filepath.Join(below, to), from); err != nil {
			return err
		}
	}
	return nil
}

// putExamples puts the demo ships where they are looked for, below share.
func (s *shop) putExamples(share string) error {
	for _, name := range examples {
		if err := s.putCopy(filepath.Join(share, filepath.FromSlash(exampleFolder), name), "assets/"+name); err != nil {
			return err
		}
	}
	return nil
}

// putCopy copies a file of the source.
func (s *shop) putCopy(to, from string) error {
	data, err := os.ReadFile(filepath.Join(s.root, filepath.FromSlash(from)))
	if err != nil {
		return fmt.Errorf("reading %s: %w", from, err)
	}
	return putFile(to, data, false)
}

// eachFile visits a tree in the order of names, folders before what is in them, each by
// its path with the tree's own name first.
func eachFile(below, name string, visit func(path, called string, info fs.FileInfo) error) error {
	return filepath.WalkDir(below, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(below, path)
		if err != nil {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		called := name
		if rel != "." {
			called += "/" + filepath.ToSlash(rel)
		}
		return visit(path, called, info)
	})
}

// tarOf is a tree as a tar archive (POSIX ustar) that gzip compressed. Nothing in it tells
// of the machine: all belongs to root and is of one time.
func tarOf(below, name string, when time.Time) ([]byte, error) {
	var plain bytes.Buffer
	t := tar.NewWriter(&plain)
	err := eachFile(below, name, func(path, called string, info fs.FileInfo) error {
		h := &tar.Header{Format: tar.FormatUSTAR, Name: called, Mode: int64(info.Mode().Perm()), ModTime: when, Uname: "root", Gname: "root"}
		if info.IsDir() {
			h.Typeflag, h.Name = tar.TypeDir, called+"/"
			return t.WriteHeader(h)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		h.Typeflag, h.Size = tar.TypeReg, int64(len(data))
		if err := t.WriteHeader(h); err != nil {
			return err
		}
		_, err = t.Write(data)
		return err
	})
	if err == nil {
		err = t.Close()
	}
	if err != nil {
		return nil, fmt.Errorf("the archive %s: %w", name, err)
	}
	return gzipped(plain.Bytes())
}

// zipOf is a tree as a ZIP archive.
func zipOf(below, name string, when time.Time) ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	err := eachFile(below, name, func(path, called string, info fs.FileInfo) error {
		if info.IsDir() {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		h := &zip.FileHeader{Name: called, Method: zip.Deflate, Modified: when}
		h.SetMode(info.Mode().Perm())
		to, err := z.CreateHeader(h)
		if err != nil {
			return err
		}
		_, err = to.Write(data)
		return err
	})
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		return nil, fmt.Errorf("the archive %s: %w", name, err)
	}
	return out.Bytes(), nil
}

// gzipped compresses as "gzip -9n" does, without a name or a time.
func gzipped(data []byte) ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(data); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
