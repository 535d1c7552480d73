package agreement

import (
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// figureStrokes is how many single keys in a row make a figure that is held against the last time it stood; figureNear
// how many quarters before that may have been: two measures of four. figureAbout is how many strokes before and
// after may ask for other fingers.
const (
	figureStrokes = 4
	figureNear    = 8
	figureAbout   = 2
)

// figuresAgain calls visit with the strikes of each figure of single keys and those of its last time nearby: on the
// same keys, or, with like, on other keys with the same intervals and colours. A figure has two keys at least, and
// turns: what goes on in one direction is part of a run.
func figuresAgain(line *fingering.Line, like bool, visit func(before, now [figureStrokes]int)) {
	d := digits{line: line}
	type shape struct {
		keys [2 * figureStrokes]int8
		gaps [figureStrokes - 1]int32 // in 1/960 of a quarter
	}
	last := map[shape]int{}
	for e := figureStrokes - 1; e < len(line.Events); e++ {
		var s shape
		var now [figureStrokes]int
		keys, ok := map[int8]bool{}, true
		for i := range figureStrokes {
			k, single := d.single(e - figureStrokes + 1 + i)
			ok = ok && single
			if !ok {
				break
			}
			now[i] = k.Strike
			keys[k.Key] = true
			s.keys[i] = k.Key
			if like {
				s.keys[i] -= line.Strikes[now[0]].Key
				if hand.Black(int(k.Key)) {
					s.keys[figureStrokes+i] = 1
				}
			}
			if i > 0 {
				at := e - figureStrokes + 1 + i
				s.gaps[i-1] = int32(960 * (quarters(line.Events[at].Onset) - quarters(line.Events[at-1].Onset)))
			}
		}
		turns := false
		for i := 2; ok && i < figureStrokes; i++ {
			turns = turns || s.keys[i-2] == s.keys[i-1] || (s.keys[i-1] > s.keys[i-2]) != (s.keys[i] > s.keys[i-1])
		}
		if !turns || len(keys) < 2 {
			continue
		}
		first := line.Events[e-figureStrokes+1].Onset
		if was, met := last[s]; met && quarters(first)-quarters(line.Events[was].Onset) <= figureNear {
			var before [figureStrokes]int
			same := true
			for i := range before {
				k, _ := d.single(was + i)
				before[i] = k.Strike
				same = same && k.Key == line.Strikes[now[i]].Key
			}
			if same != like && was+figureStrokes <= e-figureStrokes+1 {
				visit(before, now)
			}
		}
		if was, met := last[s]; !met || was+figureStrokes <= e-figureStrokes+1 {
			last[s] = e - figureStrokes + 1
		}
	}
}

// alike says that nothing about two times of a figure asks for other fingers: its notes are as long and as slurred, the
// same keys are held beside them, and the two strokes before and after lie and come alike.
func alike(line *fingering.Line, before, now [figureStrokes]int) bool {
	event := func(strike int) int { return line.Strikes[strike].Event }
	for i := range before {
		a, b := &line.Strikes[before[i]], &line.Strikes[now[i]]
		if a.Slurred != b.Slurred || lasts(line, a) != lasts(line, b) {
			return false
		}
	}
	a, b := event(before[0]), event(now[0])
	for i := -figureAbout; i < figureStrokes+figureAbout; i++ {
		if !liesAlike(line, a+i, b+i, int(line.Strikes[now[0]].Key)-int(line.Strikes[before[0]].Key)) {
			return false
		}
		if i+1 < figureStrokes+figureAbout && between(line, a+i) != between(line, b+i) {
			return false
		}
	}
	return true
}

// lasts is how long a strike sounds, in 1/960 of a quarter.
func lasts(line *fingering.Line, s *fingering.Strike) int {
	return int(960 * (quarters(s.End) - quarters(line.Events[s.Event].Onset)))
}

// between is the time from an event to the next one, in 1/960 of a quarter, −1 at the ends of the line.
func between(line *fingering.Line, e int) int {
	if e < 0 || e+1 >= len(line.Events) {
		return -1
	}
	return int(960 * (quarters(line.Events[e+1].Onset) - quarters(line.Events[e].Onset)))
}

// liesAlike says that the keys of two events are the same, but for so many semitones, and of the same colours.
func liesAlike(line *fingering.Line, a, b, apart int) bool {
	outside := func(e int) bool { return e < 0 || e >= len(line.Events) }
	if outside(a) || outside(b) {
		return outside(a) && outside(b)
	}
	return slices.EqualFunc(line.Events[a].Keys, line.Events[b].Keys, func(x, y fingering.Sounding) bool {
		return int(y.Key)-int(x.Key) == apart && x.Struck == y.Struck && black(x) == black(y)
	})
}

func quarters(m fingering.Moment) float64 { return float64(m.Num) / float64(m.Den) }
