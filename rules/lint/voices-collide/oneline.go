package voicescollide

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// onOneLine reports two voices of a staff that strike, at once and on one line or space, notes with other alterations: heads and signs fall on
// each other. What a piece has in more than a few measures is meant.
func onOneLine(p *lint.Inspection) {
	type line struct {
		part, staff int
		step        byte
		octave      int8
		at          score.Fraction
	}
	s := p.Score
	first := map[line]int{}
	measures := map[int]bool{}
	var found [][2]int
	for n := range s.Notes {
		x := &s.Notes[n]
		if x.Kind != score.Pitched || x.Grace > 0 || x.Cue || !p.Shows(n) || !p.TextParts()[x.Part] || len(x.Ornaments) > 0 || x.Tremolo.Strokes > 0 {
			continue
		}
		l := line{x.Part, x.Staff, x.Pitch.Step, x.Pitch.Octave, s.At(n)}
		m, is := first[l]
		if !is {
			first[l] = n
			continue
		}
		if s.Notes[m].Voice != x.Voice && s.Notes[m].Pitch.Alter != x.Pitch.Alter {
			found = append(found, [2]int{n, m})
			measures[x.Measure] = true
		}
	}
	if len(measures) > fewDoubled {
		return
	}
	for _, x := range found {
		a, b := &s.Notes[x[0]], &s.Notes[x[1]]
		p.Report(lint.Finding{
			Notes: []int{x[0], x[1]}, Severity: lint.Note,
			Message: fmt.Sprintf("%s of voice %s and %s of voice %s are struck at once on one line", a.Pitch, a.Voice, b.Pitch, b.Voice),
			Fix:     "correct one of the two",
		})
	}
}

// restInVoice reports rests that stand in a voice while a note of it sounds, but for those of a whole measure (rest-doubled) and in chords. What a file has in more than one measure is how it is written.
func restInVoice(p *lint.Inspection) {
	type voice struct {
		part, staff, measure int
		name                 string
	}
	s := p.Score
	rests := map[voice][]int{}
	for n := range s.Notes {
		if x := &s.Notes[n]; x.Kind == score.Rest && !x.Cue && !x.Chord && x.Duration.Sign() > 0 && p.Shows(n) && x.Duration != s.Measures[x.Measure].Length {
			v := voice{x.Part, x.HomeStaff, x.Measure, x.Voice}
			rests[v] = append(rests[v], n)
		}
	}
	var found [][2]int
	measures := map[int]bool{}
	for n := range s.Notes {
		x := &s.Notes[n]
		if x.Kind != score.Pitched || x.Chord || x.Grace > 0 || x.Cue || x.Duration.Sign() == 0 || !p.Shows(n) || !p.TextParts()[x.Part] {
			continue
		}
		for _, r := range rests[voice{x.Part, x.HomeStaff, x.Measure, x.Voice}] {
			if overlap(s, r, n) {
				found = append(found, [2]int{r, n})
				measures[x.Measure] = true
			}
		}
	}
	if len(measures) > fewMeasures {
		return
	}
	told := map[int]bool{}
	for _, x := range found {
		if told[x[0]] {
			continue
		}
		told[x[0]] = true
		p.Report(lint.Finding{
			Notes: []int{x[0], x[1]}, Severity: lint.Note,
			Message: fmt.Sprintf("voice %s rests here while its %s sounds", s.Notes[x[1]].Voice, s.Notes[x[1]].Pitch),
			Fix:     "take the rest out, or give it a voice of its own",
		})
	}
}
