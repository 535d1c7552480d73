package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// unaryAims adds what reach and the leading voice charge for a grip (see lattice.Model).
func (m *Model) unaryAims(e int, out []int32) {
	if !m.pricer.aims.On {
		return
	}
	if i := int(m.high[e]); m.repeatsFast(e, i) {
		for g, grip := range m.grips.Grips(e) {
			if grip.Fingers[i] == 1 {
				out[g] += fixed(thumbAgain * int64(m.pricer.aims.Tempo) * 10)
			}
		}
	}
	if len(m.line.Events[e].Keys) < 2 && !m.leads(e) {
		return
	}
	for g, grip := range m.grips.Grips(e) {
		line, reach := m.gripAims(e, grip)
		out[g] += fixed((line + reach) * 1000)
	}
}

func (m *Model) leads(e int) bool {
	for _, k := range m.line.Events[e].Keys {
		if k.Struck && m.line.Strikes[k.Strike].Leads {
			return true
		}
	}
	return false
}

// gripAims prices one grip for the leading voice and for reach, in milli-nats.
func (m *Model) gripAims(e int, grip fingering.Grip) (line, reach int64) {
	keys := m.line.Events[e].Keys
	share := 10000
	var beyond hand.Length
	var octave int64
	for i, k := range keys {
		f := int(grip.Fingers[i])
		if k.Struck && m.line.Strikes[k.Strike].Leads && !canLead(f, i, len(keys)) {
			line += weakLeader * int64(m.pricer.aims.Line) / 100
		}
		for j := i + 1; j < len(keys); j++ {
			g := int(grip.Fingers[j])
			if f >= g || !k.Struck && !keys[j].Struck {
				continue
			}
			d := hand.Distance(int(k.Key), int(keys[j].Key))
			share = min(share, hand.Reach(f, g, d))
			beyond = max(beyond, m.pricer.beyondComfortable(f, g, d))
			if f == 1 && d == hand.Octave {
				octave += m.octavePrice(e, j, g)
			}
		}
	}
	reach = octave + reachPrice*int64(10000-share)/10000 + stretched*int64(per50(beyond))/1000
	reach = reach * int64(m.pricer.aims.Reach) / 100
	return line, reach
}

// onWhite prices the fourth finger on the white outer key of an octave among octaves that no slur joins, in milli-nats:
// print has it at 1 of 17 such keys that are known, and on 19 of 27 black ones ('workbench idioms').
const onWhite = 3000

// octavePrice prices the upper finger g of an octave, on key j of event e: 5, or 4 on a black key; 3 for large hands only,
// and in small hands 5 throughout (FACTS §4.5). One octave after another stays on 5 on white, unless a slur joins them.
func (m *Model) octavePrice(e, j, g int) int64 {
	switch {
	case g == 3 && m.pricer.profile.Span < hand.TenthHand.Span:
		return 6000
	case g == 3:
		return 1500
	case g == 4 && m.pricer.profile.Span < hand.NinthHand.Span:
		return 6000
	case g == 4 && !hand.Black(int(m.line.Events[e].Keys[j].Key)) && m.amongOctaves(e) && !m.underSlur(e, j):
		return onWhite
	}
	return 0
}

// amongOctaves says that event e strikes an octave and nothing else, and the event before or after it another one.
func (m *Model) amongOctaves(e int) bool {
	return m.octaveAlone(e) && (m.octaveAlone(e-1) || m.octaveAlone(e+1))
}

func (m *Model) octaveAlone(e int) bool {
	if e < 0 || e >= len(m.line.Events) || m.struck[e] != 2 {
		return false
	}
	keys := m.line.Events[e].Keys
	return len(keys) == 2 && keys[1].Key-keys[0].Key == 12
}

// underSlur says that a slur joins key j of event e to the stroke before or after.
func (m *Model) underSlur(e, j int) bool {
	event := &m.line.Events[e]
	if m.line.Strikes[event.Keys[j].Strike].Slurred {
		return true
	}
	if e == 0 {
		return false
	}
	before := &m.line.Events[e-1]
	for _, k := range before.Keys {
		if m.line.Strikes[k.Strike].Slurred && m.line.Strikes[k.Strike].End.Compare(event.Onset) >= 0 {
			return true
		}
	}
	return false
}

// canLead says whether a finger can lead on key i of so many: the little finger's side is led by 5, 4 or 3, an inner or
// lower line by the thumb or the second finger (DEVELOPERS.md, decision 5; common practice). Alone, any but the fourth.
func canLead(f, i, keys int) bool {
	switch {
	case keys == 1:
		return f != 4
	case i == keys-1:
		return f >= 3
	}
	return f <= 2
}
