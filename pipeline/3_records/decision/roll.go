package decision

import "gopkg.in/yaml.v3"

// completeRoll notes what a decision on a rolled chord lacks, and what does not go with it.
func (r reader) completeRoll(n *yaml.Node, d *Decision) {
	if d.On != Roll {
		return
	}
	if d.Verb == Amend {
		r.Fault(n, "a roll cannot be amended", "take rolls the chord, stet leaves it struck at once; digits are amended as notes")
		return
	}
	if len(d.Notes) == 1 && d.Verb != Query {
		r.Fault(n, "a roll has one note", "name every key of the chord, joined by +, as in `- m. 12: 0 C3+E4`")
	}
	for i := range d.Notes {
		ref, first := &d.Notes[i], &d.Notes[0]
		at := &yaml.Node{Line: ref.Line, Column: 1}
		switch {
		case len(ref.Fingers) > 0:
			r.Fault(at, "a roll gives no finger", "take the digit out, and amend the notes")
		case ref.Grace > 0:
			r.Fault(at, "a grace note is no part of a rolled chord", "take it out")
		case ref.Printed != first.Printed || !ref.Onset.Equal(first.Onset):
			r.Fault(at, "the notes of a roll stand at one moment", "make two decisions of it")
		}
	}
}
