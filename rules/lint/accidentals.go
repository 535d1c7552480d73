package lint

import (
	"strings"

	"fingerproof/corpus/score"
)

// AccidentalState is what holds at a note before it is read.
type AccidentalState struct {
	InForce  int    // the alteration of its line or space, by key and accidentals before it
	Printed  string // the accidental that stands at it, "" for none
	Courtesy bool   // it is marked as a reminder
	// Otherwise says that a note of the same letter was altered otherwise in this measure or the one before, so that a
	// reminder is of use.
	Otherwise bool
}

// alterations are the semitones that accidentals stand for (MusicXML 4.0, accidental-value); others are left alone.
var alterations = map[string]int{
	"flat": -1, "natural": 0, "sharp": 1, "double sharp": 2, "two sharps": 2, "double flat": -2,
	"natural sharp": 1, "natural flat": -1,
}

// Says gives the word of the accidental that is printed at a note, without how it looks, and the alteration that it asks
// for; false for none, and for signs of less than a semitone.
func (s AccidentalState) Says() (word string, alter int, known bool) {
	word, _, _ = strings.Cut(s.Printed, " in ")
	word, _, _ = strings.Cut(word, ",")
	alter, known = alterations[word]
	return word, alter, known
}

// Accidentals calls f with each pitched note of the piano parts in the order of time, by the rules of notation: an
// accidental holds to the end of its measure, on its line or space of its staff (common practice). Parts in which none
// is written out, pieces with key signatures of their own and measures in which the key changes are left out.
func (p *Inspection) Accidentals(f func(n int, state AccidentalState)) {
	s := p.Score
	printed, writes, changes := map[int]string{}, map[int]bool{}, map[int]bool{}
	for k := range s.Items {
		switch i := &s.Items[k]; i.Kind {
		case score.ItemAccidental:
			printed[i.Note], writes[i.Part] = i.Reading, true
		case score.ItemKey:
			if strings.HasPrefix(i.Reading, "key of its own") {
				return
			}
			if i.Onset.Sign() > 0 {
				changes[i.Measure] = true
			}
		}
	}
	type line struct {
		part, staff int
		step        byte
		octave      int8
	}
	measure := -1
	inForce := map[line]int{}
	var heard, before map[byte]map[int]bool // alterations of each letter, in this measure and the last
	order := p.InOrderOfTime()
	for at := 0; at < len(order); {
		end := at
		for end < len(order) && s.At(order[end]) == s.At(order[at]) && s.Notes[order[end]].Grace == s.Notes[order[at]].Grace {
			end++
		}
		if m := s.Notes[order[at]].Measure; m != measure {
			measure, before = m, heard
			inForce, heard = map[line]int{}, map[byte]map[int]bool{}
		}
		key := s.Measures[measure].Fifths
		var together []int
		for _, n := range order[at:end] {
			if note := &s.Notes[n]; note.Kind == score.Pitched && !note.Hidden && writes[note.Part] && !changes[measure] {
				together = append(together, n)
			}
		}
		for _, n := range together {
			note := &s.Notes[n]
			k := line{note.Part, note.Staff, note.Pitch.Step, note.Pitch.Octave - p.octaveLine(n)}
			state := AccidentalState{Printed: printed[n]}
			var set bool
			if state.InForce, set = inForce[k]; !set {
				state.InForce = OfKey(note.Pitch.Step, key)
			}
			state.Courtesy = strings.Contains(state.Printed, "parentheses") || strings.Contains(state.Printed, "brackets") ||
				strings.Contains(state.Printed, "courtesy") || strings.Contains(state.Printed, "editorial")
			for _, near := range []map[byte]map[int]bool{heard, before} {
				for alter := range near[note.Pitch.Step] {
					state.Otherwise = state.Otherwise || alter != int(note.Pitch.Alter)
				}
			}
			if printed[n] == "" && saidBeside(s, printed, together, n) {
				state.InForce = int(note.Pitch.Alter)
			}
			f(n, state)
		}
		for _, n := range together {
			note := &s.Notes[n]
			if heard[note.Pitch.Step] == nil {
				heard[note.Pitch.Step] = map[int]bool{}
			}
			heard[note.Pitch.Step][int(note.Pitch.Alter)] = true
			if note.TiedFrom >= 0 && printed[n] == "" {
				continue // the tie carries its accidental for its own note alone
			}
			inForce[line{note.Part, note.Staff, note.Pitch.Step, note.Pitch.Octave - p.octaveLine(n)}] = int(note.Pitch.Alter)
		}
		at = end
	}
}

// saidBeside says that another note of the same line or space, struck together with one, has the accidental of both.
func saidBeside(s *score.Score, printed map[int]string, together []int, n int) bool {
	a := &s.Notes[n]
	for _, m := range together {
		b := &s.Notes[m]
		if m != n && printed[m] != "" && b.Part == a.Part && b.Staff == a.Staff && b.Pitch == a.Pitch {
			return true
		}
	}
	return false
}

// OfKey is what a key signature of so many sharps (flats below 0) makes of a letter.
func OfKey(step byte, fifths int) int {
	const sharps = "FCGDAEB"
	i := strings.IndexByte(sharps, step)
	switch {
	case fifths > i:
		return 1 + (fifths-i-1)/7
	case fifths < 0 && 6-i < -fifths:
		return -1 - (-fifths-(6-i)-1)/7
	}
	return 0
}

// octaveLine is by how many octaves a note sounds above where it stands on the staff.
func (p *Inspection) octaveLine(n int) int8 {
	note, at := &p.Score.Notes[n], p.Score.At(n)
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemOctaveLine || i.End == nil || i.Part != note.Part || i.Staff != note.Staff {
			continue
		}
		from := p.Score.Measures[i.Measure].Start.Add(i.Onset)
		to := p.Score.Measures[i.End.Measure].Start.Add(i.End.Onset)
		if at.Less(from) || !at.Less(to) {
			continue
		}
		return map[string]int8{"8va": 1, "8vb": -1, "15ma": 2, "15mb": -2, "22ma": 3, "22mb": -3}[i.Reading]
	}
	return 0
}

// OctavesAbove is by how many octaves a note sounds above where it stands on the staff, by the octave line over it.
func (p *Inspection) OctavesAbove(n int) int { return int(p.octaveLine(n)) }
