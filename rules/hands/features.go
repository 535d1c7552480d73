package hands

import (
	"fingerproof/corpus/score"
)

// Feature is one thing that speaks for or against a hand.
type Feature int

// What the costs look at. Values are semitones, notes, or 1.
const (
	overSixth     Feature = iota // span of what a hand strikes, semitones beyond 9
	overOctave                   // … beyond 12
	overNinth                    // … beyond 14
	tooMany                      // notes beyond five in a hand
	heldOctave                   // span with what the hand still holds, beyond 12
	heldTenth                    // … beyond 16
	moveNear                     // way from where the hand was, up to 12 semitones, within a quarter
	moveFar                      // … beyond 12
	moveNearLater                // the same after a longer time
	moveFarLater
	lowInRight  // semitones below middle C in the right hand
	highInLeft  // semitones above it in the left
	veryLow     // … more than an octave below
	veryHigh    // … more than an octave above
	underOther  // the right hand strikes below where the left is, or the left above the right
	dealtAcross // keys dealt crosswise in one moment
	joins       // the stroke begins where the hand's last one ends
	newVoice    // the hand still holds longer notes while it strikes
	sameLength  // the stroke lasts as long as the hand's last one
	otherLength // … and not
	sameKey     // a key the hand struck last
	othersKey   // a key the other hand struck last
	bothStrike  // both hands strike
	wholeChord  // one hand strikes several keys and the other none
	alternates  // the other hand struck last and this one did not
	firstStroke // the hand's first stroke
	features
)

// Weights of the features, in thousandths; positive ones speak against.
type Weights [features]int32

// step prices dealing a moment by a choice, and sets where the hands are then.
func step(notes []Note, m []int, s *state, c choice, price func(f Feature, v int64) int64, hands *[2]place) (cost int64) {
	add := func(f Feature, v int) {
		if v != 0 {
			cost += price(f, int64(v))
		}
	}
	onset := notes[m[0]].Onset
	if c.crossed {
		add(dealtAcross, 1)
	}
	taken := [2][]int{}
	for i, n := range m {
		h := 0
		if c.hand(i) == score.Right {
			h = 1
		}
		taken[h] = append(taken[h], n)
		if l := notes[n].Leans; l != score.NoHand && l != c.hand(i) {
			cost += notes[n].Weight
		}
	}
	if len(taken[0]) > 0 && len(taken[1]) > 0 {
		add(bothStrike, 1)
	} else if len(m) > 1 {
		add(wholeChord, 1)
	}
	for h, keys := range taken {
		if len(keys) == 0 {
			continue
		}
		was, other := s.hands[h], s.hands[1-h]
		low, high := notes[keys[0]].Key, notes[keys[len(keys)-1]].Key
		span := high - low
		add(overSixth, max(span-9, 0))
		add(overOctave, max(span-12, 0))
		add(overNinth, max(span-14, 0))
		add(tooMany, max(len(keys)-5, 0))
		for _, n := range keys {
			below := 60 - notes[n].Key
			if h == 1 {
				add(lowInRight, max(below, 0))
				add(veryLow, max(below-12, 0))
			} else {
				add(highInLeft, max(-below, 0))
				add(veryHigh, max(-below-12, 0))
			}
		}
		stroke(notes, keys, h, was, other, onset, add)
		hands[h] = after(notes, keys, was, onset)
	}
	return cost
}

// stroke prices how a hand's stroke follows its last one and the other hand's.
func stroke(notes []Note, keys []int, h int, was, other place, onset int64, add func(Feature, int)) {
	low, high := notes[keys[0]].Key, notes[keys[len(keys)-1]].Key
	if !was.known {
		add(firstStroke, 1)
	} else {
		if was.end > onset {
			span := max(high, was.high) - min(low, was.low)
			add(heldOctave, max(span-12, 0))
			add(heldTenth, max(span-16, 0))
			add(newVoice, 1)
		}
		move := max(was.low-low, high-was.high, 0) // how far beyond what lay under the hand
		if was.high-was.low > high-low {
			move = max(was.low-low, high-was.high, 0)
		}
		if onset-was.onset <= TicksPerQuarter {
			add(moveNear, min(move, 12))
			add(moveFar, max(move-12, 0))
		} else {
			add(moveNearLater, min(move, 12))
			add(moveFarLater, max(move-12, 0))
		}
		if was.end == onset {
			add(joins, 1)
		}
		if notes[keys[0]].End-onset == was.length {
			add(sameLength, 1)
		} else {
			add(otherLength, 1)
		}
		if low == was.low || high == was.high {
			add(sameKey, 1)
		}
	}
	if !other.known {
		return
	}
	if low == other.low || high == other.high {
		add(othersKey, 1)
	}
	if other.onset > was.onset && other.onset < onset {
		add(alternates, 1)
	}
	if h == 1 {
		add(underOther, min(max(other.high-low, 0), 24))
	} else {
		add(underOther, min(max(high-other.low, 0), 24))
	}
}

// after is where a hand is once it has struck.
func after(notes []Note, keys []int, was place, onset int64) place {
	p := place{low: notes[keys[0]].Key, high: notes[keys[len(keys)-1]].Key, onset: onset, known: true}
	for _, n := range keys {
		p.end = max(p.end, notes[n].End)
	}
	p.length = notes[keys[0]].End - onset
	if was.known && was.end > p.end { // what it held goes on
		p.low, p.high, p.end = min(p.low, was.low), max(p.high, was.high), was.end
		if p.high-p.low > 16 { // too wide to be held: the pedal has it
			p.low, p.high = notes[keys[0]].Key, notes[keys[len(keys)-1]].Key
			p.end = onset
			for _, n := range keys {
				p.end = max(p.end, notes[n].End)
			}
		}
	}
	return p
}
