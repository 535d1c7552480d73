package lattice

import "slices"

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

// RememberingJoints are joints that change from search to search of the same lattice, and say where: what PairGains and
// RowGains add at an event changes only where RememberedAt has changed for it or for one of the two events before.
type RememberingJoints interface {
	Joints
	RememberedAt(e int) uint8
}

// MostAgreement is that of the prices.
func (p *Posterior) MostAgreement(gain []int64, joints Joints) []int {
	return p.priced.MostAgreement(gain, joints)
}

// agreePass is what the decode came to last. Within an event all costs may be off by the same.
type agreePass struct {
	stands     bool    // for the lattice, by what follows
	extra      []int32 // per grip, as With adds it
	gain       []int64 // per grip
	remembered []uint8 // event → of its joints
	joined     bool    // by joints that say where they change
	fore       []int64 // per pair of grips: what the path of most agreement up to it costs
	prev       []uint8 // per pair of grips: the grip before it on that path
	row        []int32 // one event's triples, as the decode weighs them; all 0 but while it is used
}

// MostAgreement finds the path on which the sum of per-grip gains, less the path's own cost by PathShare, is greatest:
// gain[g] (laid out event after event, at most MaxKeys·Agreement each) is how many of the grip's struck fingers are
// expected to agree with an editor's. The hard limits of the hand, changes on held keys and fingers across a roll cost as much as so many
// sure fingers as they have nats, so the hand can take the path wherever it can take any. The smaller grip number
// breaks ties. What joints gain counts beside; they may be nil. Where it was asked for before on the same lattice, it is
// worked out anew only from where something differs up to where that makes no difference any more.
func (p *Priced) MostAgreement(gain []int64, joints Joints) []int {
	p.mustStand()
	l, work, t := p.l, p.work, &p.work.agreed
	n := l.Events()
	if n == 0 {
		return nil
	}
	remembering, known := joints.(RememberingJoints)
	again := t.stands && known && t.joined
	if !again {
		t.fore, t.prev = resize(t.fore, len(p.pair)), resize(t.prev, len(p.pair))
		t.gain, t.extra = resize(t.gain, len(l.grips)), resize(t.extra, len(l.grips))
		t.remembered = resize(t.remembered, n)
	}
	moved := false // the costs up to the event before
	last := -3     // the last event at which something else is remembered
	for e := range n {
		from, to := l.first[e], l.first[e+1]
		if known {
			if now := remembering.RememberedAt(e); !again || now != t.remembered[e] {
				t.remembered[e], last = now, e
			}
		}
		if again && !moved && e-last > 2 && !p.otherPrices(e, t.extra) && slices.Equal(t.gain[from:to], gain[from:to]) {
			continue
		}
		fore, prev := t.fore[l.pairs[e]:l.pairs[e+1]], t.prev[l.pairs[e]:l.pairs[e+1]]
		if !again {
			p.agreeUpTo(e, gain[from:to], joints, fore, prev)
			continue
		}
		work.block = resize(work.block, len(fore))
		p.agreeUpTo(e, gain[from:to], joints, work.block, prev)
		moved = replace(fore, work.block)
	}
	copy(t.gain, gain)
	copy(t.extra, work.extra)
	t.stands, t.joined = true, known
	return leastPath(l, t.fore, t.prev)
}

// agreeUpTo fills the block of event e with what the paths of most agreement up to its pairs cost, and the grips before
// them.
func (p *Priced) agreeUpTo(e int, own []int64, joints Joints, here []int64, last []uint8) {
	l, work, t := p.l, p.work, &p.work.agreed
	gb, gc := l.Count(e-1), l.Count(e)
	price := p.pair[l.pairs[e]:l.pairs[e+1]]
	change := resize(work.change, len(here))
	work.change = change
	clear(change)
	if e > 0 {
		l.AddChanges(e, ChangeOnHeldKey, change)
		l.AddRolls(e, change)
	}
	hard := l.Hard(e)
	for c := range gc {
		alone := int64(hard[c])*(PathShare-1) - own[c]*PathShare*Nat/Agreement
		for i := c; i < len(here); i += gc {
			here[i] = int64(price[i]) + int64(change[i])*(PathShare-1) + alone
		}
	}
	if e == 0 {
		return
	}
	if joints != nil {
		clear(change)
		if joints.PairGains(e, change) {
			for i := range here {
				here[i] -= int64(change[i]) * jointUnit
			}
		}
	}
	before := t.fore[l.pairs[e-1]:l.pairs[e]]
	if p.flat[e] {
		for b := range gb {
			best, a := before[b], 0
			for k, at := 1, b+gb; at < len(before); k, at = k+1, at+gb {
				if v := before[at]; v < best {
					best, a = v, k
				}
			}
			for c := range gc {
				here[b*gc+c] += best
				last[b*gc+c] = uint8(a)
			}
		}
		return
	}
	triple, used := p.triple[l.triple[e]:l.triple[e+1]], false
	if joints != nil {
		t.row = resize(t.row, len(triple))
		if used = joints.RowGains(e, t.row); used {
			for i := range t.row {
				t.row[i] = triple[i] - t.row[i]*jointUnit
			}
			triple = t.row
		}
	}
	work.leastBefore(gb, gc, before, triple, here, last)
	if used {
		clear(t.row)
	}
}

// leastBefore adds to each pair of grips b, c what the cheapest path up to it costs: before[a*gb+b] for the grip a before
// b, and triple[(a*gb+b)*gc+c]; and says which a that is. The smaller one breaks ties. A cost and its grip are one number
// (see ranked), so that the least of them is found without asking: which one it is cannot be foreseen. Most of the time it
// takes is waiting for the triples: they are read in the order in which they lie.
func (w *Workspace) leastBefore(gb, gc int, before []int64, triple []int32, here []int64, last []uint8) {
	w.best = resize(w.best, len(here))
	best := w.best
	for b := range gb {
		up := ranked(before[b], 0)
		row, own := triple[b*gc:][:gc], best[b*gc:][:gc]
		for c, price := range row {
			own[c] = up + ranked(int64(price), 0)
		}
	}
	for a := 1; len(triple) > len(best); a++ {
		triple, before = triple[len(best):], before[gb:]
		for b := range gb {
			up := ranked(before[b], a)
			row := triple[b*gc:][:gc]
			own := best[b*gc:][:len(row)]
			for c, price := range row {
				own[c] = min(own[c], up+ranked(int64(price), 0))
			}
		}
	}
	last = last[:len(best)]
	for i, v := range best {
		here[i] += costOf(v)
		last[i] = gripOf(v)
	}
}

// ranked puts a cost and the number of a grip, less than 256, into one number: the smaller cost is the smaller number, and
// of the same cost the smaller grip. Costs may be added to it, ranked with grip 0.
func ranked(cost int64, grip int) int64 { return cost<<8 | int64(grip) }

// costOf and gripOf take what ranked put together apart.
func costOf(v int64) int64 { return v >> 8 }
func gripOf(v int64) uint8 { return uint8(v) }
