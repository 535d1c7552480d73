package lint

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
)

// AccidentalState is what holds at a note before it is read.
type AccidentalState struct {
	InForce  int    // the alteration of its line or space, by key and accidentals before it
	Printed  string // the accidental that stands at it, "" for none
	Courtesy bool   // it is marked as a reminder
	Enclosed bool   // it stands in parentheses or brackets
	// Alike says that a note of the same letter was altered alike in this measure, in whichever octave and part: a sign may remind of it.
	Alike bool
	// Otherwise says that a note of the same letter was altered otherwise in this measure or the one before, so that a
	// reminder is of use.
	Otherwise bool
	// Said is the note of its voice at which the sign that holds is printed, in this measure and on its line or space, where
	// no note of its letter has been otherwise since; -1 for none.
	Said int
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

// Missing says that a note needs an accidental and has none. Tied over it needs none; struck again after the tie it does.
func (s AccidentalState) Missing(n *score.Note) bool {
	return s.Printed == "" && s.InForce != int(n.Pitch.Alter) && !n.TieStop && n.TiedFrom < 0
}

// AccidentalsWritten are the notes of a score that have an accidental, and those that need one and have none, in the order of time.
type AccidentalsWritten struct{ Standing, Missing []int }

// AccidentalsWritten gives where accidentals stand and where they are missing.
func (p *Inspection) AccidentalsWritten() *AccidentalsWritten {
	if p.accidentals == nil {
		p.accidentals = &AccidentalsWritten{}
		p.Accidentals(func(n int, state AccidentalState) {
			switch {
			case state.Printed != "":
				p.accidentals.Standing = append(p.accidentals.Standing, n)
			case state.Missing(&p.Score.Notes[n]):
				p.accidentals.Missing = append(p.accidentals.Missing, n)
			}
		})
	}
	return p.accidentals
}

// WritesAccidentals says that the file writes accidentals out; else the program that draws it sets them.
func (p *Inspection) WritesAccidentals() bool {
	w := p.AccidentalsWritten()
	return score.WritesAccidentals(len(w.Standing), len(w.Missing))
}

// Accidentals calls f with each pitched note of all parts in the order of time, by the rules of notation: an
// accidental holds to the end of its measure, on its line or space of its staff, whichever voice has it (common practice).
// Files in which none is written out, pieces with key signatures of their own and measures in which the key changes are
// left out.
func (p *Inspection) Accidentals(f func(n int, state AccidentalState)) {
	s := p.Score
	printed, above, changes := map[int]string{}, map[int]bool{}, map[int]bool{}
	for k := range s.Items {
		switch i := &s.Items[k]; i.Kind {
		case score.ItemAccidental:
			if strings.HasSuffix(i.Reading, besideNote) {
				above[i.Note] = true
			} else {
				printed[i.Note] = i.Reading
			}
		case score.ItemKey:
			if strings.HasPrefix(i.Reading, "key of its own") {
				return
			}
			if i.Onset.Sign() > 0 {
				changes[i.Measure] = true
			}
		}
	}
	if len(printed) == 0 {
		return
	}
	type line struct {
		part, staff int
		step        byte
		octave      int8
	}
	type sign struct {
		alter, note int // note: at which it is printed, -1 for none
		voice       string
		at          int // in the order of time
	}
	keys, lines := p.keys(), p.octaveLines()
	measure := -1
	inForce := map[line]sign{}
	var heard, before map[byte]map[int]bool // alterations of each letter, in this measure and the last
	last := map[byte]map[int]int{}          // when each letter was last altered so, in the order of time
	order := p.allInTime()
	for at := 0; at < len(order); {
		end := at
		for end < len(order) && s.At(order[end]) == s.At(order[at]) && s.Notes[order[end]].Grace == s.Notes[order[at]].Grace {
			end++
		}
		if m := s.Notes[order[at]].Measure; m != measure {
			measure, before = m, heard
			inForce, heard, last = map[line]sign{}, map[byte]map[int]bool{}, map[byte]map[int]int{}
		}
		var together []int
		for _, n := range order[at:end] {
			if note := &s.Notes[n]; note.Kind == score.Pitched && note.Pitch.Step != 0 && !note.Hidden && !changes[measure] {
				together = append(together, n)
			}
		}
		lineOf := func(n int) line {
			note := &s.Notes[n]
			return line{note.Part, note.Staff, note.Pitch.Step, note.Pitch.Octave - lines.at(s, n)}
		}
		for _, n := range together {
			note := &s.Notes[n]
			state := AccidentalState{Printed: printed[n], Said: -1}
			ofKey := OfKey(note.Pitch.Step, keys.at(s, n))
			if said, set := inForce[lineOf(n)]; set {
				state.InForce = said.alter
				if said.note >= 0 && said.voice == note.Voice && said.alter == int(note.Pitch.Alter) {
					state.Said = said.note
					for alter, when := range last[note.Pitch.Step] {
						if alter != said.alter && when >= said.at {
							state.Said = -1
						}
					}
				}
			} else {
				state.InForce = ofKey
			}
			state.Enclosed = strings.Contains(state.Printed, "parentheses") || strings.Contains(state.Printed, "brackets")
			state.Courtesy = state.Enclosed || strings.Contains(state.Printed, "courtesy") || strings.Contains(state.Printed, "editorial")
			state.Alike = heard[note.Pitch.Step][int(note.Pitch.Alter)]
			for _, near := range []map[byte]map[int]bool{heard, before} {
				for alter := range near[note.Pitch.Step] {
					state.Otherwise = state.Otherwise || alter != int(note.Pitch.Alter)
				}
			}
			if printed[n] == "" && (above[n] || saidBeside(s, printed, together, n)) {
				state.InForce = int(note.Pitch.Alter)
			}
			f(n, state)
		}
		for _, n := range together {
			note := &s.Notes[n]
			alter := int(note.Pitch.Alter)
			if heard[note.Pitch.Step] == nil {
				heard[note.Pitch.Step], last[note.Pitch.Step] = map[int]bool{}, map[int]int{}
			}
			heard[note.Pitch.Step][alter], last[note.Pitch.Step][alter] = true, at
			if note.TiedFrom >= 0 && printed[n] == "" {
				continue // the tie carries its accidental for its own note alone
			}
			l := lineOf(n)
			now, set := inForce[l]
			switch {
			case printed[n] != "":
				now = sign{alter, n, note.Voice, at}
			case !set || now.alter != alter:
				now = sign{alter, -1, note.Voice, at}
			}
			inForce[l] = now
		}
		at = end
	}
}

// besideNote is how the reading of an accidental ends that stands at an ornament or above its note: an editor's suggestion.
const besideNote = " beside the note"

// allInTime is InOrderOfTime for the notes of all parts.
func (p *Inspection) allInTime() []int {
	s := p.Score
	out := make([]int, len(s.Notes))
	at := make([]score.Fraction, len(s.Notes))
	for n := range out {
		out[n], at[n] = n, s.At(n)
	}
	slices.SortFunc(out, func(a, b int) int {
		return cmp.Or(at[a].Cmp(at[b]), isGrace(&s.Notes[b])-isGrace(&s.Notes[a]), a-b)
	})
	return out
}

// keysAt are the key signatures of a score by when they are set.
type keysAt map[staffOf][]keyAt

type keyAt struct {
	at     score.Fraction
	fifths int
}

// keys lists the key signatures of each staff; those of a whole part stand under staff 0.
func (p *Inspection) keys() keysAt {
	s := p.Score
	out := keysAt{}
	for k := range s.Items {
		if i := &s.Items[k]; i.Kind == score.ItemKey && i.Measure >= 0 {
			of := staffOf{i.Part, i.Staff}
			out[of] = append(out[of], keyAt{s.Measures[i.Measure].Start.Add(i.Onset), Fifths(i.Reading)})
		}
	}
	for _, set := range out {
		slices.SortStableFunc(set, func(a, b keyAt) int { return a.at.Cmp(b.at) })
	}
	return out
}

// Fifths reads the words of a key signature: sharps, or flats below 0.
func Fifths(reading string) int {
	count, what, _ := strings.Cut(strings.TrimSuffix(reading, NotShown), " ")
	n, err := strconv.Atoi(count)
	switch {
	case err != nil:
		return 0
	case strings.HasPrefix(what, "flat"):
		return -n
	}
	return n
}

// at gives the key signature in force at a note: its staff's own or its part's, whichever was set last; where the file sets
// none for the part, the first part's.
func (k keysAt) at(s *score.Score, n int) int {
	x := &s.Notes[n]
	now := s.At(n)
	fifths, since, found := s.Measures[x.Measure].Fifths, score.Fraction{}, false
	for _, of := range []staffOf{{x.Part, 0}, {x.Part, x.Staff}} {
		for _, set := range k[of] {
			if now.Less(set.at) {
				break
			}
			if !found || !set.at.Less(since) {
				fifths, since, found = set.fifths, set.at, true
			}
		}
	}
	return fifths
}

// octaveLines are the octave lines of a score, by staff.
type octaveLines map[staffOf][]octaveSpan

type octaveSpan struct {
	from, to score.Fraction
	by       int8
}

func (p *Inspection) octaveLines() octaveLines {
	s := p.Score
	out := octaveLines{}
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemOctaveLine || i.End == nil {
			continue
		}
		of := staffOf{i.Part, i.Staff}
		out[of] = append(out[of], octaveSpan{
			s.Measures[i.Measure].Start.Add(i.Onset), s.Measures[i.End.Measure].Start.Add(i.End.Onset), octavesOf[i.Reading],
		})
	}
	return out
}

// at is by how many octaves a note sounds above where it stands on the staff.
func (o octaveLines) at(s *score.Score, n int) int8 {
	x := &s.Notes[n]
	now := s.At(n)
	for _, span := range o[staffOf{x.Part, x.Staff}] {
		if !now.Less(span.from) && now.Less(span.to) {
			return span.by
		}
	}
	return 0
}

var octavesOf = map[string]int8{"8va": 1, "8vb": -1, "15ma": 2, "15mb": -2, "22ma": 3, "22mb": -3}

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

// OctavesAbove is by how many octaves a note sounds above where it stands on the staff, by the octave line over it.
func (p *Inspection) OctavesAbove(n int) int {
	if p.octaves == nil {
		p.octaves = p.octaveLines()
	}
	return int(p.octaves.at(p.Score, n))
}
