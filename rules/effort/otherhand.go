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

// MoreFor is what grip c of event e, after b and a, costs more in another hand's model of the same line, made by For. It
// asks only for what depends on the hand; a is of no account before the third event, b before the second.
func (m *Model) MoreFor(o *Model, e int, a, b, c fingering.Grip) int32 {
	more := m.moreAlone(o, e, c)
	if e > 0 {
		more += m.moreAfter(o, e, b, c)
	}
	if e > 1 {
		more += m.moreInRow(o, e, a, b, c)
	}
	return more
}

// moreAlone is the part of MoreFor that a grip costs by itself.
func (m *Model) moreAlone(o *Model, e int, c fingering.Grip) (more int32) {
	keys := m.line.Events[e].Keys
	if len(keys) < 2 { // no span: what a key alone costs is the same for all hands
		return 0
	}
	for i := range keys {
		for j := i + 1; j < len(keys); j++ {
			if t := m.chordTable(e, i, j); t != nil {
				combo := combo2(c.Fingers[i], c.Fingers[j])
				more += o.chordTable(e, i, j).price[combo] - t.price[combo]
			}
		}
	}
	if !m.pricer.aims.On {
		return more
	}
	_, own := m.gripAims(e, c)
	line, reach := o.gripAims(e, c)
	return more + fixed((line+reach)*1000) - fixed((line+own)*1000)
}

// moreAfter is the part of MoreFor that a grip costs after the one before.
func (m *Model) moreAfter(o *Model, e int, b, c fingering.Grip) (more int32) {
	ka, kb := m.line.Events[e-1].Keys, m.line.Events[e].Keys
	own, other := m.leaps(e), o.leaps(e)
	for i := range ka {
		for j := range kb {
			class, ok := m.linkClass(e, i, j)
			if !ok {
				continue
			}
			from, to := int(ka[i].Key), int(kb[j].Key)
			combo := combo2(b.Fingers[i], c.Fingers[j])
			if then := m.then(e-1, i); then != 0 {
				combo = combo2(fingering.Finger(then), c.Fingers[j])
			}
			more += o.stepTable(e, other, class, from, to).price[combo] - m.stepTable(e, own, class, from, to).price[combo]
		}
	}
	if !m.jointsDiffer(o, e) {
		return more
	}
	return more + o.jointCost(e, b, c) - m.jointCost(e, b, c)
}

// jointCost is what line and tempo charge for two grips in a row; what tempo charges for keys struck again is the same for
// all hands and left out.
func (m *Model) jointCost(e int, b, c fingering.Grip) int32 {
	t, ok := m.jointAt(e)
	if !ok {
		return 0
	}
	line, tempo, _ := m.ofGrips(e, t, b, c)
	return fixed((line + tempo) * 1000)
}

// noLeapSince is a time from stroke to stroke, in microseconds, in which any hand leaps over the whole keyboard (leapTime).
const noLeapSince = 700_000

// jointsDiffer says that what line and tempo charge for two events in a row may differ between the hands: a line has to be
// joined, or a leap made in little time. What else tempo charges is the same for all hands.
func (m *Model) jointsDiffer(o *Model, e int) bool {
	t, ok := m.jointAt(e)
	other, too := o.jointAt(e)
	if t.slurred || other.slurred {
		return true
	}
	from, to := m.line.Events[e-1].Keys[t.i].Key, m.line.Events[e].Keys[t.j].Key
	return (ok || too) && t.micros < noLeapSince && hand.Distance(int(min(from, to)), int(max(from, to))) > nearMove
}

// moreInRow is the part of MoreFor that three grips in a row cost.
func (m *Model) moreInRow(o *Model, e int, a, b, c fingering.Grip) (more int32) {
	events := m.line.Events
	own, other := m.leaps(e-1) || m.leaps(e), o.leaps(e-1) || o.leaps(e)
	for line := range 2 {
		i, j, k, single, ok := m.rowKeys(e, line)
		if !ok || m.then(e-2, i) != 0 || m.then(e-1, j) != 0 || own && other {
			continue
		}
		first, second, third := int(events[e-2].Keys[i].Key), int(events[e-1].Keys[j].Key), int(events[e].Keys[k].Key)
		combo := int(a.Fingers[i]-1)*25 + combo2(b.Fingers[j], c.Fingers[k])
		if !other {
			more += o.pricer.rowPrice(single, first, second, third, combo)
		}
		more -= m.rowTable(own, single, first, second, third).price[combo]
	}
	return more
}
