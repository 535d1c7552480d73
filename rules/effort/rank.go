package effort

import "fingerproof/rules/fingering"

var ranks = func() (r [1 << fingering.Fingers]int8) {
	var n [fingering.Fingers + 1]int8
	// Increasing fingers in lexical order, as the lattice lists them.
	var rise func(set, size, from int)
	for size := 1; size <= fingering.Fingers; size++ {
		rise = func(set, left, from int) {
			if left == 0 {
				r[set] = n[size]
				n[size]++
				return
			}
			for f := from; f < fingering.Fingers; f++ {
				rise(set|1<<f, left-1, f+1)
			}
		}
		rise(0, size, 0)
	}
	return r
}()

// Rank numbers the grips whose fingers lie in order, among those of as many keys; -1 for any other grip.
func Rank(g fingering.Grip, keys int) int {
	set, last := 0, fingering.Finger(0)
	for _, f := range g.Fingers[:keys] {
		if f <= last {
			return -1
		}
		set |= 1 << (f - 1)
		last = f
	}
	return int(ranks[set])
}
