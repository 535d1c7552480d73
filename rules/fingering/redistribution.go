package fingering

import "fingerproof/corpus/score"

// Redistribution is a suggestion, or a decision, that the other hand take some
// notes. The text as written keeps its complete fingering beside it.
type Redistribution struct {
	ID      string
	To      score.Hand // the hand that takes the notes
	Reason  string     // the trouble it ends, a word of the policy's `redistribute` keys
	Decided bool
	Gain    int // milli-nats
	// Notes that change hands, as indices into Score.Notes in written order,
	// and the finger that each gets there.
	Notes   []int
	Fingers []Finger
	// Around are notes of either hand that stay where they are and whose
	// finger changes with it, and what it changes to.
	Around        []int
	AroundFingers []Finger
	// Why tells an editor the reason, the effort of either hand before and
	// after, and what it costs, in sentences.
	Why string
	// Like is the ID of the first of those that give the same keys to the other hand where both hands have the same: they
	// are offered, and answered, together. "" where it is the first, or stands alone.
	Like string
	// As is equal, and not 0, of those while they are weighed.
	As int
}
