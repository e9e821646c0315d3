package export

import (
	"crypto/sha256"
	"encoding/hex"
	"time"

	"github.com/strakewright/strakewright/app/sheets/paper"
	"github.com/strakewright/strakewright/hull"
)

// StampOf tells a state of a plan from others, on all that is made of it.
func StampOf(p *hull.Plan, date time.Time) paper.Stamp {
	return paper.Stamp{Revision: revision(p), Date: date}
}

// digits are those of a revision: of a hundred states of a plan, two share one of 16^7
// with a chance of 1 in 54,000 (the birthday bound, n²/2m).
const digits = 7

// revision is a short name of what a plan's sheets follow from: the SHA-256 of its
// file, without the record of the bench, of which nothing stands on a sheet.
func revision(p *hull.Plan) string {
	decisions := *p
	decisions.Record = hull.Record{}
	h := sha256.New()
	if err := decisions.Write(h); err != nil {
		return ""
	}
	return hex.EncodeToString(h.Sum(nil))[:digits]
}
