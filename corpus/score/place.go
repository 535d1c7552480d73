package score

import "strings"

// Spot is what a place of the music is named by. What is not known is left
// empty.
type Spot struct {
	Measure string // as printed
	Hand    Hand
	Beat    string // as Beat.String or Beat.Short prints it
	Grace   bool   // a grace note before the beat
	Pitch   string
}

// Words names a place as a musician would: "m. 42, right hand, beat 2, third
// eighth, G4".
func (p Spot) Words() string { return p.join(p.Hand.Words()) }

// Short names it where room is scarce: "m. 42, r.h., beat 2, 3rd 8th, G4".
func (p Spot) Short() string { return p.join(p.Hand.Short()) }

func (p Spot) join(hand string) string {
	parts := []string{"m. " + p.Measure}
	if hand != "" {
		parts = append(parts, hand)
	}
	switch {
	case p.Beat != "" && p.Grace:
		parts = append(parts, "grace note before beat "+p.Beat)
	case p.Beat != "":
		parts = append(parts, "beat "+p.Beat)
	}
	if p.Pitch != "" {
		parts = append(parts, p.Pitch)
	}
	return strings.Join(parts, ", ")
}

// MeasureRange names a stretch of measures, the first and the last by index: "m. 3", "mm. 3–5".
func (s *Score) MeasureRange(first, last int) string {
	if first == last {
		return "m. " + s.Measures[first].Number
	}
	return "mm. " + s.Measures[first].Number + "–" + s.Measures[last].Number
}

// Place says where a note stands, in words an editor reads: "m. 12, beat 3,
// staff 2".
func (s *Score) Place(n int) string {
	note := &s.Notes[n]
	return Spot{
		Measure: s.Measures[note.Measure].Number, Beat: s.Beat(note.Measure, note.Onset),
	}.Words() + ", staff " + decimal(int64(note.Staff))
}
