package engine

import (
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// report writes an answer into a result, note by note.
type report struct {
	*answer
	out *Result
	at  places
}

// newReport begins a result: nothing is known of any note but its id.
func newReport(out *Result, at places, notes []fingering.Note, a *answer) *report {
	r := &report{answer: a, out: out, at: at}
	for i, n := range notes {
		out.Notes[i] = Fingered{ID: n.ID, Reach: 10000}
	}
	return r
}

// note gives the entry of a note by its id.
func (r *report) note(id int) *Fingered { return &r.out.Notes[r.at.of(id)] }

// fingers writes the finger of each note and what concerns its grip.
func (r *report) fingers() {
	line := r.lattice.Line
	for s := range line.Strikes {
		f := r.fingerOf(s)
		for _, id := range line.Strikes[s].IDs {
			r.struck(r.note(id), s, f)
		}
		for _, t := range line.Strikes[s].Ties {
			n := r.note(t.ID)
			n.Finger, n.Tied = f, true
			if f == 0 {
				n.OutOfReach = TooManyKeys
			}
		}
	}
	for e := range line.Events {
		r.gripOf(e)
	}
}

// struck writes the finger of a note of strike s, and how likely an editor prints it.
func (r *report) struck(n *Fingered, s int, f fingering.Finger) {
	strike := &r.lattice.Line.Strikes[s]
	n.Finger = f
	n.Constrained = strike.Allowed&(strike.Allowed-1) == 0
	if f == 0 {
		n.OutOfReach = TooManyKeys
		return
	}
	if r.open.share != nil {
		for i, p := range r.open.share[s*fingering.Fingers:][:fingering.Fingers] {
			n.Shares[i] = int(min(p*10000/lattice.Agreement, 10000))
		}
		n.Confidence = n.Shares[f-1]
		if !n.Constrained {
			n.Confidence = r.confidence.Of(f, n.Confidence)
		}
	}
	n.Contradiction = n.Contradiction || strike.Contradiction
}

// fingerOf gives the finger that strikes s on the delivered path, 0 where the strike has none.
func (r *report) fingerOf(s int) fingering.Finger {
	e := r.lattice.Line.Strikes[s].Event
	for i, k := range r.lattice.Line.Events[e].Keys {
		if k.Strike == s {
			return r.grip(e).Fingers[i]
		}
	}
	return 0
}

// gripOf writes what concerns the grip of one event: limits, reach, changes on held keys.
func (r *report) gripOf(e int) {
	l := r.lattice
	ev, g := &l.Line.Events[e], r.grip(e)
	reach := reachOf(ev, g)
	pairs := lattice.BeyondReach(l.Profile, ev.Keys, g)
	beyondGiven := pairs != 0 && (g.Odd&fingering.Contradictory != 0 || constrained(ev))
	for i, k := range ev.Keys {
		if !k.Struck {
			if beyondGiven {
				r.heldBeyondGiven(k.Strike)
				continue
			}
			r.changeOnHeld(e, k.Strike, g.Fingers[i])
			continue
		}
		for _, id := range l.Line.Strikes[k.Strike].IDs {
			n := r.note(id)
			n.Reach = reach
			switch {
			case pairs == 0:
			case beyondGiven:
				n.OutOfReach = BeyondGiven
			default:
				n.OutOfReach = BeyondSpan
			}
			if g.Odd&fingering.Contradictory != 0 {
				n.Contradiction = true
			}
		}
	}
	for _, s := range ev.Released {
		for _, id := range l.Line.Strikes[s].IDs {
			n := r.note(id)
			n.Pedal, n.Spared = true, false
		}
	}
}

// reachOf is how many in ten thousand adult pianists take the widest pair of a grip.
func reachOf(ev *fingering.Event, g fingering.Grip) int {
	reach := 10000
	for i, low := range ev.Keys {
		for j := i + 1; j < len(ev.Keys); j++ {
			d := hand.Distance(int(low.Key), int(ev.Keys[j].Key))
			reach = min(reach, hand.Reach(int(g.Fingers[i]), int(g.Fingers[j]), d))
		}
	}
	return reach
}

// constrained says that digits bind some key of an event.
func constrained(ev *fingering.Event) bool {
	for _, k := range ev.Keys {
		if k.Allowed != fingering.AnyFinger {
			return true
		}
	}
	return false
}

// heldBeyondGiven says of a key that no hand can hold on under the fingers given to others that its finger is in a grip beyond the
// hand, too: to what it would be changed there is no fingering. Where its own finger is given, that of the others is told.
func (r *report) heldBeyondGiven(strike int) {
	for _, id := range r.lattice.Line.Strikes[strike].IDs {
		if n := r.note(id); !n.Constrained && n.OutOfReach == "" {
			n.OutOfReach = BeyondGiven
		}
	}
}

// changeOnHeld writes that a key held into event e changes to a finger, where it does.
func (r *report) changeOnHeld(e, strike int, finger fingering.Finger) {
	before := r.heldBefore(e, strike)
	if before == 0 || before == finger {
		return
	}
	s := &r.lattice.Line.Strikes[strike]
	if !r.canChange(e, strike, finger) {
		for _, id := range s.IDs {
			n := r.note(id)
			n.Pedal, n.Spared = true, n.Spared || !n.Pedal
		}
		return
	}
	if n := r.note(s.IDs[0]); n.Substitution == 0 { // of several changes on one key the first follows the digit
		n.Substitution = finger
	}
	for _, t := range s.Ties {
		if t.Onset.Compare(r.lattice.Line.Events[e].Onset) >= 0 {
			r.note(t.ID).Finger = finger
		}
	}
}

// canChange says that an editor would print the change of a key held into event e to a finger. None does where the pedal keeps the
// key, where the hand would change several keys at once, where it needs that finger meanwhile, or on less than an eighth (common
// practice, no source; readers of our editions): there the key is let go.
func (r *report) canChange(e, strike int, finger fingering.Finger) bool {
	line := r.lattice.Line
	s := &line.Strikes[strike]
	if s.Then != 0 {
		return true // it is given
	}
	from := line.Events[s.Event].Onset
	if s.Pedalled || finger == r.fingerOf(strike) ||
		(fingering.Moment{Num: 2*from.Num + from.Den, Den: 2 * from.Den}).Compare(line.Events[e].Onset) > 0 {
		return false
	}
	for _, k := range line.Events[e].Keys {
		if k.Strike != strike && !k.Struck && r.heldBefore(e, k.Strike) != 0 && r.heldBefore(e, k.Strike) != r.heldBefore(e+1, k.Strike) {
			return false
		}
	}
	for x := s.Event; x < e; x++ {
		for i, k := range line.Events[x].Keys {
			if k.Strike != strike && r.grip(x).Fingers[i] == finger && (k.Struck || x == s.Event) {
				return false
			}
		}
	}
	return true
}

// heldBefore gives the finger on a strike in the event before e, 0 where it did not sound there.
func (r *report) heldBefore(e, strike int) fingering.Finger {
	for i, k := range r.lattice.Line.Events[e-1].Keys {
		if k.Strike == strike {
			return r.grip(e - 1).Fingers[i]
		}
	}
	return 0
}

// silentChanges writes the silent changes of finger that join the line.
func (r *report) silentChanges(model *effort.Model) {
	for e := 1; e < r.lattice.Events(); e++ {
		to := model.Change(e, r.grip(e-1), r.grip(e))
		if to == 0 {
			continue
		}
		if n := r.note(r.lattice.Line.Strikes[model.ChangeStrike(e)].IDs[0]); n.Substitution == 0 {
			n.Substitution = to
		}
	}
}
