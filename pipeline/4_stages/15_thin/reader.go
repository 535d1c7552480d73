package thin

import (
	"math"
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/hand"
)

// Where the preface tells nothing (reading.go), the reader, a much plainer player than the writer of the fingering, takes of
// all ways to put rising fingers on the keys that agree with the printed digits the one that lies most at ease: spans in the
// chord and from one chord to the next by the published table of relaxed spans, the thumb off the black keys, no finger used
// twice in a row on different keys. It looks one step back and no further.

// readerState is one way to take the keys of an event.
type readerState struct {
	fingers []int
	ease    int // what the grip costs by itself
}

// grips lists every rising choice of k fingers, in lexical order, for k up to 5.
var grips = func() (out [6][][]int) {
	for k := range out {
		fingers := make([]int, k)
		var choose func(at, from int)
		choose = func(at, from int) {
			if at == k {
				out[k] = append(out[k], slices.Clone(fingers))
				return
			}
			for finger := from; finger <= 5-(k-1-at); finger++ {
				fingers[at] = finger
				choose(at+1, finger+1)
			}
		}
		choose(0, 1)
	}
	return out
}()

// states lists how the reader may take an event of which some digits are
// known (0 where none is). Printed digits override the reader's own legality:
// where no rising choice agrees with them, they stand as they are, and fingers
// that nothing tells are 0.
func (u *Usual) states(e *event, known []int) []readerState {
	var out []readerState
	if len(e.keys) <= 5 {
		for _, g := range gripsOn(e.keys) {
			if agrees(g, known) {
				out = append(out, readerState{g, u.gripUnease(e.keys, g)})
			}
		}
	}
	if len(out) == 0 {
		out = append(out, readerState{known, 0})
	}
	return out
}

// gripsOn lists the rising choices of fingers for keys; a key struck by two
// voices has one finger.
func gripsOn(keys []int) [][]int {
	distinct := slices.Compact(slices.Clone(keys))
	if len(distinct) == len(keys) {
		return grips[len(keys)]
	}
	var out [][]int
	for _, g := range grips[len(distinct)] {
		fingers, at := make([]int, len(keys)), 0
		for k := range keys {
			if k > 0 && keys[k] != keys[k-1] {
				at++
			}
			fingers[k] = g[at]
		}
		out = append(out, fingers)
	}
	return out
}

func agrees(fingers, known []int) bool {
	for k, f := range known {
		if f != 0 && f != fingers[k] {
			return false
		}
	}
	return true
}

// Weights of the reader.
const (
	awayShare   = 12 // at the span of a chord that one in twenty exceeds, in eighths of a nat
	inMove      = 4
	thumbBlack  = 6
	littleBlack = 3
)

// level is what every grip and every move costs beside: what is likelier than the spans say costs less, and never less than
// nothing.
const level = 1000

// unit is how many units a point of the spans' unease counts.
const unit = 8

// gripUnease is how unusual a grip is.
func (u *Usual) gripUnease(keys, fingers []int) int {
	sum := 0
	for i := 1; i < len(keys); i++ {
		sum += chordSpans.unease(fingers[i-1], fingers[i], keys[i-1], keys[i])
	}
	if len(keys) > 2 {
		sum += chordSpans.unease(fingers[0], fingers[len(keys)-1], keys[0], keys[len(keys)-1])
	}
	if len(keys) == 1 && hand.Black(keys[0]) { // mirroring about D keeps black keys black
		switch fingers[0] {
		case 1:
			sum += thumbBlack
		case 5:
			sum += littleBlack
		}
	}
	return max(level+unit*sum+u.ofGrip(keys, fingers), 0)
}

// moveUnease is how far a grip is from the one before. Keys struck again are taken as they were.
func (u *Usual) moveUnease(before *event, was []int, e *event, now []int) int {
	if len(e.keys) > 1 && slices.Equal(before.keys, e.keys) {
		if slices.Equal(was, now) {
			return level
		}
		return max(level+unit*inMove*otherFinger+u.ofMove(before, was, e, now), 0)
	}
	sum := 0
	for i, key := range e.keys {
		for k, from := range before.keys {
			sum += strain[was[k]][now[i]][reduced(key-from)]
		}
	}
	return max(level+unit*sum/(len(before.keys)*len(e.keys))+u.ofMove(before, was, e, now), 0)
}

