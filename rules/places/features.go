package places

import (
	"slices"

	"fingerproof/rules/hand"
)

// sides are the events around a note that are looked at, and how far off they lie.
var sides = [...]int{-1, 1, -2, 2, -3, 3}

// What is known of a note. Of each event in sides the note nearest to this one is looked at.
const (
	fSize = iota
	fFromThumb
	fFromOutside
	fFinger
	fBlack
	fBeat
	fKey
	fLeft
	fSilence // before it, in 24ths of a quarter
	fSince   // the event before, in 24ths of a quarter
	fUntil   // the event after
	fSlur
	fGrace
	fShort
	fPlace // in its measure, counted in events
	fDensity

	fSide // the first of sides, sideWidth for each
)

const (
	sInterval = iota
	sFinger
	sChange // of finger
	sBlack
	sSize
	sStrain // how far the change of finger is from the interval
	sideWidth
)

const (
	fMoved        = fSide + len(sides)*sideWidth + iota // the hand, from the event before, in semitones
	fMoves                                              // to the event after
	fSpread                                             // how far the hand has moved within four events
	fCrossed                                            // thumb under or finger over, from the event before
	fCrosses                                            // to the event after
	fSinceMove                                          // events since the hand last moved
	fUntilMove                                          // events until it next moves
	fRunBefore                                          // events in one direction before this one
	fRunAfter                                           // and after it
	fHighest                                            // how many events around none goes farther outside
	fLowest                                             // and none farther inside
	fSameKey                                            // events since the key was last struck
	fSameFinger                                         // whether by the same finger: 0 not struck, 1 another, 2 the same
	fSeen                                               // events since these three stood together before with these fingers
	fSeenMeasures                                       // and measures
	fTurn                                               // events since this one followed the one before, whatever the fingers
	fTurnFinger                                         // whether it took the same fingers
	fPrevGrip                                           // change of the lowest and highest finger against the chord before
	fWidth                                              // of the chord in semitones
	numFeatures
)

// far stands for what is not there.
const far = 99

// line is a line of events with what is worked out of it once.
type line struct {
	events []Event
	lies   []int  // where the hand lies: the key under the thumb, by the first finger of each event
	moved  []int  // by how much it has moved since the event before; far at the beginning
	cross  []bool // thumb under or finger over since the event before
	up     []int  // direction from the event before: 1, -1, 0
	seen   []([2]int)
	turn   []([2]int)
	last   [][]([2]int) // by key
	place  []int
}

// under is how many semitones above the thumb a finger lies on neighbouring white keys, in halves: the mean over C to B.
var under = [6]int{0, 0, 3, 7, 10, 14}

func newLine(events []Event) *line {
	n := len(events)
	l := &line{
		events: events, lies: make([]int, n), moved: make([]int, n), cross: make([]bool, n), up: make([]int, n),
		seen: make([][2]int, n), turn: make([][2]int, n), last: make([][][2]int, n), place: make([]int, n),
	}
	seen, turns, keys := map[string]int{}, map[string]int{}, map[int][2]int{}
	for e := range events {
		now := &events[e]
		l.lies[e] = 0
		for k, key := range now.Keys {
			l.lies[e] += 2*key - under[now.Fingers[k]]
		}
		l.lies[e] /= len(now.Keys)
		l.moved[e] = far
		if e > 0 {
			before := &events[e-1]
			l.moved[e] = l.lies[e] - l.lies[e-1]
			a, b := before.Keys[0], now.Keys[0]
			f, g := before.Fingers[0], now.Fingers[0]
			l.cross[e] = len(before.Keys) == 1 && len(now.Keys) == 1 && a != b && f != g && (a < b) != (f < g)
			l.up[e] = sign(sum(now.Keys)*len(before.Keys) - sum(before.Keys)*len(now.Keys))
			if before.Measure == now.Measure {
				l.place[e] = l.place[e-1] + 1
			}
			t := spell(events[e-1:e+1], false)
			l.turn[e] = [2]int{far, 0}
			if at, ok := turns[t]; ok {
				l.turn[e] = [2]int{min(e-at, far), 1}
				if slices.Equal(events[at].Fingers, now.Fingers) {
					l.turn[e][1] = 2
				}
			}
			turns[t] = e
		}
		s := spell(events[max(e-1, 0):min(e+2, n)], true)
		l.seen[e] = [2]int{10 * far, far}
		if at, ok := seen[s]; ok {
			l.seen[e] = [2]int{min(e-at, 10*far), min(now.Measure-events[at].Measure, far)}
		}
		seen[s] = e
		l.last[e] = make([][2]int, len(now.Keys))
		for k, key := range now.Keys {
			l.last[e][k] = [2]int{far, 0}
			if at, ok := keys[key]; ok {
				l.last[e][k] = [2]int{min(e-at[0], far), 1}
				if at[1] == now.Fingers[k] {
					l.last[e][k][1] = 2
				}
			}
		}
		for k, key := range now.Keys {
			keys[key] = [2]int{e, now.Fingers[k]}
		}
	}
	return l
}

