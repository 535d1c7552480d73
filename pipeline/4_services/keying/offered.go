package keying

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/decision"
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

// offers reads what is said of notes offered to the other hand, here and wherever the same keys stand in both hands: there a
// passage of which another line speaks is left to that line, and all are where the line says that it means this place alone.
func (k *Keying) offers(f *decision.Finder, p *SheetPassage, words []string) ([]decision.Decision, error) {
	words = slices.Clone(words)
	if len(words) > 0 { // ok: REASON as ok REASON
		words[0] = strings.TrimSuffix(words[0], ":")
	}
	here := len(words) > 1 && (words[1] == "here" || words[1] == "here:")
	if here {
		words = slices.Delete(words, 1, 2)
	}
	words, except := leftOut(words)
	d, err := k.offered(f, p, words)
	if err != nil || d.Verb == decision.Query || here {
		return one(d, err)
	}
	goes := map[string]bool{}
	for _, number := range p.Offer.Like {
		goes[k.measureOfOffer(number)] = true
	}
	for _, m := range except {
		if !goes[m] {
			return nil, fmt.Errorf("what is decided there does not go to m. %s\nhint: the sheet names the like places of #%d", m, p.Number)
		}
	}
	out := []decision.Decision{*d}
	for _, number := range p.Offer.Like {
		at := slices.IndexFunc(k.Passages, func(q SheetPassage) bool { return q.Number == number })
		if at < 0 || k.Spoken[number] || slices.Contains(except, k.measureOfOffer(number)) {
			continue
		}
		d, err := k.offered(f, &k.Passages[at], words)
		if err != nil {
			return nil, err
		}
		out = append(out, *d)
	}
	return out, nil
}

// leftOut reads the measures that are left out at the end of an answer: not 23, or not 23,36.
func leftOut(words []string) (before, measures []string) {
	if last := len(words) - 1; last > 1 && words[last-1] == notWord && '0' <= words[last][0] && words[last][0] <= '9' {
		return words[:last-1], strings.Split(words[last], ",")
	}
	return words, nil
}

// measureOfOffer is the number of the measure in which an offer begins, "" for none.
func (k *Keying) measureOfOffer(number int) string {
	at := slices.IndexFunc(k.Passages, func(q SheetPassage) bool { return q.Number == number })
	if at < 0 || len(k.Passages[at].Notes) == 0 {
		return ""
	}
	return k.Score.Measures[k.Score.Notes[k.Passages[at].Notes[0]].Measure].Number
}
