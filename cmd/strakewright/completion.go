package main

import (
	"fmt"

	"github.com/alecthomas/kong"
	"github.com/willabides/kongplete"

	"github.com/strakewright/strakewright/assets/tongue"
)

type completionCmd struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"The shell: bash, zsh or fish."`
}

// Run prints what a shell is to read, so that the Tab key completes commands and flags.
func (c *completionCmd) Run(s *streams) error {
	_, err := fmt.Fprint(s.out, completions[c.Shell])
	if err != nil {
		return tongue.Errorf("standard output: %w", err)
	}
	return nil
}

// completions are what the shells read. Each asks the program by the variable COMP_LINE,
// as bash itself has it, and completes names of files where the program knows nothing.
var completions = map[string]string{
	"bash": `complete -o default -o bashdefault -C strakewright strakewright
`,
	"zsh": `#compdef strakewright
_strakewright() {
    local -a words_here=("${words[@][1,CURRENT]}") given
    given=("${(@f)$(COMP_LINE="${(j: :)words_here}" strakewright 2>/dev/null)}")
    given=("${(@)given:#}")
    if (( $#given )); then
        compadd -- "${given[@]}"
    else
        _files
    fi
}
if [[ "$funcstack[1]" == _strakewright ]]; then
    _strakewright "$@"
else
    compdef _strakewright strakewright
fi
`,
	"fish": `complete -c strakewright -a '(COMP_LINE=(commandline -cp | string collect) strakewright 2>/dev/null)'
`,
}

// complete answers a shell that asks how a line may go on, if one does.
func complete(parser *kong.Kong) { kongplete.Complete(parser) }
