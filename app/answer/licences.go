package answer

import (
	"io"
	"strings"
)

// Licences is the answer of the command licences: the notices of all that the
// program is built with.
type Licences struct {
	Modules []ModuleNotices `json:"modules"`

	text string
}

// ModuleNotices are those of one module.
type ModuleNotices struct {
	Module  string   `json:"module"`
	Version string   `json:"version"`
	Notices []Notice `json:"notices"`
}

// Notice is a file of a module that tells under what terms it may be used.
type Notice struct {
	File string `json:"file"`
	Text string `json:"text"`
}

// LicencesOf reads the notices as they come with the program: a line "§ module
// version" before those of a module, and a line "— file" before each.
func LicencesOf(text string) Licences {
	out := Licences{Modules: []ModuleNotices{}, text: text}
	var into *string
	for line := range strings.Lines(text) {
		if name, ok := strings.CutPrefix(line, "§ "); ok {
			module, version, _ := strings.Cut(strings.TrimSpace(name), " ")
			out.Modules = append(out.Modules, ModuleNotices{module, version, []Notice{}})
			into = nil
		} else if file, ok := strings.CutPrefix(line, "— "); ok && len(out.Modules) > 0 {
			m := &out.Modules[len(out.Modules)-1]
			m.Notices = append(m.Notices, Notice{File: strings.TrimSpace(file)})
			into = &m.Notices[len(m.Notices)-1].Text
		} else if into != nil && (*into != "" || strings.TrimSpace(line) != "") {
			*into += line
		}
	}
	for i := range out.Modules {
		for j := range out.Modules[i].Notices {
			n := &out.Modules[i].Notices[j]
			n.Text = strings.TrimRight(n.Text, "\n")
		}
	}
	return out
}

// Text writes them as they come.
func (a Licences) Text(w io.Writer) error {
	p := &page{w: w}
	for line := range strings.Lines(a.text) {
		p.line("%s", strings.TrimSuffix(line, "\n"))
	}
	return p.err
}
