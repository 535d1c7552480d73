package decide

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/rules/fingering"
)

// addEmbedded adds to what is placed the redistributions that an edition brings
// along. Decisions that are there come first: one on a note of theirs takes
// their place.
func addEmbedded(placed *Placed, embedded *edition.Embedded) {
	if embedded == nil {
		return
	}
	fits := func(notes []int) bool {
		return len(notes) > 0 &&
			!slices.ContainsFunc(notes, func(n int) bool { return n < 0 || n >= len(placed.Hands) })
	}
	declined := slices.Clone(placed.Declined)
	decided := func(n int) bool {
		return placed.Hands[n] != score.NoHand ||
			slices.ContainsFunc(declined, func(notes []int) bool { return slices.Contains(notes, n) })
	}
	for i := range embedded.Redistributions {
		k := &embedded.Redistributions[i]
		if k.To == score.NoHand || len(k.Fingers) != len(k.Notes) || !fits(k.Notes) ||
			slices.ContainsFunc(k.Notes, decided) {
			continue
		}
		r := fingering.Redistribution{
			ID: k.ID, To: k.To, Reason: reasonOf(k.Reason), Decided: true, Why: k.Why, Notes: k.Notes,
		}
		for j, n := range k.Notes {
			placed.Hands[n] = k.To
			r.Fingers = append(r.Fingers, fingering.Finger(k.Fingers[j]))
		}
		placed.Redistributions = append(placed.Redistributions, r)
	}
	for _, k := range embedded.Seconds {
		if k.N < 0 || k.N >= len(placed.Hands) || k.Finger < 1 || k.Finger > 5 {
			continue
		}
		if placed.Seconds == nil {
			placed.Seconds = make([]Second, len(placed.Hands))
		}
		if placed.Seconds[k.N].Finger == 0 {
			placed.Seconds[k.N] = Second{Finger: k.Finger, By: k.By, For: k.For}
		}
	}
	inOrder(placed.Redistributions)
	for _, notes := range embedded.Declined {
		if fits(notes) &&
			!slices.ContainsFunc(placed.Declined, func(d []int) bool { return slices.Equal(d, notes) }) &&
			!slices.ContainsFunc(notes, func(n int) bool { return placed.Hands[n] != score.NoHand }) {
			placed.Declined = append(placed.Declined, notes)
		}
	}
}
