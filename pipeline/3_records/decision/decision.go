// Package decision holds what the editors decided: read strictly from their
// files, written to them, and found again in a score as it stands now. A
// decision is kept by the musical address of its notes with their context.
package decision

import (
	"fmt"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
)

// Verb is what an editor does.
type Verb string

// The verbs, as editors mark proofs.
const (
	Take  Verb = "take"  // the suggestion becomes the editor's
	Stet  Verb = "stet"  // let stand what stands in the text, or what a finding speaks of
	Amend Verb = "amend" // other digits
	Query Verb = "query" // a question to the volume editor
	// Reopen takes back what its editor decided on digits: they are asked again. Another editor's word stands.
	Reopen Verb = "reopen"
)

// Subject is what a decision is about.
type Subject string

// The subjects. A note, a range and a passage are all a list of notes.
const (
	Notes          Subject = "notes"
	Redistribution Subject = "redistribution"
	Finding        Subject = "finding"
	Alternative    Subject = "alternative" // a second fingering that is printed beside the first
	Roll           Subject = "roll"        // a chord that the text does not roll
)

// For whom an alternative is printed.
const (
	SmallerHands = "smaller hands"
	LargerHands  = "larger hands"
)

// Always is what `print` says of digits that are printed however few the house style prints.
const Always = "always"

// The directions of a roll.
const (
	Up   = "up"
	Down = "down"
)

// Decision is one thing that was decided, or asked.
type Decision struct {
	Verb    Verb    `json:"verb"`
	On      Subject `json:"on"`
	By      string  `json:"by"`                // initials
	When    string  `json:"when"`              // 2026-03-01
	Until   string  `json:"until,omitempty"`   // last day on which a stet on a finding holds
	Why     string  `json:"why,omitempty"`     // compulsory for a stet on a finding and for a query
	Returns bool    `json:"returns,omitempty"` // holds for the returns of the passage too
	// Except are the measures, by their printed numbers, in which it does not hold though the passage returns there.
	Except []string   `json:"except,omitempty"`
	Print  string     `json:"print,omitempty"`  // Always: the digits are printed whether a reader needs them or not
	Rule   string     `json:"rule,omitempty"`   // the finding's rule
	To     score.Hand `json:"to,omitempty"`     // the hand that takes the notes
	Reason string     `json:"reason,omitempty"` // why a redistribution or a roll that was taken had been offered, as the policy names it
	// For whom an alternative is printed: SmallerHands, LargerHands or "".
	For string `json:"for,omitempty"`
	// Direction of a roll: Down, or "" and Up from the lowest key.
	Direction string    `json:"direction,omitempty"`
	Notes     []NoteRef `json:"notes"`
	File      string    `json:"-"` // where it stands
	Line      int       `json:"-"`
	// Written is the entry as it stands in its file, indented below `decisions:`; "" where it does not stand in one, or
	// not in lines of its own.
	Written string `json:"-"`

	head    *fileHead // of its file, nil where that has none
	undated bool      // its day is the file's
	marks   string    // its landmarks, where they are those of the table
}

// Place says where a decision stands: its file and line.
func (d *Decision) Place() string { return fmt.Sprintf("%s:%d", d.File, d.Line) }

// NoteRef is one note of a decision: its address, what stood around it, and
// the fingers it gets.
type NoteRef struct {
	Printed string         `json:"measure"`         // the measure's number as printed
	Index   int            `json:"index"`           // measure index from 0, -1 where only the printed number is known
	Onset   score.Fraction `json:"onset"`           // quarters from the barline
	Midi    int            `json:"midi"`            // sounding key
	Pitch   string         `json:"pitch,omitempty"` // as written, for people
	Grace   int            `json:"grace,omitempty"`
	Ordinal int            `json:"ordinal,omitempty"`
	Fingers []int          `json:"fingers,omitempty"` // the finger that strikes, then those changed to on the held key
	// Stays says of a note of a redistribution that it stays with its hand: its finger is decided for the grip that the
	// redistribution leaves.
	Stays  bool          `json:"stays,omitempty"`
	Around align.Context `json:"around"`
	// Landmarks are measures around it that stand in the piece once only.
	Landmarks []Landmark `json:"landmarks,omitempty"`
	// Near are notes before and after it, in the order of time: they are in the place of Around.With, Before and After
	// where the decision stands in lines of music.
	Near []Near `json:"near,omitempty"`
	Line int    `json:"-"`

	table      *Table // of the text in which it was decided, and the row of its measure there; nil where that is not known
	row        int
	twin       bool // another note has its key at its moment
	manyNumber bool // another measure bears the number of its measure
}

// Near is a note near another one.
type Near struct {
	By    int            `json:"by,omitempty"` // measures from the other's
	Onset score.Fraction `json:"onset"`
	Grace int            `json:"grace,omitempty"`
	Midi  int            `json:"midi"`
	Pitch string         `json:"pitch,omitempty"` // as written

	printed    string // number of its measure
	manyNumber bool
	before     bool
}

// Address is the note's address; its measure is -1 where it is not known.
func (n *NoteRef) Address() score.Address {
	return score.Address{Measure: n.Index, Onset: n.Onset, Grace: n.Grace, Midi: n.Midi, Ordinal: n.Ordinal}
}

// Same says that another reference names the same note.
func (n *NoteRef) Same(o NoteRef) bool { return n.Printed == o.Printed && n.Address() == o.Address() }

// Example is a decisions file in ten lines; the help and the folder that
// `init` makes show it.
const Example = `piece: op7-nocturne
by: AB
decisions:
  - amend: notes            # take, amend, stet, query or reopen; notes, redistribution, finding or roll
    when: 2026-03-01
    why: keeps the thumb free for the next beat
    notes:                  # onset in quarters from the barline, keys with their digits
      - m. 12: 3/2 G5=5-4, 2 C5=1+E5=3      # 5-4 changes on the held key
  - {stet: finding, when: 2026-03-02, until: 2027-12-31, why: meant as a roll, rule: span-beyond-hand,
     notes: [m. 8: 0 C3]}
`
