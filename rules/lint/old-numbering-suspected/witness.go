package oldnumberingsuspected

import (
	"fmt"

	"fingerproof/rules/lint"
)

// witnesses reports those that seem to count in another way than is declared.
func witnesses(p *lint.Inspection) {
	for _, c := range p.Countings() {
		lower, fix := "lower", "if they count + 1 2 3 4, declare \"numbering: old\" for the witness"
		switch c.By {
		case 0:
			continue
		case 1:
			lower = "higher"
			fix = "one of the two counts + 1 2 3 4: declare for the witness how it counts, or mend the text"
		}
		p.Report(lint.Finding{
			Notes: []int{c.First},
			Message: fmt.Sprintf(
				"the digits of witness %s are one %s than the text's on all %d notes on which both have one", c.Siglum,
				lower, c.Notes,
			),
			Fix: fix,
		})
	}
}
