package redistribute

import (
	"fmt"
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/rules/fingering"
)

// nameWitnesses adds to what is offered which witnesses say so by a hand sign: a sign for the hand that takes them
// stands there at half of the notes or more.
func nameWitnesses(
	s *score.Score, sources []witnesses.Witness, scoring hands.Scoring, offers []fingering.Redistribution,
) {
	if len(offers) == 0 {
		return
	}
	for w := range sources {
		signed, err := hands.Signed(sources[w].Score, scoring)
		if err != nil || !slices.ContainsFunc(signed, func(n hands.SignedNotes) bool { return n.Other }) {
			continue // a witness with other parts is no witness of hands
		}
		al := align.Align(s, sources[w].Score, align.Options{})
		says := map[int]score.Direction{} // note of the text → sign
		for _, n := range signed {
			for _, j := range n.Notes {
				i := al.ToA[j]
				if i < 0 {
					i = al.CoverA[j]
				}
				if i >= 0 {
					says[i] = n.Sign
				}
			}
		}
		for k := range offers {
			r := &offers[k]
			same, text := 0, ""
			for _, n := range r.Notes {
				if d, ok := says[n]; ok && d.Hand == r.To {
					same++
					text = d.Text
				}
			}
			if same > 0 && 2*same >= len(r.Notes) {
				r.Why += fmt.Sprintf(" Witness %s gives it so, by its sign %q.", sources[w].Siglum, text)
			}
		}
	}
}
