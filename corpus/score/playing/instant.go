package playing

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// Instant is when a key goes down: the onset, counted from the beginning of the piece, and the place among what is
// struck there one after another. Notes of one instant are struck together. Instants can be compared with ==.
type Instant struct {
	At   score.Fraction // in quarters
	Rank Rank
}

// InstantOf gives the instant of a note. It needs no hands, only the lengths of the measures.
func InstantOf(s *score.Score, n int) Instant { return Instant{s.At(n), RankOf(s, n)} }

// Compare is negative where i comes before j, 0 where both are one instant.
func (i Instant) Compare(j Instant) int { return cmp.Or(i.At.Cmp(j.At), cmp.Compare(i.Rank, j.Rank)) }

// Sort puts notes in playing order, those of one instant from the lowest key up and then as they are written. A note
// that is tied on stands where it is written.
func Sort(s *score.Score, notes []int) {
	at := make(map[int]Instant, len(notes))
	for _, n := range notes {
		at[n] = InstantOf(s, n)
	}
	slices.SortFunc(notes, func(a, b int) int {
		return cmp.Or(at[a].Compare(at[b]), cmp.Compare(s.Notes[a].Midi, s.Notes[b].Midi), cmp.Compare(a, b))
	})
}

// Rank is a note's place among those of one onset, in playing order: a smaller rank is struck earlier. The zero value
// is the rank of notes that are struck on the onset itself, the last of all. A rank says nothing of other onsets.
type Rank int32

// OnOnset is the rank of a note that is no grace note.
const OnOnset Rank = 0

// Where the kinds of notes that come before an onset begin. Each has room for mostAtOnce of them.
const (
	mostAtOnce = 1 << 24

	closingAfterNote Rank = -4 * mostAtOnce // an after-note that its measure ends with
	afterNote        Rank = -3 * mostAtOnce
	graceNote        Rank = -2 * mostAtOnce
	rolledNote       Rank = -1 * mostAtOnce
)

// RankOf gives the rank of a note as written.
func RankOf(s *score.Score, n int) Rank {
	note := &s.Notes[n]
	switch {
	case note.GraceAfter && note.Onset.Cmp(s.Measures[note.Measure].Length) >= 0:
		return before(closingAfterNote, note.Grace)
	case note.GraceAfter:
		return before(afterNote, note.Grace)
	}
	return GraceNote(note.Grace)
}

// GraceNote gives the rank of the number-th grace note before a note, counted from 1; OnOnset for 0.
func GraceNote(number int) Rank {
	if number <= 0 {
		return OnOnset
	}
	return before(graceNote, number)
}

// Rolled gives the rank of a note of a rolled chord that is struck before the last of it: place is its place in the
// roll, counted from 0. It comes after the grace notes of the chord.
func Rolled(place int) Rank { return before(rolledNote, place) }

func before(kind Rank, number int) Rank { return kind + Rank(min(max(number, 0), mostAtOnce-1)) }

// IsGrace says that the note is a grace note or an after-note: it is written without a duration of its own.
func (r Rank) IsGrace() bool { return r < rolledNote }

// IsRolled says that the note is struck before the onset because its chord is rolled.
func (r Rank) IsRolled() bool { return r >= rolledNote && r < OnOnset }
