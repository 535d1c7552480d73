package effort

import "fingerproof/rules/fingering"

// anew says that the hand comes anew to event e after a rest: what it did before has no hold on the fingers (common
// practice). A quarter of silence is such a rest, after keys let go at once two quarters from their stroke.
func (m *music) anew(e int) bool {
	if e == 0 || m.line.Events[e].Joined {
		return false
	}
	before := &m.line.Events[e-1]
	for _, k := range before.Keys {
		s := &m.line.Strikes[k.Strike]
		free := later(s.End, 1)
		if s.End.Compare(m.line.Events[s.Event].Onset) == 0 {
			free = later(s.End, 2)
		}
		if free.Compare(m.line.Events[e].Onset) > 0 {
			return false
		}
	}
	return true
}

// later is so many quarters after a moment.
func later(m fingering.Moment, quarters int64) fingering.Moment {
	return fingering.Moment{Num: m.Num + quarters*max(m.Den, 1), Den: max(m.Den, 1)}
}
