package fingering

import (
	"math/bits"

	"fingerproof/corpus/score/playing"
)

// Moment is an exact point of musical time in quarters, counted from the beginning of the piece.
// The zero value is the beginning (a denominator of 0 counts as 1).
type Moment struct {
	Num int64
	Den int64
}

// Compare gives -1, 0 or 1, exactly, for numerators and denominators of any size.
func (m Moment) Compare(o Moment) int {
	md, od := max(m.Den, 1), max(o.Den, 1)
	if (m.Num < 0) != (o.Num < 0) {
		if m.Num < 0 {
			return -1
		}
		return 1
	}
	sign, a, b := 1, m.Num, o.Num
	if a < 0 {
		sign, a, b = -1, -a, -b
	}
	ah, al := bits.Mul64(uint64(a), uint64(od))
	bh, bl := bits.Mul64(uint64(b), uint64(md))
	switch {
	case ah == bh && al == bl:
		return 0
	case ah < bh || ah == bh && al < bl:
		return -sign
	}
	return sign
}

// Note is what the engine needs to know of one written note of one hand.
type Note struct {
	ID    int    // the caller's own number; comes back in the result
	Key   int    // sounding MIDI key
	Onset Moment // where it begins; for a grace note the onset of the note it leans on
	End   Moment // where it ends as written, before any tie is followed; ignored where Rank is not playing.OnOnset
	// Rank is the place of the note among those of one onset, in playing order. The zero value is that of an ordinary
	// note.
	Rank playing.Rank

	// Tied says that the note is tied to an earlier one of the same key and is not struck. Event building
	// follows the tie; a tied note with nothing to lean on counts as struck.
	Tied bool
	// Detached says that the key is let go at once (staccato and the like): it is never held on.
	Detached bool
	// Allowed limits the fingers; 0 means any. A digit that constrains is Only(digit).
	Allowed Mask
	// Then is the finger to which the key, once struck, is changed silently, 0 for none or none known; of a tied note
	// the finger that holds it from there on.
	Then Finger
	// Slurred says that a slur joins the note to the next one of its voice: the line has to connect there.
	Slurred bool
	// Pedalled says that the pedal is marked down where the note goes over to the next one.
	Pedalled bool
	// Turn says that the note belongs to a turn about its neighbours, which lie under neighbouring fingers.
	Turn bool
	// Leads says that the note carries the line, where a mark or the editor says so.
	Leads bool
	// Remembered is the finger that took the note where its passage stood before, 0 where there is none; Worth is
	// what it may cost more, in milli-nats, to take it so again.
	Remembered Finger
	Worth      int
	// Chosen is the finger that a search before came to and that is kept wherever the hand can, 0 where there is none. It is no
	// digit: how sure the finger is, and what else could be done, is asked as if it were not there.
	Chosen Finger
	// Micros is the time of the onset in microseconds, 0 throughout where no tempo is known.
	Micros int64
}
