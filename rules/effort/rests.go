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

// lateStroke is the time from stroke to stroke, in microseconds, from which the hand is free to move to keys that the last
// ones do not sound up to; lateShare is how much of such a step is priced as a leap, in percent. Both are our own figures,
// chosen on the mean of the folds: agreement after keys let go rises from 0.687 to 0.695. A full leap would set one
// finger on other keys a third more often than print does.
const (
	lateStroke = 600_000
	lateShare  = 70
)

// comesLate says that the hand lets go and has time before event e: where its fingers lay bears less on the step, which
// is priced in part as a leap is. What three strokes in a row cost stays, unless a rest parts them (see anew).
func (m *Model) comesLate(e int) bool { return m.pricer.aims.On && m.late[e] }

// strokesLate says of each event whether it is struck late, after keys let go. It is the same at any other tempo at which
// the music is priced beside its own (see AtTempoOf).
func strokesLate(line *fingering.Line) []bool {
	out := make([]bool, len(line.Events))
	for e := 1; e < len(out); e++ {
		here := &line.Events[e]
		out[e] = !here.Joined && here.Micros-line.Events[e-1].Micros > lateStroke
	}
	return out
}

// later is so many quarters after a moment.
func later(m fingering.Moment, quarters int64) fingering.Moment {
	return fingering.Moment{Num: m.Num + quarters*max(m.Den, 1), Den: max(m.Den, 1)}
}
