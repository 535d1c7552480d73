package compare

import (
	"fmt"
	"strings"
)

// Correction is one line of a correction sheet: what the engraver is asked to
// do so that the typeset side reads like the approved one.
type Correction struct {
	Piece string `json:"piece"`
	At    *Place `json:"at,omitempty"` // nil for a piece that could not be compared
	Ask   string `json:"ask"`          // "for 3 read 4"
	State State  `json:"state"`
	Class Class  `json:"class"`
}

// State says how a correction stands against the proof before.
type State string

// The states. Without a proof before, every correction is open.
const (
	ToDo   State = "open"
	Missed State = "missed" // asked for in the last proof and still not done
	Broken State = "new"    // right in the last proof, wrong in this one
	Done   State = "done"   // asked for in the last proof and done
	Unread State = "unread" // the piece could not be compared
)

// Sheet makes the corrections of a diff of approved (old) against typeset
// (new). previous is the diff of approved against the proof before, nil if
// there is none. Each correction asked for then is found again among those of
// now, so that it is done, or missed, once; a place where the engraver did
// something else wrong is missed, not new. A piece that could not be compared
// is listed as such, and nothing of it is ticked off.
func Sheet(current, previous *Diff) []Correction {
	var out []Correction
	for i := range current.Pieces {
		p := &current.Pieces[i]
		if p.Problem != "" {
			problem, _, _ := strings.Cut(p.Problem, "\n") // the hint is for the terminal
			out = append(out, Correction{Piece: p.ID, Ask: problem, State: Unread})
			continue
		}
		var before *Piece
		if previous != nil {
			before = previous.piece(p.ID)
		}
		out = append(out, p.corrections(before, previous != nil)...)
	}
	if previous == nil {
		return out
	}
	for i := range previous.Pieces {
		p := &previous.Pieces[i]
		if p.Problem == "" && current.piece(p.ID) == nil {
			empty := Piece{ID: p.ID}
			out = append(out, empty.corrections(p, true)...)
		}
	}
	return out
}

func (d *Diff) piece(id string) *Piece {
	for i := range d.Pieces {
		if d.Pieces[i].ID == id {
			return &d.Pieces[i]
		}
	}
	return nil
}

// corrections lists the corrections of one piece, then what was done of those
// of the proof before. later says that there was one; where it could not be
// read, everything is open.
func (p *Piece) corrections(before *Piece, later bool) []Correction {
	fresh := ToDo
	if later && (before == nil || before.Problem == "") {
		fresh = Broken
	}
	states := make([]State, len(p.Changes))
	for k := range states {
		states[k] = fresh
	}
	var done []bool
	if before != nil {
		done = make([]bool, len(before.Changes))
		for k := range done {
			done[k] = true
		}
		for _, key := range []func(*Change) string{exactKey, looseKey} {
			asked := map[string][]int{}
			for k := range before.Changes {
				if done[k] {
					asked[key(&before.Changes[k])] = append(asked[key(&before.Changes[k])], k)
				}
			}
			for k := range p.Changes {
				id := key(&p.Changes[k])
				if list := asked[id]; states[k] == fresh && len(list) > 0 {
					states[k], done[list[0]], asked[id] = Missed, false, list[1:]
				}
			}
		}
	}
	var out []Correction
	add := func(c *Change, s State) {
		out = append(out, Correction{Piece: p.ID, At: c.At(), Ask: ask(c), State: s, Class: c.Kind.Class()})
	}
	for k := range p.Changes {
		add(&p.Changes[k], states[k])
	}
	for k := range done {
		if done[k] {
			add(&before.Changes[k], Done)
		}
	}
	return out
}

// exactKey names a correction by what is asked for at which place of the
// approved copy; what the proof wrongly shows may change from proof to proof.
func exactKey(c *Change) string { return c.site + "|" + string(c.Kind) + "|" + c.Old }

// looseKey names a correction by its place and by what part of the note it is
// about: a digit that was missing and is now another is the same fault.
func looseKey(c *Change) string { return c.site + "|" + family(c.Kind) }

func family(k Kind) string {
	switch k {
	case DigitMissing, DigitChanged, DigitMoved, DigitAdded, Substitution, Alternative:
		return "digit"
	case NoteMissing, Pitch, Octave, Spelling, Unison:
		return "note"
	case Onset, Duration, Tie, GraceSize:
		return "time"
	}
	return string(k)
}

// ask puts a change into the words of a correction sheet (common practice).
func ask(c *Change) string {
	pitch := ""
	if at := c.At(); at.Pitch != "" {
		pitch = " at " + at.Pitch
	}
	switch c.Kind {
	case PieceMissing:
		return "put in the whole piece"
	case PieceAdded:
		return "take out the whole piece"
	case MeasureMissing:
		return "put in the measure (" + c.Old + ")"
	case MeasureAdded:
		return "take out the measure (" + c.New + ")"
	case NoteMissing, NoteAdded, Unison:
		if c.Old == "" {
			return "take out " + noteOrUnison(c.Kind) + c.New
		}
		return "put in " + noteOrUnison(c.Kind) + c.Old
	case DigitMoved:
		return fmt.Sprintf("move the digit: for %s read %s", c.New, c.Old)
	}
	switch {
	case c.Old == "":
		return fmt.Sprintf("take out %s%s%s", kindIfUnclear(c.Kind), c.New, pitch)
	case c.New == "":
		return fmt.Sprintf("put in %s%s%s", kindIfUnclear(c.Kind), c.Old, pitch)
	}
	return fmt.Sprintf("%sfor %s read %s%s", kindIfUnclear(c.Kind), c.New, c.Old, pitch)
}

func noteOrUnison(k Kind) string {
	if k == Unison {
		return "the second stem, "
	}
	return "the note "
}

// kindIfUnclear names the kind where the signs alone do not tell what is meant.
func kindIfUnclear(k Kind) string {
	switch k {
	case DigitChanged, DigitAdded, DigitMissing, Substitution, Pitch, Octave, Spelling:
		return ""
	}
	return k.Words() + ": "
}
