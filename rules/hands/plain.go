package hands

import "fingerproof/corpus/score"

// AtMiddleC gives every note from middle C up to the right hand: the plainest
// way, to measure others against.
func AtMiddleC(notes []Keystroke) []score.Hand {
	out := make([]score.Hand, len(notes))
	for i := range notes {
		out[i] = score.Left
		if notes[i].Key >= 60 {
			out[i] = score.Right
		}
	}
	return out
}

// Nearest gives every note to the hand whose running position is nearest: the
// second plainest way. Positions begin at C3 and C5 and follow the keys of the
// hand by a fifth of the way; grace notes move neither.
func Nearest(notes []Keystroke) []score.Hand {
	out := make([]score.Hand, len(notes))
	right, left := 72*16, 48*16
	for _, m := range momentsOf(notes) {
		for k, i := range m.notes {
			key := m.keys[k] * 16
			if abs(key-left) <= abs(key-right) {
				out[i] = score.Left
				if !notes[i].Rank.IsGrace() {
					left += (key - left) / 5
				}
			} else {
				out[i] = score.Right
				if !notes[i].Rank.IsGrace() {
					right += (key - right) / 5
				}
			}
		}
	}
	return out
}
