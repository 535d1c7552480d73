package suggest

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/fingering"
)

// Decided is what the editors decided about one note.
type Decided struct {
	Finger int   // the finger that strikes, 0 where it is left open
	Then   int   // the finger changed to on the held key, 0 if none
	Stands bool  // the digit of the text stands, whatever the policy says of such digits
	Row    []int // all fingers that are given, where there is more than one: of a sign, in the order of playing
	// Order is 0 for what an editor wrote, and for what was only taken the place of its entry among all, the earliest first: in it
	// the search is told of what it does not come to by itself.
	Order int
	Along bool // carried along by the edition that is read back, which has the finger as a digit of its editor's too
}

// DecidedOf gives the engine what is decided at each note, nil where nothing is.
func DecidedOf(bound []decide.Digit) []Decided {
	var out []Decided
	for i := range bound {
		d := &bound[i]
		if d.Verb == "" {
			continue
		}
		if out == nil {
			out = make([]Decided, len(bound))
		}
		out[i] = Decided{Finger: d.Finger(), Stands: d.Verb == decision.Stet, Along: d.Along}
		if d.Verb == decision.Take {
			out[i].Order = d.Entry
		}
		if len(d.Fingers) > 1 {
			out[i].Then, out[i].Row = d.Fingers[1], d.Fingers
		}
		if d.Row != nil {
			out[i].Row = d.Row
		}
	}
	return out
}

func (in *Input) decided(i int) Decided {
	if in.Decided != nil && (in.Decided[i].Finger > 0 || in.Decided[i].Stands) || !in.drafted(i) {
		return in.settled(i)
	}
	d := Decided{Finger: in.Draft[i][0]}
	if len(in.Draft[i]) > 1 {
		d.Then, d.Row = in.Draft[i][1], in.Draft[i]
	}
	return d
}

// settled is what the editors decided at a note, the draft left aside.
func (in *Input) settled(i int) Decided {
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
		if f := in.Playing.Piled(i); f > 0 {
			return f
		}
		return GivenFinger(&in.Score.Notes[i], in.Whose[i])
	}
	return 0
}

// decidedRow is the row of fingers that is decided for a note's sign, nil where there is none: more than one finger at a
// note without such a sign is a change on the held key.
func (in *Input) decidedRow(i int) []int {
	if row := in.decided(i).Row; slices.Contains(RowLengths(&in.Score.Notes[i]), len(row)) {
		return row
	}
	return nil
}

// RowLengths says how many fingers a decision can give for the sign of a note, nil where it can give none: one for each of
// its strokes, or of a trill two.
func RowLengths(n *score.Note) []int {
	s, _, ok := signOf(n)
	switch {
	case !ok:
		return nil
	case s.steps[0] != 0:
		return []int{len(s.steps)}
	case len(s.steps) == 3:
		return []int{2, 3}
	}
	return []int{len(s.steps)}
}

// boundChange is the finger that a held key is changed to by the editor's word or the text's, 0 for none.
func (in *Input) boundChange(i int) int {
	if d := in.decided(i); d.Finger > 0 {
		if in.decidedRow(i) != nil {
			return 0
		}
		return d.Then
	}
	if in.bound(i) == 0 || in.Playing.Piled(i) > 0 {
		return 0
	}
	if _, _, is := signOf(&in.Score.Notes[i]); is && givenRow(&in.Score.Notes[i], in.Whose[i]) != nil {
		return 0
	}
	return GivenChange(&in.Score.Notes[i], in.Whose[i])
}

// GivenChange is the finger to which the digits at a note change on the held key: the last one that the file calls
// the second finger of a change. Alternatives, hidden digits and open ones do not count; 0 if there is none.
func GivenChange(n *score.Note, whose []score.Responsibility) (then int) {
	for k, ind := range n.Indications {
		if ind.Substitution && !ind.Alternate && !ind.Hidden && len(ind.Fingers) > 0 && whose[k] != score.Open {
			then = ind.Fingers[len(ind.Fingers)-1]
		}
	}
	return then
}

// changeAsBound puts decided changes on held keys, and those of the text, in place of suggested
// ones: where a digit was decided, so was that no change follows it.
func changeAsBound(in Input, out *Suggestion) {
	for i := range out.Notes {
		if !in.Playing.Plays(i) {
			continue
		}
		if then := in.boundChange(i); then > 0 || in.decided(i).Finger > 0 {
			out.Notes[i].Substitution = fingering.Finger(then)
		}
	}
}
