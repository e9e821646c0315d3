package window

import (
	"fmt"
	"os"
	"time"
)

// painted tells a test of the real window that its first frame is finished: where
// STRAKEWRIGHT_PROBE names a file, the time, in ns since 1970, is written beside
// it, to the file of that name with .painted after it.
func (p *probe) painted() {
	if p.path == "" {
		return
	}
	p.write()                                                                            // the views have their places now
	_ = os.WriteFile(p.path+".painted", fmt.Appendln(nil, time.Now().UnixNano()), 0o600) // as in write
}
