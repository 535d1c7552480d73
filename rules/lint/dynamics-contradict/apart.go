package dynamicscontradict

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// steps are the levels from soft to loud.
var steps = map[string]int{"pppp": 0, "ppp": 1, "pp": 2, "p": 3, "mp": 4, "mf": 5, "f": 6, "ff": 7, "fff": 8, "ffff": 9}

const (
	apart       = 4 // steps that two layers of one staff do not lie apart
	mostLetters = 5 // of a level
	fewApart    = 2 // places of a piece
)

// farApart reports two levels at one moment of one staff, one above it and one below, that lie far apart where the staff has one
// voice in the measure; and levels of more letters than anybody plays.
func farApart(p *lint.Inspection, printed map[int]bool) {
	type place struct {
		part, staff, measure int
		onset                score.Fraction
	}
	first := map[place]int{}
	var found [][2]int
	for k := range p.Score.Directions {
		d := &p.Score.Directions[k]
		if d.Kind != score.Dynamics || !printed[d.Part] {
			continue
		}
		if len(d.Text) > mostLetters && level.MatchString(d.Text) {
			p.ReportSign(k, lint.Finding{Severity: lint.Note, Message: fmt.Sprintf("%q has more letters than a dynamic has", d.Text), Fix: "check it", Together: d.Text})
		}
		a, is := steps[d.Text]
		if !is {
			continue
		}
		here := place{d.Part, max(d.Staff, 1), d.Measure, d.Onset}
		before, was := first[here]
		if !was {
			first[here] = k
			continue
		}
		x := &p.Score.Directions[before]
		if b := steps[x.Text]; x.Above != d.Above && max(a-b, b-a) >= apart && !repeated(p, d) && oneVoice(p, d) {
			found = append(found, [2]int{before, k})
		}
	}
	if len(found) > fewApart {
		return
	}
	for _, f := range found {
		p.ReportSign(f[1], lint.Finding{
			Severity: lint.Note,
			Message:  fmt.Sprintf("%s and %s stand at one place, above and below the staff", p.Score.Directions[f[0]].Text, p.Score.Directions[f[1]].Text),
			Fix:      "correct one of the two",
		})
	}
}

// oneVoice says that the staff of a sign has notes of one voice only in its measure.
func oneVoice(p *lint.Inspection, d *score.Direction) bool {
	voice := ""
	for _, n := range p.InMeasure(d.Measure) {
		x := &p.Score.Notes[n]
		if x.Part != d.Part || x.Staff != max(d.Staff, 1) || x.Kind != score.Pitched {
			continue
		}
		if voice != "" && voice != x.Voice {
			return false
		}
		voice = x.Voice
	}
	return voice != ""
}
