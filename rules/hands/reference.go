package hands

import "fingerproof/corpus/score"

// MiddleC deals the notes at middle C: the reference that asks nothing of the music.
func MiddleC(notes []Note) []score.Hand {
	out := make([]score.Hand, len(notes))
	for i, n := range notes {
		out[i] = score.Left
		if n.Key >= 60 {
			out[i] = score.Right
		}
	}
	return out
}

// Nearest deals every note to the hand that was nearer to it, where each hand stands at the running mean of what it struck.
func Nearest(notes []Note) []score.Hand {
	out := make([]score.Hand, len(notes))
	at := [2]int{48 * 16, 72 * 16} // left and right, in sixteenths of a semitone
	for _, m := range momentsOf(notes) {
		var sum, count [2]int
		for _, n := range m {
			key := notes[n].Key * 16
			h := 0
			if distance(key, at[1]) < distance(key, at[0]) {
				h = 1
			}
			out[n] = [2]score.Hand{score.Left, score.Right}[h]
			sum[h] += key
			count[h]++
		}
		for h := range at {
			if count[h] > 0 {
				at[h] += (sum[h]/count[h] - at[h]) / 2
			}
		}
	}
	return out
}

func distance(a, b int) int { return max(a-b, b-a) }

// InferWith infers under other weights than the shipped ones.
func InferWith(notes []Note, w Weights) []score.Hand { return infer(notes, &w) }
