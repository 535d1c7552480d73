package lattice

// Scale of agreement: a finger that is certain counts Agreement.
const Agreement = 1 << 16

// PathShare is how many nats of a path's cost weigh as much as one sure finger: fingers that are each likely, but that
// no hand would join, are not put together for their own sake. It was chosen on the mean of the folds (see 'workbench
// idioms').
const PathShare = 20

// jointUnit is a thousandth of a sure finger as the decode counts it.
const jointUnit = PathShare * Nat / 1000

// Joints says what the decode gains where fingers are joined in a certain way, in thousandths of a sure finger, less than
// 0 for what it loses.
type Joints interface {
	// PairGains adds to out, laid out as Model.Pair does; it is false where it adds nothing.
	PairGains(e int, out []int32) bool
	// RowGains likewise, laid out as Model.Triple does; it is not asked where triples cost nothing.
	RowGains(e int, out []int32) bool
}

// MostAgreement is that of the prices.
func (p *Posterior) MostAgreement(gain []int64, joints Joints) []int {
	return p.priced.MostAgreement(gain, joints)
}

// MostAgreement finds the path on which the sum of per-grip gains, less the path's own cost by PathShare, is greatest:
// gain[g] (laid out event after event, at most MaxKeys·Agreement each) is how many of the grip's struck fingers are
// expected to agree with an editor's. The hard limits of the hand and changes on held keys cost as much as so many
// sure fingers as they have nats, so the hand can take the path wherever it can take any. The smaller grip number
// breaks ties. What joints gain counts beside; they may be nil.
func (p *Priced) MostAgreement(gain []int64, joints Joints) []int {
	p.mustStand()
	l, work := p.l, p.work
	n := l.Events()
	if n == 0 {
		return nil
	}
	work.agree = resize(work.agree, len(p.pair))
	work.agreePrev = resize(work.agreePrev, len(p.pair))
	fore, prev := work.agree, work.agreePrev
	for e := range n {
		ga, gb, gc := l.Count(e-2), l.Count(e-1), l.Count(e)
		from, to := l.pairs[e], l.pairs[e+1]
		here := fore[from:to]
		own := gain[l.first[e]:l.first[e+1]]
		change := resize(work.change, gb*gc)
		work.change = change
		clear(change)
		if e > 0 {
			l.AddChanges(e, ChangeOnHeldKey, change)
		}
		hard := l.Hard(e)
		for c := range gc {
			alone := int64(hard[c])*(PathShare-1) - own[c]*PathShare*Nat/Agreement
			for i := c; i < len(here); i += gc {
				here[i] = int64(p.pair[from+i]) + int64(change[i])*(PathShare-1) + alone
			}
		}
		if e == 0 {
			continue
		}
		if joints != nil {
			clear(change)
			if joints.PairGains(e, change) {
				for i := range here {
					here[i] -= int64(change[i]) * jointUnit
				}
			}
		}
		before, last := fore[l.pairs[e-1]:from], prev[from:to]
		if p.flat[e] {
			for b := range gb {
				best, a := before[b], 0
				for k := 1; k < ga; k++ {
					if v := before[k*gb+b]; v < best {
						best, a = v, k
					}
				}
				for c := range gc {
					here[b*gc+c] += best
					last[b*gc+c] = uint8(a)
				}
			}
			continue
		}
		triple, used := p.triple[l.triple[e]:l.triple[e+1]], false
		if joints != nil {
			work.row = resize(work.row, len(triple)) // all 0: it is cleared after use
			if used = joints.RowGains(e, work.row); used {
				for i := range work.row {
					work.row[i] = triple[i] - work.row[i]*jointUnit
				}
				triple = work.row
			}
		}
		for b := range gb {
			for c := range gc {
				i := b*gc + c
				best, a := before[b]+int64(triple[i]), 0
				for k, at := 1, b; k < ga; k++ {
					at += gb
					if v := before[at] + int64(triple[at*gc+c]); v < best {
						best, a = v, k
					}
				}
				here[i] += best
				last[i] = uint8(a)
			}
		}
		if used {
			clear(work.row)
		}
	}
	return leastPath(l, fore, prev)
}
