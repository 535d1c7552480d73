package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// faultLoses is what the decode loses by a joint of single keys that the program itself would warn of, did its digits stand in the
// text (rules same-finger-in-a-line, impossible-passing, line-broken of lint), in thousandths of a sure finger: such a joint is
// taken only where every other way gives up more.
const faultLoses = 1500

// Times between two keys, in microseconds: within runsOn a joined line goes on as in a run, within atOnce no hand jumps.
const (
	runsOn = 300_000
	atOnce = 110_000
)

// lineStep is how many semitones two neighbours of a run lie apart at most.
const lineStep = 4

// underPass is how far, in semitones, each finger lets the thumb pass under it (FACTS §6.1, from memory; a semitone beyond it).
var underPass = [6]int{2: 6, 3: 6, 4: 5, 5: 2}

// crossesWithout is how far, in semitones, two fingers cross at most, the thumb left out.
const crossesWithout = 2

// turningHand is the part of its span, one in so many, by which a pair of fingers goes farther from key to key than in a chord.
const turningHand = 5

// byTurning is, in semitones, how far the hand goes from thumb to fifth finger by turning.
const byTurning = 16

// lineJoint is how a line joins two single keys.
type lineJoint struct {
	slurred  bool // one slur lies over both, and nothing parts them
	pedalled bool // the pedal sounds the first key on to the second
}

func (m *Model) lineOf(e, i, j int) lineJoint {
	s := &m.line.Strikes[m.line.Events[e-1].Keys[i].Strike]
	return lineJoint{slurred: s.Slurred && m.line.Events[e].Joined, pedalled: s.Pedalled}
}

// fault is what two fingers lose on a joint that lint would warn of.
func (t joined) fault(p hand.Profile, line lineJoint, f, g int) int {
	far := abs(t.b - t.a)
	if t.parted || far == 0 || !line.slurred && t.micros <= 0 {
		return 0
	}
	switch {
	case f == g:
		if t.sameFingerJoins(line, f, far) {
			return 0
		}
	case (t.a < t.b) != (f < g):
		if t.passes(line, f, g, far) {
			return 0
		}
	default:
		if t.spans(p, line, f, g, far) {
			return 0
		}
	}
	return faultLoses
}

// sameFingerJoins says that one finger takes two keys of a line and nobody would mind.
func (t joined) sameFingerJoins(line lineJoint, f, far int) bool {
	switch {
	case !line.slurred && (far > lineStep || t.micros > runsOn):
		return true
	case hand.Black(t.a) && !hand.Black(t.b) && far <= 2: // it slides
		return true
	case f == 1 && far <= 2 && t.held: // it glides under what the hand holds
		return true
	}
	return f == 5 && far > 2 && line.pedalled // the thumb would come round to where another finger lies
}

// passes says that two crossed fingers are no farther apart than they can pass.
func (t joined) passes(line lineJoint, f, g, far int) bool {
	if !line.slurred && t.micros > atOnce || min(f, g) == 1 && line.pedalled {
		return true
	}
	return !crossTooFar(f, g, far)
}

// crossTooFar says that two crossed fingers cannot pass so many semitones.
func crossTooFar(f, g, far int) bool {
	if min(f, g) == 1 {
		return far > underPass[max(f, g)]
	}
	return far > crossesWithout
}

// CrossTooFar says that two fingers on two keys, as a hand's line has them, cross farther than they can pass.
func CrossTooFar(a, b int8, f, g fingering.Finger) bool {
	return a != b && f != g && (a < b) != (f < g) && crossTooFar(int(f), int(g), int(max(a-b, b-a)))
}

// spans says that two fingers in order reach from key to key under a slur.
func (t joined) spans(p hand.Profile, line lineJoint, f, g, far int) bool {
	if !line.slurred || line.pedalled || min(f, g) == 1 && max(f, g) == 5 && far <= byTurning {
		return true
	}
	d := hand.Distance(min(t.a, t.b), max(t.a, t.b))
	return turningHand*p.Excess(min(f, g), max(f, g), d) <= p.Practical(min(f, g), max(f, g))
}
