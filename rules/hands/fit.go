package hands

import "fingerproof/corpus/score"

// Example is a piece whose hands are known.
type Example struct {
	Notes []Note
	Hands []score.Hand
}

// Fit learns weights from examples: a structured perceptron, averaged, with steps of the size of the mistakes. The result depends
// on the order of the examples alone.
func Fit(examples []Example, rounds int) Weights {
	w := start
	var sum [features]int64
	count := int64(0)
	for range rounds {
		for _, e := range examples {
			got := infer(e.Notes, &w)
			var diff [features]int64
			count1 := int64(0)
			gold := measure(e.Notes, e.Hands)
			mine := measure(e.Notes, got)
			for i := range got {
				if got[i] != e.Hands[i] {
					count1++
				}
			}
			for f := range diff {
				diff[f] = gold[f] - mine[f]
			}
			if count1 > 0 {
				var norm int64
				for _, d := range diff {
					norm += d * d
				}
				if norm > 0 {
					// Passive-aggressive: as far as the mistakes ask for, and no farther than a tenth.
					var lack int64
					for f, d := range diff {
						lack += int64(w[f]) * d
					}
					lack += 1000 * count1
					for f, d := range diff {
						w[f] -= int32(max(min(lack*d/norm, 40), -40))
					}
				}
			}
			for f := range sum {
				sum[f] += int64(w[f])
			}
			count++
		}
	}
	for f := range w {
		w[f] = int32(sum[f] / count)
	}
	return w
}

// measure adds up the features of a piece with the hands dealt as given; moments dealt otherwise than any choice go by the nearest.
func measure(notes []Note, dealt []score.Hand) (out [features]int64) {
	s := &state{}
	for _, m := range momentsOf(notes) {
		var best choice
		agree := -1
		for _, c := range choices(notes, m) {
			n := 0
			for i, note := range m {
				if c.hand(i) == dealt[note] {
					n++
				}
			}
			if n > agree {
				best, agree = c, n
			}
		}
		next := &state{hands: s.hands}
		step(notes, m, s, best, func(f Feature, v int64) int64 { out[f] += v; return 0 }, &next.hands)
		s = next
	}
	return out
}

// start is where fitting begins: our own judgement.
var start = Weights{
	overSixth: 60, overOctave: 250, overNinth: 700, tooMany: 3000, heldOctave: 120, heldTenth: 500, moveNear: 40, moveFar: 20, moveNearLater: 25, moveFarLater: 10,
	lowInRight: 40, highInLeft: 40, veryLow: 60, veryHigh: 60, underOther: 60, dealtAcross: 3000, joins: -300, newVoice: 100, sameLength: -150, otherLength: 0,
	sameKey: -150, othersKey: 100, bothStrike: -200, wholeChord: 100, alternates: 50, firstStroke: 0,
}

var shipped = start
