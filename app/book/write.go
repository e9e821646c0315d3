package book

import (
	"bytes"
	"fmt"
	"html"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"github.com/strakewright/strakewright/assets"
)

// cover is the page with which the book opens.
const cover = "README"

// head and foot stand round a page.
const (
	head = `<!DOCTYPE html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>%s</title>
<style>
body { max-width: 46rem; margin: 2rem auto; padding: 0 1rem; font: 1.05rem/1.55 serif; color: #1f2328; background: #fbfaf6 }
h1, h2 { line-height: 1.2; font-family: sans-serif }
img { max-width: 100%%; border: 1px solid #c9c4b5 }
pre { overflow-x: auto; padding: .7rem; background: #efece2; font-size: .85rem; line-height: 1.35 }
table { border-collapse: collapse } td, th { padding: .2rem .7rem; border-bottom: 1px solid #c9c4b5; text-align: left }
blockquote { margin: 1rem 0; padding: .2rem 1rem; border-left: 4px solid #9a3412; background: #f6ece2 }
</style>
`
	foot = "</html>\n"
)

// Write writes the book into a folder, which it makes, as pages for a browser with their
// pictures, and gives the path of the first.
func Write(folder string) (first string, err error) {
	all := assets.Book()
	md := goldmark.New(goldmark.WithExtensions(extension.Table))
	err = fs.WalkDir(all, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		to := filepath.Join(folder, filepath.FromSlash(name))
		if d.IsDir() {
			return os.MkdirAll(to, 0o755)
		}
		data, err := fs.ReadFile(all, name)
		if err != nil {
			return err
		}
		if page, ok := strings.CutSuffix(to, ".md"); ok {
			to = page + ".html"
			if data, err = laidOut(md, data); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
		}
		return os.WriteFile(to, data, 0o644)
	})
	if err != nil {
		return "", fmt.Errorf("writing the book: %w", err)
	}
	return filepath.Join(folder, cover+".html"), nil
}

// laidOut gives a page in Markdown as HTML, with its links to other pages as these are
// named there.
func laidOut(md goldmark.Markdown, page []byte) ([]byte, error) {
	title, _, _ := strings.Cut(strings.TrimPrefix(string(page), "# "), "\n")
	var out bytes.Buffer
	fmt.Fprintf(&out, head, html.EscapeString(title))
	if err := md.Convert([]byte(strings.ReplaceAll(string(page), ".md)", ".html)")), &out); err != nil {
		return nil, err
	}
	out.WriteString(foot)
	return out.Bytes(), nil
}
