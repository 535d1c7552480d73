package compare

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
)

// Correction is one line of a correction sheet: what the engraver is asked to
// do so that the typeset side reads like the approved one.
type Correction struct {
	Piece string `json:"piece"`
	At    *Place `json:"at"`
	Ask   string `json:"ask"` // "for 3 read 4"
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
)

// Sheet makes the corrections of a diff of approved (old) against typeset
// (new). previous is the diff of approved against the proof before, nil if
// there is none.
func Sheet(current, previous *Diff) []Correction {
	asked := map[string]bool{}
	if previous != nil {
		for i := range previous.Pieces {
			p := &previous.Pieces[i]
			for k := range p.Changes {
				asked[key(p.ID, &p.Changes[k])] = true
			}
		}
	}
	var out []Correction
	open := map[string]bool{}
	add := func(p *Piece, c *Change, s State) {
		at := c.A // the approved copy: its numbers are the editor's
		if c.B != nil {
			at = c.B // the proof in the engraver's hands
		}
		out = append(out, Correction{Piece: p.ID, At: at, Ask: ask(c), State: s, Class: c.Kind.Class()})
	}
	for i := range current.Pieces {
		p := &current.Pieces[i]
		for k := range p.Changes {
			c := &p.Changes[k]
			id := key(p.ID, c)
			open[id] = true
			switch {
			case previous == nil:
				add(p, c, ToDo)
			case asked[id]:
				add(p, c, Missed)
			default:
				add(p, c, Broken)
			}
		}
	}
	if previous == nil {
		return out
	}
	for i := range previous.Pieces {
		p := &previous.Pieces[i]
		for k := range p.Changes {
			if c := &p.Changes[k]; !open[key(p.ID, c)] {
				add(p, c, Done)
			}
		}
	}
	return out
}

// key names a correction by what is asked for at which place of the approved
// copy; what the proof wrongly shows may change from proof to proof.
func key(piece string, c *Change) string {
	at := c.A
	if at == nil {
		at = c.B
	}
	place := fmt.Sprintf("%d+%s staff %d", at.Index, at.Onset, at.Staff)
	if at.Address != nil {
		place = at.Address.String()
	}
	return strings.Join([]string{piece, place, string(c.Kind), c.Old}, "|")
}

// ask puts a change into the words of a correction sheet (common practice).
func ask(c *Change) string {
	pitch := ""
	if at := c.At(); at.Pitch != "" {
		pitch = " at " + at.Pitch
	}
	switch {
	case c.Kind == DigitMoved:
		return fmt.Sprintf("move the digit: for %s read %s", c.New, c.Old)
	case c.Kind == MeasureMissing, c.Kind == PieceMissing, c.Kind == NoteMissing:
		return strings.TrimSpace("put in: " + c.Kind.Words() + " " + c.Old + pitch)
	case c.Kind == MeasureAdded, c.Kind == PieceAdded, c.Kind == NoteAdded:
		return strings.TrimSpace("take out: " + c.Kind.Words() + " " + c.New + pitch)
	case c.Old == "":
		return fmt.Sprintf("take out %s%s%s", kindIfUnclear(c.Kind), c.New, pitch)
	case c.New == "":
		return fmt.Sprintf("put in %s%s%s", kindIfUnclear(c.Kind), c.Old, pitch)
	}
	return fmt.Sprintf("%sfor %s read %s%s", kindIfUnclear(c.Kind), c.New, c.Old, pitch)
}

// kindIfUnclear names the kind where the signs alone do not tell what is meant.
func kindIfUnclear(k Kind) string {
	switch k {
	case DigitChanged, DigitAdded, DigitMissing, Substitution:
		return ""
	}
	return k.Words() + ": "
}

// Words names a place as a musician would: "p. 3, system 2, m. 12, right hand,
// beat 3, G4"; page and system where the file knows them, the pitch if asked for.
func (p *Place) Words(pitch bool) string {
	var parts []string
	if p.Page > 1 || p.System > 1 {
		parts = append(parts, fmt.Sprintf("p. %d, system %d", p.Page, p.System))
	}
	parts = append(parts, "m. "+p.Measure)
	if p.Hand != score.NoHand {
		parts = append(parts, handWords(p.Hand))
	}
	if p.Beat != "" {
		parts = append(parts, "beat "+p.Beat)
	}
	if pitch && p.Pitch != "" {
		parts = append(parts, p.Pitch)
	}
	return strings.Join(parts, ", ")
}
