// Package changebroken checks that fingers change all along a repeated key.
package changebroken

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: fingers change on a repeated key, and once they do not.
var Rule = &lint.Rule{
	Name:  "change-broken",
	Title: "fingers change on a repeated key, and once one stays",
	Checks: "A key struck three times and more in a row, a digit at each: where the fingers change from each stroke to the next but " +
		"once, and the row is not over there, the one that stays may be a slip. Left alone is what stands alike elsewhere in the piece.",
	Why:      "Fingers that change on a repeated key (4 3 2 1) change all along it (common practice); one that stays has mostly been printed twice.",
	Before:   "C5 four times with 4 4 2 1",
	After:    "C5 four times with 4 3 2 1",
	Severity: lint.Note,
	Since:    "0.21",
	Run:      run,
}

const (
	inRow  = 3       // strokes of one key
	slowly = 600_000 // microseconds between two strokes, from which on nobody changes for speed
)

func run(p *lint.Inspection) {
	type place struct {
		n, m   int
		digits string
	}
	var found []place
	times := map[string]int{}
	for k := range p.Playing.Lines {
		strokes := p.Playing.Lines[k].Strokes
		for from := 0; from < len(strokes); {
			to := from
			for to < len(strokes) && len(strokes[to].Notes) == 1 && p.Digit(strokes[to].Notes[0]) > 0 && !p.ChangesFinger(strokes[to].Notes[0]) &&
				p.Score.Notes[strokes[to].Notes[0]].Grace == 0 &&
				p.Score.Notes[strokes[to].Notes[0]].Midi == p.Score.Notes[strokes[from].Notes[0]].Midi &&
				(to == from || p.Gap(strokes[to-1].Notes[0], strokes[to].Notes[0]) < slowly) {
				to++
			}
			stays, at, digits := 0, -1, ""
			for i := from; i < to; i++ {
				digits += fmt.Sprint(p.Digit(strokes[i].Notes[0]))
				if i > from && p.Digit(strokes[i].Notes[0]) == p.Digit(strokes[i-1].Notes[0]) {
					stays, at = stays+1, i
				}
			}
			if to-from >= inRow {
				times[digits]++
				if stays == 1 && to-from-1 > stays {
					found = append(found, place{strokes[at].Notes[0], strokes[at-1].Notes[0], digits})
				}
			}
			from = max(to, from+1)
		}
	}
	for _, x := range found {
		if times[x.digits] == 1 && !p.Found(x.n, x.m) && p.Gap(x.m, x.n) >= p.RepeatMicros { // below, another rule speaks
			p.Report(lint.Finding{
				Notes:   []int{x.n, x.m},
				Message: fmt.Sprintf("%d strikes %s again, and elsewhere in the row the fingers change", p.Digit(x.n), p.Score.Notes[x.n].Pitch),
				Fix:     "check whether one of the two digits is a slip",
			})
		}
	}
}
