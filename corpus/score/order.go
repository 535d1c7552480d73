package score

import "slices"

// OrderOfRepeats is the order in which signs of repetition and endings have measures played, by their indices (common
// practice): back to the last sign to repeat from, or behind the last passage that was repeated, each ending in its turn.
// With onlySigns a passage that was repeated is no such place. Jumps (da capo, dal segno) are not followed. At most so many
// measures are given.
func OrderOfRepeats(measures []Measure, onlySigns bool, most int) (out []int) {
	from, pass := 0, 1
	done := map[int]bool{}                // measures from which it went back
	lasts := make([]int, len(measures)+1) // how often a passage is played at least, by the endings from a measure on
	for i, m := range slices.Backward(measures) {
		lasts[i] = 1
		if len(m.Endings) > 0 {
			lasts[i] = max(lasts[i+1], slices.Max(m.Endings))
		}
	}
	steps := most + 100*len(measures) // no sign that makes sense asks for more
	for i := 0; i < len(measures) && len(out) < most && steps > 0; steps-- {
		m := &measures[i]
		if m.Repeat.Forward && from != i {
			from, pass = i, 1
		}
		if len(m.Endings) > 0 && !slices.Contains(m.Endings, pass) {
			i++
			continue
		}
		out = append(out, i)
		last := lasts[i]
		if onlySigns && m.Repeat.Backward && done[i] {
			i++
			continue
		}
		if m.Repeat.Backward && (len(m.Endings) == 0 && pass < max(m.Repeat.Times, 2) || len(m.Endings) > 0 && pass < max(last, 2)) {
			done[i] = pass+1 >= max(m.Repeat.Times, last, 2)
			if pass++; onlySigns && done[i] {
				pass = 1
			}
			i = from
			continue
		}
		if m.Repeat.Backward || len(m.Endings) > 0 && (i+1 == len(measures) || len(measures[i+1].Endings) == 0) {
			if pass = 1; !onlySigns {
				from = i + 1
			}
		}
		i++
	}
	return out
}
