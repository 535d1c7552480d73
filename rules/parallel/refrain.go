package parallel

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// RefrainStrokes is how many single keys make the figure of a refrain.
const RefrainStrokes = figureStrokes

// Refrain is a figure of single keys with all its times that are within reach of the one before: an editor chooses one
// fingering for them.
type Refrain struct {
	Like  bool                  // on other keys of the same shape and colours, too
	Times [][RefrainStrokes]int // strikes of the line, in the order of playing
}

// Refrains lists the figures of a line that stand twice or more, those on the same keys first, each group by its first
// time. Times do not overlap. A figure turns, as it does for Figures. A time that is another part of a sequence begins a
// list of its own, and so does one on other keys under the hand in one place. Time grows with the number of events.
func Refrains(line *fingering.Line) (out []Refrain) {
	return append(refrains(line, false), refrains(line, true)...)
}

// refrainShape is what two times of a figure have in common.
type refrainShape struct {
	keys  [RefrainStrokes]int8
	black [RefrainStrokes]bool
	gaps  [RefrainStrokes - 1]score.Fraction
}

func refrains(line *fingering.Line, like bool) (out []Refrain) {
	last := map[refrainShape]int{} // its number in out
	var found []Refrain
	for e := range line.Events {
		shape, now, ok := figureAt(line, e, like)
		if !ok {
			continue
		}
		r, met := last[shape]
		if met {
			before := found[r].Times[len(found[r].Times)-1]
			was := line.Strikes[before[0]].Event
			if was+RefrainStrokes > e {
				continue
			}
			met = minus(line.Events[e].Onset, line.Events[was].Onset).Cmp(figureNear) <= 0 &&
				!InSequence(line, was, e, RefrainStrokes) && !(like && inOnePlace(line, was, e))
		}
		if !met {
			r = len(found)
			last[shape] = r
			found = append(found, Refrain{Like: like})
		}
		found[r].Times = append(found[r].Times, now)
	}
	for _, r := range found {
		if len(r.Times) > 1 {
			out = append(out, r)
		}
	}
	return out
}

// figureAt gives the figure that begins at an event; ok is false where none does.
func figureAt(line *fingering.Line, e int, like bool) (s refrainShape, strikes [RefrainStrokes]int, ok bool) {
	if e+RefrainStrokes > len(line.Events) {
		return s, strikes, false
	}
	turns := false
	for i := range RefrainStrokes {
		k, single := Single(line, e+i)
		if !single {
			return s, strikes, false
		}
		strikes[i], s.keys[i] = k, line.Strikes[k].Key
		if i > 0 {
			s.gaps[i-1] = minus(line.Events[e+i].Onset, line.Events[e+i-1].Onset)
		}
		if i > 1 {
			a, b, c := s.keys[i-2], s.keys[i-1], s.keys[i]
			turns = turns || a == b || (b > a) != (c > b)
		}
	}
	lowest := s.keys[0]
	for i, k := range s.keys {
		if like {
			s.black[i], s.keys[i] = hand.Black(int(k)), k-lowest
		}
	}
	same := s.keys[0] == s.keys[1] && s.keys[1] == s.keys[2] && s.keys[2] == s.keys[3]
	return s, strikes, turns && !same
}

// placeSpan is how many semitones lie under a hand that keeps its place: on other keys within them a figure has other
// fingers by itself.
const placeSpan = 9

// inOnePlace says that all keys from one event to the end of a figure lie under the hand in one place.
func inOnePlace(line *fingering.Line, from, to int) bool {
	low, high := int8(127), int8(0)
	for e := from; e < to+RefrainStrokes; e++ {
		for _, k := range line.Events[e].Keys {
			low, high = min(low, k.Key), max(high, k.Key)
		}
	}
	return high-low <= placeSpan
}
