// Package signwithoutend checks that brackets and lines end.
package signwithoutend

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a bracket or line for a hand has no end.
var Rule = &lint.Rule{
	Name:  "sign-without-end",
	Title: "a bracket or line for a hand has no end",
	Checks: "Brackets and dashed lines in the piano parts: each that begins must end, and none may end that has " +
		"not begun. They are followed in time, whichever voice writes them. Of lines that draw out other words " +
		"(cresc., rit.) one or two in a piece that do not end are a note.",
	Why: "The reader cannot see how far the hand goes on; engraving draws the line to the end of the system or " +
		"drops it.",
	Before:   "a bracket that starts at beat 1 and no stop",
	After:    "the stop at the last note meant",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Run:      run,
}

// line names the line that an end belongs to.
type line struct {
	part, number int
	kind         score.DirectionKind
}

// What may be wrong with a line, and what puts it right.
var (
	noEnd       = lint.Finding{Message: "begins, but does not end", Fix: "put in the missing end"}
	noBeginning = lint.Finding{
		Message: "ends, but has not begun", Fix: "put in the missing beginning, or delete the end",
	}
)

func run(p *lint.Inspection) {
	open := map[line]int{}  // where a line begins that has not ended
	words := map[line]int{} // how many lines of each name draw out words
	var drawn []int         // where these begin that have not ended
	var order []line
	taken := map[int]bool{} // ends that have been looked ahead to
	all := ends(p)
	for at, i := range all {
		if taken[i] {
			continue
		}
		d := &p.Score.Directions[i]
		key := line{d.Part, d.Number, d.Kind}
		begin, isOpen := open[key]
		switch {
		case d.Start && ofWords(p, i):
			words[key]++
			drawn = append(drawn, i)
		case d.Start:
			if end := endsNow(p, all[at:], key); isOpen && end >= 0 {
				taken[end] = true
			} else if isOpen {
				report(p, begin, noEnd)
			}
			open[key] = i
			order = append(order, key)
		case d.Stop && isOpen:
			delete(open, key)
		case d.Stop && words[key] > 0:
			words[key]--
			drawn = closed(p, drawn, key)
		case d.Stop && !endsWords(words, d):
			report(p, i, noBeginning)
		case d.Stop:
			drawn = closed(p, drawn, key)
		}
	}
	if len(drawn) <= few {
		for _, i := range drawn {
			f := noEnd
			f.Severity = lint.Note
			report(p, i, f)
		}
	}
	for _, key := range order {
		if at, isOpen := open[key]; isOpen {
			report(p, at, noEnd)
			delete(open, key)
		}
	}
}

// few lines after words that do not end are slips; where a piece has more, its words go on without lines.
const few = 2

// closed takes the last line of a name out of those that draw out words, or the first of another name.
func closed(p *lint.Inspection, drawn []int, key line) []int {
	for k := len(drawn) - 1; k >= 0; k-- {
		if d := &p.Score.Directions[drawn[k]]; key == (line{d.Part, d.Number, d.Kind}) {
			return slices.Delete(drawn, k, k+1)
		}
	}
	if len(drawn) > 0 {
		return drawn[1:]
	}
	return drawn
}

// ends lists where lines of the piano parts begin and end, in order of time.
func ends(p *lint.Inspection) []int {
	piano := p.PianoParts()
	return p.InTime(func(d *score.Direction) bool {
		return (d.Kind == score.Bracket || d.Kind == score.Dashes) && (d.Start || d.Stop) && piano[d.Part]
	})
}

// endsNow gives the end of a line at the very moment of the first of some ends,
// -1 for none: where one line begins as the one before it ends, either may be
// written first.
func endsNow(p *lint.Inspection, ends []int, key line) int {
	first := &p.Score.Directions[ends[0]]
	for _, i := range ends[1:] {
		d := &p.Score.Directions[i]
		if d.Measure != first.Measure || d.Onset != first.Onset {
			return -1
		}
		if d.Stop && key == (line{d.Part, d.Number, d.Kind}) {
			return i
		}
	}
	return -1
}

// ofWords says that a line goes out from words which name no hand: they stand
// in the same direction.
func ofWords(p *lint.Inspection, i int) bool {
	d := &p.Score.Directions[i]
	found := false
	for _, step := range []int{-1, 1} {
		for k := i + step; k >= 0 && k < len(p.Score.Directions); k += step {
			o := &p.Score.Directions[k]
			if o.Part != d.Part || o.Line != d.Line || o.Column != d.Column {
				break
			}
			if o.Kind == score.HandSign {
				return false
			}
			found = found || o.Kind == score.Words && o.Text != "" || o.Kind == score.Dynamics
		}
	}
	return found
}

// endsWords says that an end without a beginning may belong to a line of words
// under another number: exporters number the two ends apart.
func endsWords(words map[line]int, d *score.Direction) bool {
	for number := range 17 {
		key := line{d.Part, number, d.Kind}
		if words[key] > 0 {
			words[key]--
			return true
		}
	}
	return false
}

func report(p *lint.Inspection, i int, f lint.Finding) {
	name := "a bracket"
	if p.Score.Directions[i].Kind == score.Dashes {
		name = "a dashed line"
	}
	f.Message = name + " " + f.Message
	p.ReportSign(i, f)
}
