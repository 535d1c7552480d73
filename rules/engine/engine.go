// Package engine is the one door to the search for a fingering: it joins the lattice with the effort and gives a
// finger for every note of one hand, the choices beside it, how sure it is, and why a grip is out of reach.
package engine

import (
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Decode is how the fingering is chosen from the priced lattice.
type Decode int

// The two ways to decode.
const (
	MostAgreement Decode = iota // the playable way on which most fingers are expected to agree with an editor's
	Cheapest                    // the way of least effort
)

// Options of one call.
type Options struct {
	Decode Decode
	// Choices asks for alternatives with the passage that follows from each (at most two a note).
	Choices bool
	// Explain asks for the effort of each note by criterion.
	Explain bool
	// Why asks, of the notes for whose id it is true, why each choice costs more (Choice.Why); nil asks for none.
	Why func(id int) bool
	// OtherHands asks what the way delivered costs other hands more.
	OtherHands []hand.Profile
	// Aims weighs line, tempo and reach beside the fitted table; the zero value is the table alone.
	Aims effort.Aims
	// PracticePercent is the tempo of practice in percent of the tempo; 0 does not look for what collapses.
	PracticePercent int
}

// Reason says why a note is out of reach.
type Reason string

// The reasons.
const (
	TooManyKeys Reason = "more keys at once than fingers"
	BeyondSpan  Reason = "span beyond the limit of the hand"
	BeyondGiven Reason = "given fingers span beyond the limit of the hand"
)

// Step is one note's finger on the way that follows from a choice.
type Step struct {
	ID     int
	Finger fingering.Finger
}

// Choice is another finger for a note.
type Choice struct {
	Finger fingering.Finger
	// Regret is what the best way with this finger costs above the best way of all, in milli-nats, at least 0.
	Regret int
	// Passage lists the notes whose finger differs from the delivered one on the way that follows from this choice,
	// this note included, in the order of playing: it ends on both sides where the ways rejoin.
	Passage []Step
	// Why is what the way that follows from this choice costs more than the delivered one, by criterion, in the order
	// of effort.Criteria; negative where it costs less. Only where Options.Why asks.
	Why []Effort
}

// Effort is a cost of one criterion in milli-nats; negative where the habit of editors speaks for a finger.
type Effort struct {
	Criterion string
	Cost      int
}

// Fingered is the answer for one note of the input.
type Fingered struct {
	ID     int
	Finger fingering.Finger // 0 only where more keys are struck than there are fingers
	// Substitution is the finger to which the hand changes on the held key, 0 if it does not.
	Substitution fingering.Finger
	// Tied says the note is not struck; Finger is the one then holding.
	Tied bool
	// Constrained says that only one finger was allowed.
	Constrained bool
	// Confidence that an editor would print Finger, in ten-thousandths.
	Confidence int
	// Shares gives how likely an editor prints each finger, the thumb first, in ten-thousandths; zeros where it was
	// not asked for.
	Shares [fingering.Fingers]int
	// CostsMore is the regret of the next best choice in milli-nats; 0 where there is none.
	CostsMore int
	// Choices, the least regret first, ties by finger.
	Choices []Choice
	Effort  []Effort // in the order of effort.Criteria, zero costs left out
	// Learned is what the network holds against each finger, the thumb first, in milli-nats at its weight; zeros where
	// it is not asked. Only where Options.Explain asks.
	Learned [fingering.Fingers]int
	// OutOfReach is the reason where the grip goes beyond the hand's limits, empty otherwise.
	OutOfReach Reason
	// Contradiction says that given digits conflict at this note's grip.
	Contradiction bool
	// Reach is how many in ten thousand adult pianists take the widest pair of the grip.
	Reach int
	// Pedal says that the key, held as written, has to be let go before its end and is left to the pedal.
	Pedal bool
	// Spared says of such a key that only a change of fingers would hold it which no editor prints: the hand can, and no voice
	// is lost.
	Spared bool
}

// Result is the fingering of one hand.
type Result struct {
	// Notes, one for each input note, in input order.
	Notes []Fingered
	// Total effort of the way delivered, in milli-nats. SetFree of it is for held keys that given digits had to be set
	// free of: the same on every way, and no effort.
	Total, SetFree int
	// Effort by criterion over the whole line, in the order of effort.Criteria.
	Effort []Effort
	// MoreForHands, one for each stroke of the line; nil where no hand was asked for.
	MoreForHands []StrokeMore
	// Collapses are passages whose best fingering in practice does not hold at the tempo, in order.
	Collapses []Collapse
}

// Finger works out one hand's fingering. Notes may come in any order and may be empty. The result depends on the
// arguments alone, to the byte.
func Finger(
	h fingering.Hand, profile hand.Profile, weights *effort.Weights, notes []fingering.Note, options Options,
) Result {
	var w Worker
	return w.Finger(h, profile, weights, notes, options)
}
