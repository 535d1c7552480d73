package keying

import (
	"fingerproof/pipeline/3_records/decision"
	"fmt"
	"strings"
)

// offered reads what is said of notes offered to the other hand: ok takes
// them, stet leaves them where they are written, ? asks; what follows ok and
// stet is the reason.
func (k *Keying) offered(f *decision.Finder, p *SheetPassage, words []string) (*decision.Decision, error) {
	if len(words) == 0 {
		return nil, fmt.Errorf("nothing is said of it\nhint: ok, stet, or ? with a question")
	}
	d := &decision.Decision{
		On: decision.Redistribution, By: k.By, When: k.When, To: p.Offer.To, Why: strings.Join(words[1:], " "),
	}
	switch words[0] {
	case "ok":
		d.Verb, d.Reason = decision.Take, p.Offer.Reason
	case "stet":
		d.Verb, d.Reason = decision.Stet, p.Offer.Reason
	case "?", "?:", "query":
		d.Verb = decision.Query
		if d.Why == "" {
			return nil, fmt.Errorf("a query asks something\nhint: #%d ? does the slur allow it", p.Number)
		}
	default:
		return nil, fmt.Errorf("passage %d offers notes to the other hand: %q is no answer\n"+
			"hint: ok, stet, or ? with a question; other notes go into the file of decisions", p.Number, words[0])
	}
	for i, n := range p.Notes {
		var fingers []int
		if d.Verb == decision.Take && p.Offer.Fingers[i] > 0 {
			fingers = []int{p.Offer.Fingers[i]}
		}
		d.Notes = append(d.Notes, f.Ref(n, fingers))
	}
	if d.Verb == decision.Take {
		for _, n := range p.Offer.Staying {
			ref := f.Ref(n.N, []int{n.Finger})
			ref.Stays = true
			d.Notes = append(d.Notes, ref)
		}
	}
	return d, nil
}
