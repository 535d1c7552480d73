package bind

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/hand"
)

// giveWay opens digits that were taken for a hand before notes were given to it, wherever they and those notes
// cannot be played together. The redistribution is the later word: what was taken beside it was suggested for the
// hand without them. What an editor wrote, and what the composer has, stays: lint names it.
func giveWay(bound []decide.Digit, in Input) {
	for k := range in.Decided.Redistributions {
		for _, n := range in.Decided.Redistributions[k].Notes {
			stroke := in.Playing.Stroke(n)
			if stroke == nil || bound[n].Finger() == 0 {
				continue
			}
			for _, m := range stroke.Notes {
				if in.Decided.Hands[m] == score.NoHand && tookOnly(&bound[m]) && !together(in.Decided, n, m) &&
					clash(in, n, m, bound) {
					open(bound, in, stroke.Notes)
					break
				}
			}
		}
	}
}

// open leaves the digits to the search again that were only taken, for all notes of a stroke that did not change
// hands.
func open(bound []decide.Digit, in Input, notes []int) {
	for _, m := range notes {
		if in.Decided.Hands[m] == score.NoHand && tookOnly(&bound[m]) {
			bound[m] = decide.Digit{}
		}
	}
}

// together says that one decision gives both notes their fingers: it was worked out for both, as for a chord that is
// rolled.
func together(d *decide.Placed, n, m int) bool {
	return n < len(d.Deciding) && d.Deciding[n] != nil && d.Deciding[n] == d.Deciding[m]
}

// tookOnly says that a digit is a suggestion that was taken, here or at a return.
func tookOnly(d *decide.Digit) bool { return d.Finger() > 0 && (d.Verb == decision.Take || d.Carried) }

// clash says that one hand cannot strike two notes at once with the digits decided for them: one finger on two keys
// that it cannot cover, or fingers in the wrong order of the keys.
func clash(in Input, n, m int, bound []decide.Digit) bool {
	a, b := in.Score.Notes[n].Midi, in.Score.Notes[m].Midi
	f, g := bound[n].Finger(), bound[m].Finger()
	if a > b {
		a, b, f, g = b, a, g, f
	}
	if a == b {
		return f != g
	}
	if f == g {
		return f != 1 || b-a > 2 || hand.Black(a) != hand.Black(b) // the thumb takes two keys side by side
	}
	// nearer than that a finger may lie over its neighbour
	return b-a > 2 && (f < g) != (in.Playing.Hand(n) == score.Right)
}
