package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// wordsModule is a module with one file of code and one of German.
func wordsModule(t *testing.T, code, german string) string {
	t.Helper()
	root := t.TempDir()
	for _, folder := range []string{"app", "assets/tongue", "cmd/strakewright", "hull", "loft"} {
		if err := os.MkdirAll(filepath.Join(root, folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for path, text := range map[string]string{"cmd/strakewright/one.go": "package one\n" + code, "assets/tongue/one.de.json": german} {
		if err := os.WriteFile(filepath.Join(root, path), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return root
}

func TestWhatIsNotTranslatedIsTold(t *testing.T) {
	for name, c := range map[string]struct{ code, german, fault string }{
		"translated":        {`func f() { tongue.T("%d strips of %s", 1, "") }`, `{"%d strips of %s": "%[2]s: %[1]d Leisten"}`, ""},
		"percent":           {`func f() { tongue.T("5 % of it") }`, `{"5 % of it": "5 % davon"}`, ""},
		"missing":           {`func f() { tongue.T("strip") }`, `{}`, `one.go:2: "strip" is not in de.json`},
		"joined":            {`func f() { tongue.T("a " + "strip") }`, `{}`, `"a strip" is not in`},
		"constant":          {"const wood = \"strip\"\nfunc f() { tongue.T(\"a \" + wood) }", `{}`, `"a strip" is not in`},
		"context":           {`func f() { tongue.In("wood", "strip") }`, `{"strip": "Leiste"}`, `"[wood] strip" is not in`},
		"both":              {`func f() { tongue.Count(1, "%d strip", "%d strips", 1) }`, `{"%d strip": "%d Leiste"}`, `"%d strips" is not in`},
		"idle":              {``, `{"strip": "Leiste"}`, `nothing says "strip"`},
		"other figure":      {`func f() { tongue.T("%d strips", 1) }`, `{"%d strips": "%s Leisten"}`, `has other figures`},
		"figure lost":       {`func f() { tongue.T("%d strips", 1) }`, `{"%d strips": "Leisten"}`, `has other figures`},
		"help":              {"type c struct { F bool `help:\"Say all.\"` }", `{}`, `"Say all." is not in`},
		"too early":         {`var a = tongue.T("strip")`, `{"strip": "Leiste"}`, `before the language is known`},
		"marked":            {`var a = tongue.Mark("strip")`, `{"strip": "Leiste"}`, ""},
		"own sayer":         {"// note says.\n//\n//tongue:says 1\nfunc note(n int, s string) {}\nfunc f() { note(1, \"strip\") }", `{}`, `"strip" is not in`},
		"reserved":          {`func f() { tongue.T("Other") }`, `{"Other": "Anderes"}`, `takes "Other" for a field`},
		"not of a sayer":    {`func f() { other("strip") }`, `{}`, ""},
		"place of an error": {`func f() { fmt.Errorf("%s: %w", "", nil) }`, `{}`, ""},
		"English alone":     {`func f() { fmt.Errorf("not one strip: %w", nil) }`, `{}`, `make it by tongue.Errorf`},
		"new, English":      {`func f() { errors.New("not one strip") }`, `{}`, `make it by tongue.New`},
		"signs are no text": {`func f() { tongue.T("%d × %s", 1, "") }`, `{}`, ""},
	} {
		t.Run(name, func(t *testing.T) {
			faults, err := untranslated(wordsModule(t, c.code, c.german))
			if err != nil {
				t.Fatal(err)
			}
			told := strings.Join(faults, "\n")
			if c.fault == "" && told != "" || !strings.Contains(told, c.fault) {
				t.Errorf("got %q, want %q", told, c.fault)
			}
		})
	}
}

func TestTwoFilesMayNotDifferOverAText(t *testing.T) {
	root := wordsModule(t, `func f() { tongue.T("strip") }`, `{"strip": "Leiste"}`)
	if err := os.WriteFile(filepath.Join(root, wordsFolder, "two.de.json"), []byte(`{"strip": "Streifen"}`), 0o644); err != nil {
		t.Fatal(err)
	}
	faults, err := untranslated(root)
	if err != nil || len(faults) != 1 || !strings.Contains(faults[0], "translated otherwise") {
		t.Errorf("got %q, %v", faults, err)
	}
}
