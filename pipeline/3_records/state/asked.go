package state

import (
	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
)

// Why digits that were decided once are open, or why digits are open beside decided ones.
const (
	CauseHanded   = "handed"   // the note was given to the other hand
	CauseFreed    = "freed"    // notes were given to the other hand beside it, and its grip changed with them
	CauseLater    = "later"    // its editor decided anew
	CauseReopened = "reopened" // its editor took the decision back
	CauseEditors  = "editors"  // two editors differ
	CauseReturn   = "return"   // another editor's digits came here with a return
	CauseMoved    = "moved"    // the score changed: a decision found no place near it
	CauseBeside   = "beside"   // digits were decided beside it, with which its own may have changed
)

// DecisionRef names a decision.
type DecisionRef struct {
	Verb  string `json:"verb"`
	On    string `json:"on"`
	By    string `json:"by"`
	When  string `json:"when"`
	Entry string `json:"entry"` // file and line
}

// Contradiction is two decisions that say different things of the same notes of a hand in a measure.
type Contradiction struct {
	Cause        string     `json:"cause"` // handed, freed, later or editors
	Measure      string     `json:"measure"`
	MeasureIndex int        `json:"measure_index"`
	Hand         score.Hand `json:"hand"`
	Notes        []int      `json:"notes"`
	Pitches      []string   `json:"pitches,omitempty"` // of Notes, each once
	// First and Second are the decisions; the second holds, of editors that differ neither.
	First  DecisionRef `json:"first"`
	Second DecisionRef `json:"second"`
	Open   bool        `json:"open,omitempty"` // notes of it are open again
}

// Asked says why digits are asked, or asked again, in a piece in which others are decided.
type Asked struct {
	Cause string `json:"cause"`
	Notes []int  `json:"notes"` // whose printed digit is open
	Said  string `json:"said"`  // a sentence for an editor, without its full stop
}

// Words says in a sentence what two decisions say of the same notes, with both places; it has no full stop.
func (c *Contradiction) Words() string {
	first := c.First.By + "'s " + c.First.Verb + " of " + c.First.When + " (" + c.First.Entry + ")"
	second := c.Second.By + "'s " + c.Second.Verb + " of " + c.Second.When + " (" + c.Second.Entry + ")"
	switch c.Cause {
	case CauseEditors:
		return first + " and " + second + " differ on " + wording.List(c.Pitches) + "; neither holds there"
	case CauseReturn:
		return first + " holds where its music comes again, and " + second + " gives " + wording.List(c.Pitches) + " here another digit, which holds"
	case CauseHanded:
		return first + " was for the hand that had the notes; " + second + " gives them to the other"
	case CauseReopened:
		return first + " was taken back: " + c.Second.By + " reopened it on " + c.Second.When + " (" + c.Second.Entry + ")"
	case CauseFreed:
		return first + " no longer holds: " + second + " gives notes to the other hand beside it"
	}
	return first + " is replaced by " + second
}
