// Package changewithouteffect checks that changes of clef, key and metre change something.
package changewithouteffect

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a change of clef, key or metre changes nothing.
var Rule = &lint.Rule{
	Name:  "change-without-effect",
	Title: "a change of clef, key or metre changes nothing",
	Checks: "Clefs, key signatures and time signatures that are set within the piece while the same one is in force on " +
		"their staff, or another is set before any note follows; clefs and key signatures after the last note of their staff, where nothing says attacca; key " +
		"signatures that are set for one staff alone. What is not shown is left alone, and so is what stands after a double barline or a repeat, where " +
		"it may be a reminder.",
	Why:      "The reader looks for a change that is not there. One of the two signs is mostly wrong.",
	Before:   "bass clef in m. 1, bass clef again in m. 7",
	After:    "the second one taken out, or made the treble clef that was meant",
	Severity: lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	type place struct {
		kind        score.ItemKind
		part, staff int
	}
	ofOneStaff(p, p.TextParts())
	afterAll(p)
	inForce := map[place]string{}
	since := map[place]*score.Item{}
	printed := p.TextParts()
	restated := restatements(p)
	for _, k := range inTime(p) {
		i := &p.Score.Items[k]
		if !printed[i.Part] || i.Kind != score.ItemClef && i.Kind != score.ItemKey && i.Kind != score.ItemMetre {
			continue
		}
		at := place{i.Kind, i.Part, i.Staff}
		reading, hidden := strings.CutSuffix(i.Reading, lint.NotShown)
		if before, set := inForce[at]; set && before == reading && !hidden && !reminder(p, i) && (p.PianoParts()[i.Part] || !restated[restatement{i.Part, i.Measure}]) {
			p.ReportItem(i, lint.Finding{
				Message: fmt.Sprintf("%s is set here and is in force already", reading), Fix: "take it out, or correct one of the two",
				Together: reading,
			})
		}
		if before := since[at]; before != nil && i.Measure > 0 && !hidden && overtaken(p, before, i) {
			p.ReportItem(before, lint.Finding{
				Message: fmt.Sprintf("%s is set here, and %s before any note", before.Reading, reading),
				Fix:     "take out the one that is not meant",
			})
		}
		inForce[at], since[at] = reading, i
		if i.Staff == 0 && i.Kind != score.ItemClef { // for all staves
			for other := range 5 {
				delete(inForce, place{i.Kind, i.Part, other + 1})
			}
		} else {
			delete(inForce, place{i.Kind, i.Part, 0})
		}
	}
}

// ofOneStaff reports key signatures that are set for one staff of the piano alone and differ from the other's.
func ofOneStaff(p *lint.Inspection, printed map[int]bool) {
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemKey || i.Staff == 0 || i.Measure == 0 || !printed[i.Part] || strings.HasSuffix(i.Reading, lint.NotShown) {
			continue
		}
		alone := !slices.ContainsFunc(p.Score.Items, func(o score.Item) bool {
			return o.Kind == score.ItemKey && o.Part == i.Part && o.Staff != i.Staff && o.Measure == i.Measure && o.Onset == i.Onset
		})
		if alone && p.Score.Parts[i.Part].Staves > 1 {
			p.ReportItem(i, lint.Finding{
				Message: fmt.Sprintf("%s is set for one staff alone", i.Reading), Fix: "set it for all staves, or take it out",
			})
		}
	}
}

