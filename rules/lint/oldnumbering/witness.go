package oldnumbering

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// enough is on how many notes a witness has to differ by one, and on none otherwise.
const enough = 4

// witnesses finds those that count in another way than is declared: their
// digits are all one lower than the text's where + 1 2 3 4 is read as 1 to 5
// (FACTS §5.1), and one higher where it is the other way about.
func witnesses(p *lint.Pass) {
	type count struct{ lower, higher, first int }
	counts, other := map[string]*count{}, map[string]bool{}
	p.WitnessDigits(func(w *lint.Witness, m, n int, _ string) {
		theirs, ours := only(&w.Score.Notes[m]), only(&p.Score.Notes[n])
		if theirs == 0 || ours == 0 {
			return
		}
		c := counts[w.Siglum]
		if c == nil {
			c = &count{first: n}
			counts[w.Siglum] = c
		}
		switch theirs - ours {
		case -1:
			c.lower++
		case 1:
			c.higher++
		default:
			other[w.Siglum] = true
		}
	})
	for i := range p.Witnesses { // in the order of the manifest
		siglum := p.Witnesses[i].Siglum
		c := counts[siglum]
		if c == nil || other[siglum] || c.lower+c.higher < enough || c.lower > 0 && c.higher > 0 {
			continue
		}
		lower, fix := "lower", "if they count + 1 2 3 4, declare `numbering: old` for the witness"
		if c.higher > 0 {
			lower, fix = "higher", "one of the two counts + 1 2 3 4: declare for the witness how it counts, or mend the text"
		}
		p.Report(lint.Finding{
			Notes:   []int{c.first},
			Message: fmt.Sprintf("the digits of witness %s are one %s than the text's on all %d notes on which both have one", siglum, lower, c.lower+c.higher),
			Fix:     fix,
		})
	}
}

// only is the finger of a note with one digit, 0 for any other note.
func only(n *score.Note) int {
	finger := 0
	for k := range n.Indications {
		ind := &n.Indications[k]
		switch {
		case ind.Alternate || ind.Hidden:
		case finger > 0 || len(ind.Fingers) != 1:
			return 0
		default:
			finger = ind.Fingers[0]
		}
	}
	return finger
}
