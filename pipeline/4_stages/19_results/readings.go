package results

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// addReadings lays down the digits that witnesses have at a note and the text
// has not, and whose the note's finger is where it is theirs or an editor's.
func addReadings(in *Input, i int, out *state.Note) {
	for _, r := range in.Sources.Readings[i] {
		if r.Siglum == "" || slices.ContainsFunc(out.Source, func(s state.Source) bool {
			return !s.WitnessOnly && slices.Contains(s.Witnesses, r.Siglum) && s.Alternate == r.Alternate &&
				s.Substitution == r.Substitution &&
				slices.Equal(spelled(s), r.Fingers)
		}) {
			continue // an editor's, or the text's own
		}
		entry := state.Source{
			Text: r.Text, Fingers: r.Fingers, Alternate: r.Alternate,
			Substitution: r.Substitution, Responsibility: r.Responsibility, Agent: r.Agent,
			Witnesses: []string{r.Siglum}, WitnessOnly: true,
		}
		if len(r.Fingers) == 1 && r.Text == fmt.Sprint(r.Fingers[0]) {
			entry.Fingers = nil
		}
		k := slices.IndexFunc(out.Source, func(s state.Source) bool {
			return s.WitnessOnly && s.Text == entry.Text && slices.Equal(s.Fingers, entry.Fingers) &&
				s.Alternate == entry.Alternate &&
				s.Substitution == entry.Substitution &&
				s.Responsibility == entry.Responsibility
		})
		if k >= 0 {
			out.Source[k].Witnesses = append(out.Source[k].Witnesses, r.Siglum)
			continue
		}
		out.Source = append(out.Source, entry)
	}
	if c := &in.Credited.Credits[i]; c.Who != score.Open && out.Responsibility == score.Unattributed &&
		out.Finger > 0 &&
		!out.Tied {
		out.Responsibility = c.Who
		if out.Agent == "" {
			out.Agent = c.Agent
		}
	}
	out.Carried = in.Credited.Credits[i].Carried && out.Responsibility == score.Unattributed && out.Finger > 0 && !out.Tied
}

// spelled gives the fingers of a source: its text where that is one digit.
func spelled(s state.Source) []int {
	if len(s.Fingers) == 0 && len(s.Text) == 1 && s.Text[0] >= '1' && s.Text[0] <= '5' {
		return []int{int(s.Text[0] - '0')}
	}
	return s.Fingers
}

// witnessesOf counts what of each witness stands where.
func witnessesOf(in *Input) (out []state.Witness) {
	for k := range in.Witnesses {
		entry := state.Witness{
			Siglum: in.Witnesses[k].Siglum, Unplaced: in.Sources.Unplaced[k], Odd: in.Sources.Odd[k],
		}
		for _, readings := range in.Sources.Readings {
			for _, r := range readings {
				if r.Siglum == entry.Siglum {
					entry.Digits++
				}
			}
		}
		out = append(out, entry)
	}
	return out
}