// otherFinger is the strain of another finger on the key that was struck before. This strain, that of the thumb that passes,
// of a hand that closes up and of a known turn taken otherwise were chosen on every eighth piece of the fingered material,
// for few digits at the places that editors print: a reader who would never think of such a thing has it printed.
const otherFinger = 14

// widest is the distance, in semitones, beyond which all distances strain alike.
const widest = 30

// reduced moves a distance into the table.
func reduced(distance int) int { return min(max(distance, -widest), widest) + widest }

// strain tells, by finger, finger and distance in semitones, how far the
// second finger on a key that lies that far above the first finger's is from
// lying at ease. Finger 0 strains nothing.
var strain = func() (out [6][6][2*widest + 1]int) {
	for a := 1; a <= 5; a++ {
		for b := 1; b <= 5; b++ {
			for d := -widest; d <= widest; d++ {
				out[a][b][d+widest] = inMove*strainOf(a, b, d) + fromPosition(a, b, d)
			}
		}
	}
	return out
}()

// fromPosition is how far, in semitones, two keys lie from where two fingers rest in the position of five fingers on five
// keys, at most awayMost: of fingers that lie at ease the reader takes those that stay where the hand is.
func fromPosition(a, b, distance int) int {
	if a == b {
		return 0
	}
	return min(abs(4*distance-positionSpan*(b-a))/4*awayEach, awayMost)
}

// positionSpan is the width, in semitones, of five fingers on five keys: a fifth.
const positionSpan = 7

// What a semitone away from the position costs beside what lies at ease, and the most that it costs.
const (
	awayEach = 2
	awayMost = 6
)

func strainOf(a, b, distance int) int {
	switch {
	case a == b && distance == 0:
		return 0
	case a == b:
		return 8 + max(distance, -distance)/2
	case distance == 0:
		return otherFinger
	case a > b:
		a, b, distance = b, a, -distance
	}
	low, high := effort.RelaxedSpan(a, b) // the span table of the ergonomic model (FACTS §6.1)
	switch {
	case distance < 0 && a != 1: // a finger over another, no thumb
		return 20 - distance
	case distance < 0: // the thumb passes, most easily under 3 and 4
		return 8 - distance
	case distance < low:
		return 3 * (low - distance)
	case distance > high:
		return 2 * (distance - high)
	}
	return 0
}

// spans says how far apart, in millimetres, the keys of two fingers lie: where
// one in twenty is nearer, in the middle, and where one in twenty is farther;
// and how often the pair is met. By lower and higher finger.
type spans [6][6]struct{ low, middle, high, often int }

// What is printed in the chords of the fingered material (3-4, of which there
// were too few, as in lines).
var chordSpans = spans{
	1: {2: {24, 47, 85, 326}, 3: {38, 47, 118, 602}, 4: {47, 96, 141, 344}, 5: {94, 118, 164, 302}},
	2: {3: {24, 41, 68, 196}, 4: {35, 47, 79, 579}, 5: {69, 95, 129, 402}},
	3: {4: {0, 24, 47, 100}, 5: {38, 47, 82, 416}},
	4: {5: {24, 47, 56, 97}},
}

// rare is what it costs, in eighths of a nat, that a pair is met so seldom.
var rare = func() (out [4000]int) {
	for n := 1; n < len(out); n++ {
		out[n] = int(math.Round(-8 * math.Log(float64(n)/float64(len(out)))))
	}
	return out
}()

func (s *spans) unease(f, g, from, to int) int {
	if f == g {
		return 0
	}
	p := &s[f][g]
	d := int(hand.Distance(from, to) / hand.MM(1))
	if d < p.middle {
		return awayShare*(p.middle-d)/(p.middle-p.low) + rare[p.often]
	}
	return awayShare*(d-p.middle)/(p.high-p.middle) + rare[p.often]
}