// afterAll reports clefs and key signatures after which their staff has not even a rest, within a measure that has some: a reminder for
// what follows at once stands where the file says attacca, and is left alone.
func afterAll(p *lint.Inspection) {
	s := p.Score
	var found []*score.Item
	jumps := false
	for k := range s.Items {
		i := &s.Items[k]
		if (i.Kind == score.ItemWords || i.Kind == score.ItemTempo) && i.Measure+nearEnd > len(s.Measures) && goesOn.MatchString(i.Reading) {
			return
		}
		jumps = jumps || i.Kind == score.ItemJump
		if i.Kind != score.ItemClef && i.Kind != score.ItemKey || i.Measure == 0 && i.Onset.Sign() == 0 || strings.HasSuffix(i.Reading, lint.NotShown) || !p.TextParts()[i.Part] {
			continue
		}
		from, before, later := s.Measures[i.Measure].Start.Add(i.Onset), false, false
		for n := range s.Notes {
			if x := &s.Notes[n]; x.Part == i.Part && (i.Staff == 0 || x.Staff == i.Staff) {
				sooner := s.At(n).Less(from)
				before, later = before || sooner, later || !sooner
			}
		}
		if before && !later {
			found = append(found, i)
		}
	}
	for _, i := range found {
		if jumps && slices.ContainsFunc(s.Items, func(o score.Item) bool {
			return o.Kind == i.Kind && o.Reading == i.Reading && o.Part == i.Part && o.Measure < i.Measure && (i.Kind == score.ItemKey || o.Staff == i.Staff)
		}) {
			continue // a reminder for what is played again
		}
		p.ReportItem(i, lint.Finding{
			Message: fmt.Sprintf("%s is set here, after all notes of its staff", i.Reading), Fix: "take it out, unless something follows at once", Together: "after all",
		})
	}
}

// nearEnd is how many measures from its end a word says that what follows is played at once.
const nearEnd = 4

var goesOn = regexp.MustCompile(`(?i)\b(attac+a|segue|seque)\b`)

// A restatement is a measure of a part at which more than one of clef, key and metre is set: the system begins anew there.
type restatement struct{ part, measure int }

func restatements(p *lint.Inspection) map[restatement]bool {
	kinds := map[restatement]map[score.ItemKind]bool{}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind == score.ItemClef || i.Kind == score.ItemKey || i.Kind == score.ItemMetre {
			at := restatement{i.Part, i.Measure}
			if kinds[at] == nil {
				kinds[at] = map[score.ItemKind]bool{}
			}
			kinds[at][i.Kind] = true
		}
	}
	out := map[restatement]bool{}
	for at, set := range kinds {
		out[at] = len(set) > 1
	}
	return out
}

// overtaken says that nothing is struck on the staves of a sign between it and the next of its kind.
func overtaken(p *lint.Inspection, a, b *score.Item) bool {
	s := p.Score
	from, to := s.Measures[a.Measure].Start.Add(a.Onset), s.Measures[b.Measure].Start.Add(b.Onset)
	if strings.HasSuffix(a.Reading, lint.NotShown) || a.Reading == b.Reading || b.Measure-a.Measure > 1 {
		return false
	}
	for n := range s.Notes {
		x := &s.Notes[n]
		if x.Part == a.Part && (a.Staff == 0 || x.Staff == a.Staff) && x.Measure >= a.Measure && x.Measure <= b.Measure {
			if at := s.At(n); !at.Less(from) && at.Less(to) {
				return false
			}
		}
	}
	return true
}

// reminder says that a section may begin where a sign stands.
func reminder(p *lint.Inspection, i *score.Item) bool {
	if i.Onset.Sign() != 0 || i.Measure == 0 {
		return i.Measure == 0 && i.Onset.Sign() == 0
	}
	if p.Score.Measures[i.Measure].Repeat.Forward || p.Score.Measures[i.Measure-1].Repeat.Backward {
		return true
	}
	for k := range p.Score.Items {
		b := &p.Score.Items[k]
		if b.Kind == score.ItemBarline && (b.Measure == i.Measure-1 || b.Measure == i.Measure && b.Onset.Sign() == 0) {
			return true
		}
	}
	return false
}

// inTime lists what stands on the page by when it stands there: a staff that is written after another goes back.
func inTime(p *lint.Inspection) []int {
	out := make([]int, len(p.Score.Items))
	for k := range out {
		out[k] = k
	}
	slices.SortStableFunc(out, func(a, b int) int {
		x, y := &p.Score.Items[a], &p.Score.Items[b]
		return cmp.Or(cmp.Compare(x.Measure, y.Measure), x.Onset.Cmp(y.Onset))
	})
	return out
}