func spell(events []Event, fingers bool) string {
	var out []byte
	for i := range events {
		for k, key := range events[i].Keys {
			out = append(out, byte(key))
			if fingers {
				out = append(out, byte(events[i].Fingers[k]))
			}
		}
		out = append(out, 255)
	}
	return string(out)
}

func sum(keys []int) (out int) {
	for _, k := range keys {
		out += k
	}
	return out
}

func sign(n int) int { return max(-1, min(1, n)) }

// nearest is the place in a chord of the key nearest to one, the lower of two as near.
func nearest(e *Event, key int) int {
	best := 0
	for k := range e.Keys {
		if abs(e.Keys[k]-key) < abs(e.Keys[best]-key) {
			best = k
		}
	}
	return best
}

func abs(n int) int { return max(n, -n) }

// lain is a move, in half semitones, beyond which the hand no longer lies where it lay.
const lain = 5

// features fills in what is known of a key of an event.
func (l *line) features(e, k, density int, out *[numFeatures]int) {
	now := &l.events[e]
	key, finger := now.Keys[k], now.Fingers[k]
	*out = [numFeatures]int{
		fSize: len(now.Keys), fFromThumb: k, fFromOutside: len(now.Keys) - 1 - k, fFinger: finger, fBlack: flag(hand.Black(key)),
		fBeat: now.Beat, fKey: key, fLeft: flag(now.Left), fSlur: now.Slur, fGrace: flag(now.Grace), fShort: flag(now.Short),
		fPlace: min(l.place[e], far), fDensity: density, fSilence: 10 * far, fSince: 10 * far, fUntil: 10 * far,
		fWidth: now.Keys[len(now.Keys)-1] - now.Keys[0],
	}
	if e > 0 {
		before := &l.events[e-1]
		out[fSilence] = min(max(now.At-before.End, 0), 10*far)
		out[fSince] = min(now.At-before.At, 10*far)
		out[fPrevGrip] = 10*(now.Fingers[0]-before.Fingers[0]) + now.Fingers[len(now.Fingers)-1] - before.Fingers[len(before.Fingers)-1]
	}
	if e+1 < len(l.events) {
		out[fUntil] = min(l.events[e+1].At-now.At, 10*far)
		out[fMoves], out[fCrosses] = l.moved[e+1], flag(l.cross[e+1])
	} else {
		out[fMoves] = far
	}
	for s, off := range sides {
		at := fSide + s*sideWidth
		if e+off < 0 || e+off >= len(l.events) {
			out[at+sInterval], out[at+sStrain] = far, far
			continue
		}
		other := &l.events[e+off]
		m := nearest(other, key)
		d, f := other.Keys[m]-key, other.Fingers[m]
		out[at+sInterval], out[at+sFinger], out[at+sChange] = max(min(d, far), -far), f, f-finger
		out[at+sBlack], out[at+sSize] = flag(hand.Black(other.Keys[m])), len(other.Keys)
		out[at+sStrain] = 2*d - (under[f] - under[finger])
	}
	out[fMoved], out[fCrossed] = l.moved[e], flag(l.cross[e])
	low, high := l.lies[e], l.lies[e]
	for i := max(e-4, 0); i < e; i++ {
		low, high = min(low, l.lies[i]), max(high, l.lies[i])
	}
	out[fSpread] = high - low
	out[fSinceMove], out[fUntilMove] = 0, 1
	for out[fSinceMove] < 20 && out[fSinceMove] < e && abs(l.moved[e-out[fSinceMove]]) < lain {
		out[fSinceMove]++
	}
	for out[fUntilMove] < 20 && e+out[fUntilMove] < len(l.events) && abs(l.moved[e+out[fUntilMove]]) < lain {
		out[fUntilMove]++
	}
	for i := e; i > 0 && l.up[i] == l.up[e] && e-i < 20; i-- {
		out[fRunBefore]++
	}
	out[fRunBefore] *= 1 + flag(e > 0 && l.up[e] < 0)*-2
	for i := e + 1; i < len(l.events) && l.up[i] == l.up[e+1] && i-e < 20; i++ {
		out[fRunAfter]++
	}
	out[fRunAfter] *= 1 + flag(e+1 < len(l.events) && l.up[e+1] < 0)*-2
	out[fHighest] = l.extreme(e, func(o *Event) bool { return o.Keys[len(o.Keys)-1] > key })
	out[fLowest] = l.extreme(e, func(o *Event) bool { return o.Keys[0] < key })
	out[fSameKey], out[fSameFinger] = l.last[e][k][0], l.last[e][k][1]
	out[fSeen], out[fSeenMeasures] = l.seen[e][0], l.seen[e][1]
	out[fTurn], out[fTurnFinger] = l.turn[e][0], l.turn[e][1]
}

// extreme counts the events to either side, twelve at most, none of which goes beyond.
func (l *line) extreme(e int, beyond func(o *Event) bool) int {
	n := 0
	for n < 12 && (e-n-1 < 0 || !beyond(&l.events[e-n-1])) && (e+n+1 >= len(l.events) || !beyond(&l.events[e+n+1])) {
		n++
	}
	return n
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}
