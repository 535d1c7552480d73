package state

import (
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
)

// Sentence is a finding in one line that stands alone and names the place as
// a musician would: "m. 42, right hand, beat 3: …". What is said of a piece as a whole has no place.
func (f Finding) Sentence() string {
	if f.Measure == "" {
		return oneLine(f.Message)
	}
	return f.Place() + ": " + oneLine(f.Message)
}

// Place names where a finding is as a musician would: "m. 42, right hand, beat 3"; "" of what is said of a whole piece.
func (f Finding) Place() string {
	if f.Measure == "" {
		return ""
	}
	return oneLine(score.Spot{Measure: f.Measure, Hand: f.Hand, Beat: f.Beat}.Words())
}

// Advice is the sentence with what could be done, still in one line.
func (f Finding) Advice() string {
	if f.Fix == "" {
		return f.Sentence()
	}
	return f.Sentence() + "; " + oneLine(f.Fix)
}

// ProblemLine is why a piece could not be worked on, in one line: the hint
// stands after a semicolon.
func (o *Outcome) ProblemLine() string {
	return oneLine(strings.ReplaceAll(o.Problem, "\nhint:", "; hint:"))
}

// oneLine puts text into one line: line breaks and runs of spaces become one
// space.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// String says how many findings there are: "2 errors, 1 warning, 14 notes".
func (c Counts) String() string {
	var parts []string
	for _, p := range []struct {
		n    int
		name string
	}{{c.Error, "error"}, {c.Warning, "warning"}, {c.Note, "note"}} {
		if p.n > 0 {
			parts = append(parts, wording.Count(p.n, p.name))
		}
	}
	if len(parts) == 0 {
		return "no findings"
	}
	return strings.Join(parts, ", ")
}

// Total counts findings of any severity.
func (c Counts) Total() int { return c.Error + c.Warning + c.Note }
