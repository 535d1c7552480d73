package stemagainstvoice

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// rightAmong is in how many measures a staff keeps the stems of its two voices apart where one that does not is a slip.
const rightAmong = 6

// wholeMeasures reports the one measure of a staff in which two voices that sound together, the one above the other, have all
// their stems to one side: of each, note for note, nobody sees which it is. Voices with one rhythm are drawn as chords.
func wholeMeasures(p *lint.Inspection) {
	s := p.Score
	for part := range s.Parts {
		for staff := 1; staff <= max(s.Parts[part].Staves, 1); staff++ {
			var wrong [][2]int
			right := 0
			for m := range s.Measures {
				upper, lower, apart, ok := stemsOf(p, part, staff, m)
				switch {
				case !ok:
				case apart:
					right++
				default:
					wrong = append(wrong, [2]int{upper, lower})
				}
			}
			if len(wrong) != 1 || right < rightAmong {
				continue
			}
			u, l := wrong[0][0], wrong[0][1]
			if p.Found(u, l) || told(p, s.Notes[u].Measure, part, staff) {
				continue
			}
			p.Report(lint.Finding{
				Notes:   []int{l, u},
				Message: fmt.Sprintf("both voices have all their stems %s in this measure", s.Notes[u].Stem), Fix: "turn those of one voice",
			})
		}
	}
}

// told says that the rule has spoken of a measure of a staff.
func told(p *lint.Inspection, measure, part, staff int) bool {
	return slices.ContainsFunc(p.InMeasure(measure), func(n int) bool {
		x := &p.Score.Notes[n]
		return x.Part == part && x.Staff == staff && slices.ContainsFunc(p.InMeasure(measure), func(m int) bool { return m != n && p.Found(n, m) })
	})
}

// stemsOf gives the first note of each of the two voices of a staff in a measure, the upper one first, and whether their stems
// point away from each other; false where it has not two voices, or they are none of which this can be said.
func stemsOf(p *lint.Inspection, part, staff, measure int) (upper, lower int, apart, ok bool) {
	s := p.Score
	type voice struct {
		name     string
		notes    []int
		sum      int
		up, down int
	}
	var voices []voice
	for _, n := range p.InMeasure(measure) {
		x := &s.Notes[n]
		if x.Part != part || x.Staff != staff || x.Kind != score.Pitched || x.Grace > 0 {
			continue
		}
		if x.HomeStaff != staff || x.Cue || x.Hidden || !x.Chord && !stemmed(x.Stem) {
			return 0, 0, false, false
		}
		k := slices.IndexFunc(voices, func(v voice) bool { return v.name == x.Voice })
		if k < 0 {
			k, voices = len(voices), append(voices, voice{name: x.Voice})
		}
		v := &voices[k]
		v.notes, v.sum = append(v.notes, n), v.sum+x.Midi
		switch {
		case x.Chord:
		case x.Stem == up:
			v.up++
		default:
			v.down++
		}
	}
	if len(voices) != 2 || oneRhythm(s, voices[0].notes, voices[1].notes) || !together(s, voices[0].notes, voices[1].notes) {
		return 0, 0, false, false
	}
	a, b := &voices[0], &voices[1]
	if a.sum*len(b.notes) < b.sum*len(a.notes) {
		a, b = b, a
	}
	if lowest(s, a.notes) <= highest(s, b.notes) { // they cross
		return 0, 0, false, false
	}
	switch {
	case a.down == 0 && b.up == 0:
		return a.notes[0], b.notes[0], true, true
	case a.up == 0 && b.up == 0, a.down == 0 && b.down == 0:
		return a.notes[0], b.notes[0], false, true
	}
	return 0, 0, false, false
}

// oneRhythm says that all notes of one voice are struck with notes of the other that last as long.
func oneRhythm(s *score.Score, a, b []int) bool {
	return !slices.ContainsFunc(b, func(m int) bool {
		return !slices.ContainsFunc(a, func(n int) bool {
			return s.Notes[n].Onset == s.Notes[m].Onset && s.Notes[n].Duration == s.Notes[m].Duration
		})
	})
}

// together says that a note of one voice sounds while one of the other does.
func together(s *score.Score, a, b []int) bool {
	return slices.ContainsFunc(a, func(n int) bool {
		return slices.ContainsFunc(b, func(m int) bool {
			x, y := &s.Notes[n], &s.Notes[m]
			return x.Onset.Less(y.Onset.Add(y.Duration)) && y.Onset.Less(x.Onset.Add(x.Duration))
		})
	})
}

func lowest(s *score.Score, notes []int) int {
	low := 128
	for _, n := range notes {
		low = min(low, s.Notes[n].Midi)
	}
	return low
}

func highest(s *score.Score, notes []int) int {
	high := 0
	for _, n := range notes {
		high = max(high, s.Notes[n].Midi)
	}
	return high
}
