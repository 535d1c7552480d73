package suggest

import "fingerproof/rules/fingering"

// Decided is what the editors settled about one note.
type Decided struct {
	Finger int  // the finger that strikes, 0 where it is left open
	Then   int  // the finger changed to on the held key, 0 if none
	Stands bool // the digit of the text stands, whatever the policy says of such digits
}

func (in *Input) decided(i int) Decided {
	if in.Decided == nil {
		return Decided{}
	}
	return in.Decided[i]
}

// bound is the finger that binds the engine at a note: the editor's word
// comes first, then the text's where the policy lets it bind or an editor let
// it stand; 0 where the note is open.
func (in *Input) bound(i int) int {
	d := in.decided(i)
	if d.Finger > 0 {
		return d.Finger
	}
	if !in.Free && (d.Stands || in.Policy.Constrains()) {
		return GivenFinger(&in.Score.Notes[i], in.Whose[i])
	}
	return 0
}

// changeAsDecided puts decided changes on held keys in place of suggested
// ones: where a digit was settled, so was that no change follows it.
func changeAsDecided(in Input, out *Suggestion) {
	for i := range in.Decided {
		if d := in.Decided[i]; d.Finger > 0 && in.Hands.Piano[i] {
			out.Notes[i].Substitution = fingering.Finger(d.Then)
		}
	}
}
