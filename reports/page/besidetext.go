package page

import (
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
)

// BesideText says how an editor's digit prints at a note that has a digit in the text: the text's stays.
type BesideText struct {
	Never  bool      // not beside the composer's
	Around [2]string // what stands before and behind it
}

func besideText(p *policies.Policy) BesideText {
	when, _ := p.BesideComposer()
	out := BesideText{Never: when == "never"}
	switch p.BesideStyle().Enclosure {
	case score.Brackets:
		out.Around = [2]string{"[", "]"}
	case score.Parentheses:
		out.Around = [2]string{"(", ")"}
	}
	return out
}

// textDigits is what stands at a note in the text itself, "" for nothing.
func textDigits(n *state.Note) string {
	var b strings.Builder
	for _, s := range n.Source {
		if s.WitnessOnly {
			continue
		}
		if between := " "; b.Len() > 0 {
			if s.Substitution {
				between = "–"
			}
			b.WriteString(between)
		}
		b.WriteString(s.Text)
	}
	return b.String()
}

// ofComposer says that the digit of the text at a note is the composer's.
func ofComposer(n *state.Note) bool {
	return slices.ContainsFunc(n.Source, func(s state.Source) bool { return !s.WitnessOnly && s.Responsibility == score.Composer })
}

// printedAt is the digit of a note as its passage shows it: where an editor's stands beside another of the text, both.
func (m *Material) printedAt(n *state.Note) string {
	digit, text := digitText(n, n.Finger), textDigits(n)
	if text == "" || m.stands(n.N) || m.More[n.N].By == "" || !n.Printed {
		return digit
	}
	return text + " " + m.BesideText.Around[0] + digit + m.BesideText.Around[1]
}
