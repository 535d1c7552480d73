package compare

import "fmt"

// action says what the engraver does: old is what the approved copy has.
func action(c *Change) Action {
	switch {
	case c.Kind == PieceMissing:
		return PutIn
	case c.Kind == PieceAdded:
		return TakeOut
	case c.Kind == DigitMoved:
		return Move
	case c.Old == "":
		return TakeOut
	case c.New == "":
		return PutIn
	}
	return Alter
}

// ask puts a change into the words of a correction sheet, what the proof has
// first: "F4 → F#4", "digit at G4: 4 → 3", "put in digit 4 at G4" (common practice).
func ask(c *Change) string {
	pitch := ""
	if at := c.At(); at != nil && at.Pitch != "" {
		pitch = " at " + at.Pitch
	}
	do := action(c)
	what := c.Old
	if do == TakeOut {
		what = c.New
	}
	switch c.Kind {
	case PieceMissing, PieceAdded:
		return string(do) + " the whole piece"
	case MeasureMissing, MeasureAdded:
		return fmt.Sprintf("%s the measure (%s)", do, what)
	case NoteMissing, NoteAdded, Unison:
		if do != Alter {
			return fmt.Sprintf("%s %s%s", do, noteOrUnison(c.Kind), what)
		}
	case DigitMoved:
		return fmt.Sprintf("move digit %s → %s", c.New, c.Old)
	case Pitch:
		return c.New + " → " + c.Old
	case Octave, Spelling:
		return fmt.Sprintf("%s → %s (%s)", c.New, c.Old, c.Kind.Words())
	case DigitMissing, DigitAdded:
		return fmt.Sprintf("%s digit %s%s", do, what, pitch)
	case Articulation, Ornament: // a trill needs no name of its kind
		if do != Alter {
			return fmt.Sprintf("%s %s%s", do, what, pitch)
		}
	case DigitChanged:
		return fmt.Sprintf("digit%s: %s → %s", pitch, c.New, c.Old)
	}
	if do == Alter {
		return fmt.Sprintf("%s%s: %s → %s", c.Kind.Words(), pitch, c.New, c.Old)
	}
	return fmt.Sprintf("%s %s%s: %s", do, c.Kind.Words(), pitch, what)
}

func noteOrUnison(k Kind) string {
	if k == Unison {
		return "the second stem, "
	}
	return "the note "
}
