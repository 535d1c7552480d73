package check

import (
	"fmt"

	"fingerproof/pipeline/4_services/compare"
)

// signs lists what differs in the text beside the notes that a state holds: everything that diff compares of two scores.
// Each is told once: what befell a note or its digit stands among the changes already (DEVELOPERS.md, decision 10).
func (p *prover) signs(told []Change) (out []Change) {
	digit := map[int]bool{} // notes of the score as it stands whose digit is told
	for i := range told {
		if c := &told[i]; c.Kind == Fingers || c.Kind == Printed || c.Kind == Whose {
			digit[c.N] = true
		}
	}
	now := map[int]bool{}
	for i := range p.now.Result.Notes {
		now[p.now.Result.Notes[i].N] = true
	}
	for i := range p.differences {
		d := &p.differences[i]
		held := d.A != nil && p.noted[d.A.Note] || d.A == nil && d.B != nil && now[d.B.Note]
		fingering := d.Kind.Class() == compare.Fingering
		switch d.Kind {
		case compare.Pitch, compare.Octave, compare.Spelling, compare.Onset, compare.NoteMissing, compare.NoteAdded:
			if held {
				continue
			}
		}
		if fingering && d.B != nil && digit[d.B.Note] {
			continue
		}
		out = append(out, signChange(d, fingering))
	}
	return out
}

// signChange puts a difference of two texts in the form of a change; only the text can be its cause.
func signChange(d *compare.Change, digits bool) Change {
	c := Change{
		Kind: Sign, Of: d.Kind.Words(), Old: d.Old, New: d.New, Cause: theText, N: -1, old: -1, row: -1, digits: digits,
	}
	if at := d.At(); at != nil {
		c.Measure, c.Index, c.Hand, c.Beat, c.Pitch = at.Measure, at.Index, at.Hand.String(), at.Beat, at.Pitch
	}
	if d.B != nil {
		c.Line = d.B.Line
		if d.B.Note >= 0 {
			c.N = d.B.Note
		}
	}
	return c
}

// signSentence says in one line what became of a sign.
func (c *Change) signSentence(place, was, is string) string {
	if c.Pitch != "" {
		place += ", " + c.Pitch
	}
	if place != "" {
		place += ": "
	}
	return fmt.Sprintf("%s%s: was %s, is %s", place, c.Of, orNone(was), orNone(is))
}
