package accidentaldoubtful

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// across reports a letter that the two hands strike together and alter differently: a false relation at one moment, which tonal music
// has where a line passes or leads, and else hardly ever (common practice). What a piece has in more than one measure is its style.
func across(p *lint.Inspection) {
	any := slices.ContainsFunc(p.Score.Items, func(i score.Item) bool { return i.Kind == score.ItemAccidental })
	if p.WritesAccidentals() || any && len(p.AccidentalsWritten().Missing) == 0 {
		return // the signs are set one by one, and say what is meant
	}
	var found [][2]int
	measures := map[int]bool{}
	for i := range p.Playing.Instants {
		at := &p.Playing.Instants[i]
		if at.Rank.IsGrace() {
			continue
		}
		var left, right []int
		for _, st := range at.Strokes {
			for _, n := range st.Notes {
				if p.Playing.Player(n) > 0 || p.Score.Notes[n].Tremolo.Strokes > 0 {
					continue
				}
				if p.Playing.Hand(n) == score.Left {
					left = append(left, n)
				} else {
					right = append(right, n)
				}
			}
		}
		for _, l := range left {
			for _, r := range right {
				if differ(p, l, r) && !chromatic(p, l) && !chromatic(p, r) && !leads(p, l) && !leads(p, r) {
					found = append(found, [2]int{l, r})
					measures[p.Score.Notes[l].Measure] = true
				}
			}
		}
	}
	if len(measures) > 1 {
		return
	}
	told := map[int]bool{}
	for _, x := range found {
		if told[x[0]] || told[x[1]] {
			continue
		}
		told[x[0]], told[x[1]] = true, true
		p.Report(lint.Finding{
			Severity: lint.Note, Notes: []int{x[1], x[0]}, Fix: "check the accidentals of both",
			Message: fmt.Sprintf("the hands strike %s and %s together", p.Score.Notes[x[0]].Pitch, p.Score.Notes[x[1]].Pitch),
		})
	}
}

// leads says that a note goes on by a semitone, or came so, to another letter: it is a neighbour, or leads there, whatever the other hand has.
func leads(p *lint.Inspection, n int) bool {
	st := p.Playing.Stroke(n)
	if st == nil {
		return false
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	for _, i := range []int{st.Index - 1, st.Index + 1} {
		if i < 0 || i >= len(strokes) {
			continue
		}
		for _, m := range strokes[i].Notes {
			if p.Semitones(n, m) == 1 {
				return true
			}
		}
	}
	return false
}
