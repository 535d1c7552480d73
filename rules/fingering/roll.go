package fingering

import "fingerproof/corpus/score"

// Roll is a suggestion, or a decision, that a chord be rolled which the text does not roll.
type Roll struct {
	ID      string
	Hand    score.Hand // that rolls it; NoHand where both do, in one roll from the left hand to the right
	Down    bool       // from the highest key
	Decided bool
	By      string // initials, of one that was decided
	// Notes are those of the chord, as indices into Score.Notes, lowest key first.
	Notes []int
	// Reason is why it was offered, Reach of the redistributions' reasons; "" where nobody says.
	Reason string
	// Why tells an editor the reason in a sentence.
	Why string
	// OtherHand says that notes of the chord are offered to the other hand as well: the roll is only reported.
	OtherHand bool
}
