package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// For prices the same line for another hand, by a pricer with the same weights and aims. What does not depend on the hand
// is shared: the music, and what editors are in the habit of.
func (m *Model) For(p *Pricer) *Model {
	out := *m
	out.pricer = p
	return &out
}

// Difference is what the prices of one hand are more than those of another: it has the methods of lattice.Model, and asks
// only for what depends on the hand.
type Difference struct {
	from, to *Model
	scratch  []int32
}

// DifferenceTo gives what the prices of another hand's model of the same line, made by For, are more than those of m.
func (m *Model) DifferenceTo(to *Model) *Difference { return &Difference{from: m, to: to} }

// Unary fills in what the grips of an event cost more by themselves (see lattice.Model).
func (d *Difference) Unary(e int, out []int32) {
	clear(out)
	grips, keys := d.from.grips.Grips(e), d.from.line.Events[e].Keys
	if len(keys) < 2 { // no span: what a key alone costs is the same for all hands
		return
	}
	for i := range keys {
		for j := i + 1; j < len(keys); j++ {
			if t := d.from.chordTable(e, i, j); t != nil {
				more := less25(d.to.chordTable(e, i, j).price, t.price)
				for g, grip := range grips {
					out[g] += more[combo2(grip.Fingers[i], grip.Fingers[j])]
				}
			}
		}
	}
	if !d.from.pricer.aims.On {
		return
	}
	for g, grip := range grips {
		_, own := d.from.gripAims(e, grip)
		line, reach := d.to.gripAims(e, grip)
		if reach != own {
			out[g] += fixed((line+reach)*1000) - fixed((line+own)*1000)
		}
	}
}

// less25 is one table of two fingers less another.
func less25(a, b []int32) (out [25]int32) {
	for i, v := range a[:len(out)] {
		out[i] = v - b[i]
	}
	return out
}

// Pair fills in what two events in a row cost more (see lattice.Model).
func (d *Difference) Pair(e int, out []int32) {
	clear(out)
	m, o := d.from, d.to
	before, here := m.grips.Grips(e-1), m.grips.Grips(e)
	ka, kb := m.line.Events[e-1].Keys, m.line.Events[e].Keys
	own, other := m.leaps(e), o.leaps(e)
	for i := range ka {
		for j := range kb {
			class, ok := m.linkClass(e, i, j)
			if !ok {
				continue
			}
			a, b := int(ka[i].Key), int(kb[j].Key)
			more := less25(o.stepTable(e, other, class, a, b).price, m.stepTable(e, own, class, a, b).price)
			if more == ([25]int32{}) {
				continue
			}
			then := m.then(e-1, i)
			for a, ga := range before {
				f := int(ga.Fingers[i])
				if then != 0 {
					f = then
				}
				row, line := more[(f-1)*5:][:5], out[a*len(here):][:len(here)]
				for b := range here {
					line[b] += row[here[b].Fingers[j]-1]
				}
			}
		}
	}
	if d.jointsDiffer(e) {
		if cap(d.scratch) < len(here) {
			d.scratch = make([]int32, len(here))
		}
		m.Other(o, e, d.scratch[:len(here)], out)
	}
}

// noLeapSince is a time from stroke to stroke, in microseconds, in which any hand leaps over the whole keyboard (leapTime).
const noLeapSince = 700_000

// jointsDiffer says that what line and tempo charge for two events in a row may differ between the hands: a line has to be
// joined, or a leap made in little time. What else tempo charges is the same for all hands.
func (d *Difference) jointsDiffer(e int) bool {
	t, ok := d.from.jointAt(e)
	other, too := d.to.jointAt(e)
	if t.slurred || other.slurred {
		return true
	}
	from, to := d.from.line.Events[e-1].Keys[t.i].Key, d.from.line.Events[e].Keys[t.j].Key
	return (ok || too) && t.micros < noLeapSince && hand.Distance(int(min(from, to)), int(max(from, to))) > nearMove
}

// Triple fills in what three events in a row cost more (see lattice.Model).
func (d *Difference) Triple(e int, out []int32) bool {
	m, o := d.from, d.to
	ga, gb, gc := m.grips.Grips(e-2), m.grips.Grips(e-1), m.grips.Grips(e)
	events := m.line.Events
	own, other := m.leaps(e-1) || m.leaps(e), o.leaps(e-1) || o.leaps(e)
	some := false
	for line := range 2 {
		i, j, k, single, ok := m.rowKeys(e, line)
		if !ok || m.then(e-2, i) != 0 || m.then(e-1, j) != 0 || own && other {
			continue
		}
		a, b, c := int(events[e-2].Keys[i].Key), int(events[e-1].Keys[j].Key), int(events[e].Keys[k].Key)
		var more [125]int32
		price, any := m.rowTable(own, single, a, b, c).price, int32(0)
		for x, v := range o.rowTable(other, single, a, b, c).price[:len(more)] {
			more[x] = v - price[x]
			any |= more[x]
		}
		if any == 0 {
			continue
		}
		if len(out) == len(more) && allFingers(ga) && allFingers(gb) && allFingers(gc) { // laid out as the table is
			copy(out, more[:])
			some = true
			continue
		}
		if !some {
			clear(out)
			some = true
		}
		at := 0
		for a := range ga {
			fa := int(ga[a].Fingers[i]-1) * 25
			for b := range gb {
				row := more[fa+int(gb[b].Fingers[j]-1)*5:][:5]
				block := out[at:][:len(gc)]
				at += len(gc)
				for c := range block {
					block[c] += row[gc[c].Fingers[k]-1]
				}
			}
		}
	}
	return some
}

// SameLine gives Fits for the hand of profile, and afterwards says of each of the others whether it fitted the same
// wherever it was asked: a line made with it is then that hand's line too.
func SameLine(profile hand.Profile, others []hand.Profile) (fits fingering.Fits, same []bool) {
	same = make([]bool, len(others))
	for i := range same {
		same[i] = true
	}
	return func(low, high int) bool {
		fitted := profile.Fits(low, high)
		for i := range others {
			same[i] = same[i] && others[i].Fits(low, high) == fitted
		}
		return fitted
	}, same
}
