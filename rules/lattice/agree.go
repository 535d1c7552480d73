package lattice

// Scale of agreement: a finger that is certain counts Agreement.
const Agreement = 1 << 16

// MostAgreement finds the path on which the sum of per-grip gains is greatest: gain[g] (laid out event after event, at most
// MaxKeys·Agreement each) is how many of the grip's struck fingers are expected to agree with an editor's. The hard limits
// of the hand and changes on held keys cost what they always cost, so the hand can take the path wherever it can take any.
// The smaller grip number breaks ties.
func (p *Posterior) MostAgreement(gain []int64) []int {
	p.priced.mustStand()
	l, work := p.priced.l, p.priced.work
	n := l.Events()
	if n == 0 {
		return nil
	}
	const scale = Agreement / 4096 // prices in nats weigh as many sure fingers
	change := work.change
	best := make([]int64, len(l.grips))
	from := make([]uint8, len(l.grips))
	for e := range n {
		here := l.Grips(e)
		change = resize(change, l.Count(e-1)*len(here))
		clear(change)
		if e > 0 {
			l.AddChanges(e, ChangeOnHeldKey, change)
		}
		for c := range here {
			at := int(l.first[e]) + c
			own := int64(l.hard[at])*scale - gain[at]
			if e == 0 {
				best[at] = own
				continue
			}
			before := best[l.first[e-1]:l.first[e]]
			low, a := int64(1)<<62, 0
			for b := range before {
				if v := before[b] + int64(change[b*len(here)+c])*scale; v < low {
					low, a = v, b
				}
			}
			best[at], from[at] = low+own, uint8(a)
		}
	}
	work.change = change
	path := make([]int, n)
	last := best[l.first[n-1]:l.first[n]]
	for c := range last {
		if last[c] < last[path[n-1]] {
			path[n-1] = c
		}
	}
	for e := n - 1; e > 0; e-- {
		path[e-1] = int(from[int(l.first[e])+path[e]])
	}
	return path
}
