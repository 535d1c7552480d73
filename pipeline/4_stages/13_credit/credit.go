// Package credit is the stage that says whose each finger is that the text does
// not have: the composer's or an earlier hand's where a witness has it, the
// editor's who decided it, else open. A digit that is someone's is given whole,
// as it stands with them, with its change of finger or the row of its sign.
package credit

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/parallel"
)

// Input is everything the stage looks at.
type Input struct {
	Score      *score.Score
	Whose      [][]score.Responsibility
	Sources    *attribute.Sources
	Returns    []parallel.Return
	Apart      []bool // notes that are fingered for themselves where their passage returns; nil: none
	Bound      []decide.Digit
	Suggestion *suggest.Suggestion
}

// Output runs parallel to Score.Notes.
type Output struct {
	Credits []Credit
	// Changes are the fingers that a key is changed to while it is held, 0 for none.
	Changes []int
	// Rows are the fingers of a sign, in the order of playing; nil for none.
	Rows [][]int
}

// Credit is whose an added digit is.
type Credit struct {
	Who    score.Responsibility
	Agent  string
	Sigla  []string // of the witnesses it stands in
	Single bool     // the composer's, and of the composer's witnesses one alone has it
	// Carried: the composer's digit of the passage that returns here. It is open: nobody has decided that it holds here, too.
	Carried bool
}

// Digits credits each finger of the suggestion.
func Digits(in Input) Output {
	n := len(in.Score.Notes)
	out := Output{Credits: make([]Credit, n), Changes: make([]int, n), Rows: make([][]int, n)}
	for i := range out.Credits {
		out.Credits[i] = Of(int(in.Suggestion.Notes[i].Finger), in.Sources.Readings[i])
	}
	for _, r := range in.Returns {
		for k := range min(len(r.First), len(r.Later)) {
			for _, pair := range [2][2]int{{r.First[k], r.Later[k]}, {r.Later[k], r.First[k]}} {
				f := composers(in, pair[0])
				if f > 0 && f == int(in.Suggestion.Notes[pair[1]].Finger) && out.Credits[pair[1]].Who == score.Open &&
					composers(in, pair[1]) == 0 &&
					(in.Apart == nil || !in.Apart[pair[0]] && !in.Apart[pair[1]]) {
					out.Credits[pair[1]] = Credit{Who: score.Open, Carried: true}
				}
			}
		}
	}
	for i := range in.Bound {
		if d := &in.Bound[i]; d.Finger() > 0 {
			out.Credits[i] = Credit{Who: score.Editor, Agent: d.By}
		}
	}
	for i := range out.Credits {
		own := asCredited(in, out.Credits[i], i)
		out.Changes[i], out.Rows[i] = change(in, own, i), row(in, own, out.Credits[i], i)
	}
	return out
}

// composers is the finger that a digit of the composer's gives a note, 0 for none.
func composers(in Input, i int) int {
	return attribute.ComposersFinger(&in.Score.Notes[i], in.Whose[i])
}

// Of says whose a finger is that the text does not have, by the readings
// of its note: the editor's who decided it, the composer's before an earlier
// hand's; open where no one has it.
func Of(finger int, readings []attribute.Reading) Credit {
	out := Credit{Who: score.Open}
	for _, who := range []score.Responsibility{score.Editor, score.Composer, score.Earlier} {
		for _, r := range readings {
			if r.Responsibility != who || !r.Strikes() || r.Fingers[0] != finger {
				continue
			}
			out.Who = who
			if out.Agent == "" {
				out.Agent = r.Agent
			}
			if r.Siglum != "" && !slices.Contains(out.Sigla, r.Siglum) {
				out.Sigla = append(out.Sigla, r.Siglum)
			}
		}
		if out.Who != score.Open {
			out.Single = who == score.Composer && len(out.Sigla) == 1
			return out
		}
	}
	return out
}

// AsIn gives the fingers of a credited digit with those that follow on it, as
// they stand where the credit takes it from: the finger that strikes, then
// those of a change or of a row. Nil where no reading has it.
func (c Credit) AsIn(readings []attribute.Reading, finger int) []int {
	siglum := ""
	if len(c.Sigla) > 0 {
		siglum = c.Sigla[0]
	}
	var out []int
	for i := range readings {
		r := &readings[i]
		switch {
		case r.Siglum != siglum || r.Responsibility != c.Who || r.Alternate || len(r.Fingers) == 0:
		case r.Substitution && out != nil:
			out = append(out, r.Fingers...)
		case !r.Substitution && r.Fingers[0] == finger && out == nil:
			out = slices.Clone(r.Fingers)
		}
	}
	return out
}

// asCredited is a digit that the text does not have as it stands where it is
// taken from, with the fingers that follow on it; nil where it is worked out
// here or was decided.
func asCredited(in Input, c Credit, i int) []int {
	if c.Who == score.Open || in.Bound[i].Finger() > 0 {
		return nil
	}
	return c.AsIn(in.Sources.Readings[i], int(in.Suggestion.Notes[i].Finger))
}

// change is the finger that a note's key is changed to while it is held, 0
// for none. On a digit of a witness, or of an editor as an edition carries it
// along, it is theirs and no one else's: a change worked out here would pass
// for what they wrote.
func change(in Input, own []int, i int) int {
	switch {
	case own == nil || in.Suggestion.Notes[i].Row != nil:
		return int(in.Suggestion.Notes[i].Substitution)
	case len(own) > 1:
		return own[1]
	}
	return 0
}

// row is the row of fingers of a sign, by the same rule.
func row(in Input, own []int, c Credit, i int) []int {
	worked := in.Suggestion.Notes[i].Row
	switch {
	case worked == nil || own == nil:
		return worked
	case len(own) > 1:
		return own
	case c.Who == score.Editor: // who decided the first finger knew the row
		return worked
	}
	return nil
}
