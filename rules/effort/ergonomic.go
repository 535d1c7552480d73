package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Spans of a finger pair in semitones, from the lower finger to the higher; negative where the thumb has passed.
type semitones struct{ minPrac, minComf, minRel, maxRel, maxComf, maxPrac int }

// publishedSpans is the span table of the ergonomic model of 1997 (FACTS §6.1, from memory), in the order of pairIndex.
var publishedSpans = [10]semitones{
	{-5, -3, 1, 5, 8, 10}, {-4, -2, 3, 7, 10, 12}, {-3, -1, 5, 9, 12, 14}, {-1, 1, 7, 10, 13, 15},
	{1, 1, 1, 2, 3, 5}, {1, 1, 3, 4, 5, 7}, {2, 2, 5, 6, 8, 10},
	{1, 1, 1, 2, 2, 4}, {1, 1, 3, 4, 5, 7}, {1, 1, 1, 2, 3, 5},
}

// RelaxedSpan is how far apart, in semitones, the keys of two different fingers lie when the hand is relaxed, from
// the lower finger to the higher, by the same table.
func RelaxedSpan(low, high int) (least, most int) {
	s := publishedSpans[pairIndex(low, high)]
	return s.minRel, s.maxRel
}

// Point is one penalty point of the ergonomic model in 1/4096 nat.
const Point = 4096

// notPlayable is what a transition beyond the practical spans costs, in points.
const notPlayable = 200

// Ergonomic is the published ergonomic model of twelve unweighted rules (Music Perception 14(4), 1997; FACTS §6.1).
// It was written for one line of successive legato notes; here the outer voices of chords are taken as such lines and
// the span rules judge the keys of a chord as well. It serves as an oracle beside our own tables.
type Ergonomic struct {
	*music
	grips Grips
}

// NewErgonomic prices a line by the twelve rules.
func NewErgonomic(line *fingering.Line, grips Grips) *Ergonomic {
	return &Ergonomic{music: newMusic(line), grips: grips}
}

// spanPoints are rules 1 to 3 for finger f on key a and g on key b.
func spanPoints(a, b int, f, g fingering.Finger) int {
	if f == g {
		if a == b {
			return 0
		}
		return notPlayable
	}
	s, span := publishedSpans[pairIndex(int(f), int(g))], b-a
	if f > g {
		span = a - b
	}
	if a == b || span < s.minPrac || span > s.maxPrac {
		return notPlayable
	}
	points := 2 * (max(span-s.maxComf, 0) + max(s.minComf-span, 0)) // 1 stretch
	weight := 2
	if min(f, g) == 1 {
		weight = 1
	}
	return points + weight*(max(s.minRel-span, 0)+max(span-s.maxRel, 0)) // 2 small span, 3 large span
}

// notePoints are the rules on one note: weak finger (6), thumb on black (10, by itself).
func notePoints(a int, f fingering.Finger) (points int) {
	if f >= 4 {
		points++
	}
	if f == 1 && hand.Black(a) {
		points++
	}
	return points
}

// stepPoints are the rules on two notes in a row.
func stepPoints(a, b int, f, g fingering.Finger) int {
	points := spanPoints(a, b, f, g)
	if f == 3 && g == 4 { // 8
		points++
	}
	if f == 3 && g == 4 && !hand.Black(a) && hand.Black(b) || f == 4 && g == 3 && hand.Black(a) && !hand.Black(b) { // 9
		points++
	}
	for _, x := range [2]struct {
		key, other int
		finger     fingering.Finger
	}{{a, b, f}, {b, a, g}} {
		if hand.Black(x.key) && !hand.Black(x.other) && (x.finger == 1 || x.finger == 5) { // 10, 11
			points += 2
		}
	}
	low, high, lf, hf := a, b, f, g
	if a > b {
		low, high, lf, hf = b, a, g, f
	}
	if hf == 1 && lf > 1 { // 12: the thumb on the higher key
		switch {
		case hand.Black(low) == hand.Black(high):
			points++
		case hand.Black(high):
			points += 3
		}
	}
	return points
}

// rowPoints are the rules on three notes in a row: position change (4, 5) and 3, 4, 5 together (7).
func rowPoints(a, b, c int, f, g, h fingering.Finger) (points int) {
	if f != g && g != h && f != h && f >= 3 && g >= 3 && h >= 3 {
		points++
	}
	if a == c {
		return points
	}
	if f == h { // one finger on two keys: half a change (assumption of FACTS §6.1), as large as the whole interval
		return points + 1 + abs(c-a)
	}
	s, span := publishedSpans[pairIndex(int(f), int(h))], c-a
	if f > h {
		span = a - c
	}
	over := max(span-s.maxComf, s.minComf-span)
	if over <= 0 {
		return points
	}
	points += over + 1
	between := a < b && b < c || a > b && b > c
	if g == 1 && between && (span > s.maxPrac || span < s.minPrac) {
		points++
	}
	return points
}

// Unary prices grips (see lattice.Model).
func (x *Ergonomic) Unary(e int, out []int32) {
	keys := x.line.Events[e].Keys
	for i, g := range x.grips.Grips(e) {
		points := 0
		for j, k := range keys {
			if k.Struck {
				points += notePoints(int(k.Key), g.Fingers[j])
			}
			if j > 0 && (k.Struck || keys[j-1].Struck) {
				points += min(spanPoints(int(keys[j-1].Key), int(k.Key), g.Fingers[j-1], g.Fingers[j]), 20)
			}
		}
		out[i] = int32(points * Point)
	}
}

// Pair prices two grips in a row (see lattice.Model).
func (x *Ergonomic) Pair(e int, out []int32) {
	clear(out)
	before, here := x.grips.Grips(e-1), x.grips.Grips(e)
	ka, kb := x.line.Events[e-1].Keys, x.line.Events[e].Keys
	lines := 2
	if x.struck[e] == 1 && x.struck[e-1] == 1 {
		lines = 1
	}
	for line := range lines {
		i, j := x.high[e-1], x.high[e]
		if line == 1 {
			i, j = x.low[e-1], x.low[e]
		}
		for a, ga := range before {
			for b, gb := range here {
				points := stepPoints(int(ka[i].Key), int(kb[j].Key), ga.Fingers[i], gb.Fingers[j])
				out[a*len(here)+b] += int32(points * Point)
			}
		}
	}
}

// Triple prices three grips in a row (see lattice.Model).
func (x *Ergonomic) Triple(e int, out []int32) bool {
	clear(out)
	lines := 2
	if x.struck[e] == 1 && x.struck[e-1] == 1 && x.struck[e-2] == 1 {
		lines = 1
	}
	events := x.line.Events
	for line := range lines {
		i, j, k := x.high[e-2], x.high[e-1], x.high[e]
		if line == 1 {
			i, j, k = x.low[e-2], x.low[e-1], x.low[e]
		}
		a, b, c := int(events[e-2].Keys[i].Key), int(events[e-1].Keys[j].Key), int(events[e].Keys[k].Key)
		at := 0
		for _, ga := range x.grips.Grips(e - 2) {
			for _, gb := range x.grips.Grips(e - 1) {
				for _, gc := range x.grips.Grips(e) {
					out[at] += int32(Point * rowPoints(a, b, c, ga.Fingers[i], gb.Fingers[j], gc.Fingers[k]))
					at++
				}
			}
		}
	}
	return true
}
