package places

import (
	"cmp"
	"slices"
)

// reason is what an editor may say of a place: words that are true where fact holds, and the columns that speak for it.
type reason struct {
	words   string
	columns []int
	fact    func(f *[numFeatures]int) bool
}

// before and after name a column of the event before and after.
func before(column int) int { return fSide + column }
func after(column int) int  { return fSide + sideWidth + column }

// leap is the interval, in semitones, from which a single step counts as a leap: more than an octave lies for sure beyond
// where the hand lies, and from a sixth on it is opened for.
const leap = 8

var (
	moving  = []int{fMoved, fSinceMove, fSpread, before(sStrain), before(sInterval), before(sChange), before(sFinger), fCrossed}
	leaving = []int{fMoves, fUntilMove, after(sStrain), after(sInterval), after(sChange), after(sFinger), fCrosses}
	chord   = []int{fSize, fFromThumb, fFromOutside, fWidth, fPrevGrip}
	known   = []int{fSeen, fSeenMeasures, fTurn, fTurnFinger}
	resting = []int{fSilence, fSince}
	turning = []int{fRunBefore, fRunAfter, fHighest, fLowest}
)

// reasons, the more telling of two that speak alike first.
var reasons = []reason{
	{"the thumb passes under", moving, func(f *[numFeatures]int) bool { return f[fCrossed] == 1 && f[fFinger] == 1 }},
	{"a finger passes over the thumb", moving, func(f *[numFeatures]int) bool {
		return f[fCrossed] == 1 && f[before(sFinger)] == 1
	}},
	{"a finger passes over another", moving, func(f *[numFeatures]int) bool {
		return f[fCrossed] == 1 && f[fFinger] != 1 && f[before(sFinger)] != 1
	}},
	{"the hand lands here after a leap", moving, func(f *[numFeatures]int) bool {
		return f[before(sFinger)] > 0 && abs(f[before(sInterval)]) >= leap && abs(f[fMoved]) >= lain
	}},
	{"another finger takes the same key", moving, func(f *[numFeatures]int) bool {
		return f[before(sFinger)] > 0 && f[before(sInterval)] == 0 && f[before(sChange)] != 0
	}},
	{"the same finger goes on to another key", moving, func(f *[numFeatures]int) bool {
		return f[before(sFinger)] > 0 && f[before(sInterval)] != 0 && f[before(sChange)] == 0
	}},
	{"the hand shifts here", moving, func(f *[numFeatures]int) bool { return f[fMoved] != far && abs(f[fMoved]) >= lain }},
	{"from here the thumb passes", leaving, func(f *[numFeatures]int) bool {
		return f[fCrosses] == 1 && (f[fFinger] == 1 || f[after(sFinger)] == 1)
	}},
	{"the hand leaps away from here", leaving, func(f *[numFeatures]int) bool {
		return f[after(sFinger)] > 0 && abs(f[after(sInterval)]) >= leap && abs(f[fMoves]) >= lain
	}},
	{"the hand is about to shift", leaving, func(f *[numFeatures]int) bool { return f[fMoves] != far && abs(f[fMoves]) >= lain }},
	{"the first note of the hand", resting, func(f *[numFeatures]int) bool { return f[fMoved] == far }},
	{"the first note after a rest", resting, func(f *[numFeatures]int) bool {
		return f[fMoved] != far && f[fSilence] >= inQuarter/2
	}},
	{"a long note before it", resting, func(f *[numFeatures]int) bool { return f[fMoved] != far && f[fSince] >= 2*inQuarter }},
	{"the highest note around", turning, func(f *[numFeatures]int) bool {
		return f[fHighest] >= 2 && f[fLeft] == 0 || f[fLowest] >= 2 && f[fLeft] == 1
	}},
	{"the lowest note around", turning, func(f *[numFeatures]int) bool {
		return f[fLowest] >= 2 && f[fLeft] == 0 || f[fHighest] >= 2 && f[fLeft] == 1
	}},
	{"the line turns here", turning, func(f *[numFeatures]int) bool {
		return f[fRunBefore] > 1 && f[fRunAfter] < -1 || f[fRunBefore] < -1 && f[fRunAfter] > 1
	}},
	{"the thumb stands on a black key", []int{fFinger, fBlack, fKey}, func(f *[numFeatures]int) bool {
		return f[fFinger] == 1 && f[fBlack] == 1
	}},
	{"the little finger stands on a black key", []int{fFinger, fBlack, fKey}, func(f *[numFeatures]int) bool {
		return f[fFinger] == 5 && f[fBlack] == 1
	}},
	{"another finger had this key shortly before", []int{fSameKey, fSameFinger}, func(f *[numFeatures]int) bool {
		return f[fSameFinger] == 1 && f[fSameKey] <= 16
	}},
	{"an outer note of a chord", chord, func(f *[numFeatures]int) bool {
		return f[fSize] > 1 && (f[fFromThumb] == 0 || f[fFromOutside] == 0)
	}},
	{"an inner note of a chord", chord, func(f *[numFeatures]int) bool {
		return f[fSize] > 2 && f[fFromThumb] > 0 && f[fFromOutside] > 0
	}},
	{"a slur begins", []int{fSlur}, func(f *[numFeatures]int) bool { return f[fSlur] == 1 }},
	{"the first of its kind", known, func(f *[numFeatures]int) bool { return f[fSeenMeasures] == far }},
	{"the like was long ago", known, func(f *[numFeatures]int) bool { return f[fSeenMeasures] != far && f[fSeenMeasures] >= 4 }},
	{"the beginning of a measure", []int{fBeat, fPlace}, func(f *[numFeatures]int) bool { return f[fBeat] == 2 }},
	{"on a beat", []int{fBeat, fPlace}, func(f *[numFeatures]int) bool { return f[fBeat] == 1 }},
}

// atMost reasons are said of a place.
const atMost = 2

// Reasons says why a digit is wanted at a key of an event, the weightiest reason first; empty where nothing that has a
// name spoke for it.
func (l *Line) Reasons(event, key int) []string {
	var f, by [numFeatures]int
	l.line.features(event, key, l.density, &f)
	l.model.value(&f, &by)
	type spoken struct {
		worth int
		r     *reason
	}
	var all []spoken
	for i := range reasons {
		r := &reasons[i]
		worth := 0
		for _, c := range r.columns {
			worth += by[c]
		}
		if worth <= 0 || !r.fact(&f) {
			continue
		}
		if slices.ContainsFunc(all, func(s spoken) bool { return &s.r.columns[0] == &r.columns[0] }) {
			continue // of what the same columns speak for, the more telling
		}
		all = append(all, spoken{worth, r})
	}
	slices.SortStableFunc(all, func(a, b spoken) int { return cmp.Compare(b.worth, a.worth) })
	var out []string
	for _, s := range all[:min(len(all), atMost)] {
		out = append(out, s.r.words)
	}
	return out
}
