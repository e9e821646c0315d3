package edit

import "github.com/strakewright/strakewright/hull"

// RulesSet gives the change that sets the trade's rules of thumb. It is refused
// where a figure is none that a rule may have.
func RulesSet(to hull.Trade) Change {
	return func(p *hull.Plan) error {
		if err := to.Check(); err != nil {
			return err
		}
		p.Trade = to
		return nil
	}
}
