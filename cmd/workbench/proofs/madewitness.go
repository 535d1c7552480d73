package proofs

import (
	"slices"
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/13_credit"
)

// madeWitness makes a witness in old numbering of which the truth is known, and looks at every digit.
func madeWitness(a *score.Score) (looked, wrong int) {
	b := *a
	b.Notes = slices.Clone(a.Notes)
	truth := make([]int, len(a.Notes)) // the finger in the witness, 0 for none
	for i := range b.Notes {
		n := &b.Notes[i]
		had := 0
		if len(n.Indications) == 1 {
			had = n.Indications[0].Finger()
		}
		n.Indications = nil
		if n.Kind != score.Pitched || n.TiedFrom >= 0 || n.Cue || n.Hidden {
			continue
		}
		switch {
		case had > 0 && i%3 == 0: // taken out
		case had > 0 && i%3 == 1: // changed
			truth[i] = had%5 + 1
		case had > 0:
			truth[i] = had
		case i%11 == 0: // added
			truth[i] = i%5 + 1
		}
		if f := truth[i]; f > 0 {
			text := "+"
			if f > 1 {
				text = strconv.Itoa(f - 1)
			}
			n.Indications = []score.Indication{{Text: text}}
		}
	}
	src := attribute.Compare(a, []witnesses.Witness{{Siglum: "W", Old: true, Responsibility: score.Earlier, Score: &b}})
	for i := range a.Notes {
		text := a.Notes[i].Indications
		if len(text) > 1 || len(text)+truth[i] == 0 || len(text) == 1 && text[0].Finger() == 0 {
			continue
		}
		looked++
		var readings []int
		for _, r := range src.Readings[i] {
			readings = append(readings, r.Fingers...)
		}
		right := truth[i] == 0 && len(readings) == 0 || len(readings) == 1 && readings[0] == truth[i]
		if len(text) == 1 {
			right = right && (len(src.Sigla[i][0]) == 1) == (truth[i] == text[0].Finger())
		} else if truth[i] > 0 {
			digit := credit.Of(truth[i], src.Readings[i])
			right = right && digit.Who == score.Earlier && slices.Equal(digit.Sigla, []string{"W"})
		}
		if !right {
			wrong++
		}
	}
	return looked, wrong
}
