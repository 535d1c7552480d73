// Package repeatwithoutend checks that repeats and endings belong together.
package repeatwithoutend

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a repeat or an ending lacks its other half.
var Rule = &lint.Rule{
	Name:  "repeat-without-end",
	Title: "a repeat or an ending lacks its other half",
	Checks: "Signs to repeat from, each of which needs a sign to repeat back before the next; endings, which " +
		"need the one before them and, where another follows, a sign to repeat back; a first ending that no second " +
		"one follows; brackets of endings that are not closed; signs that stand in one part and are missing in " +
		"another; signs that face away from the measure at whose edge they stand. A sign to repeat back alone goes back to the beginning, or to where a part of the piece begins. " +
		"Where a piece has more than two signs that are missing in a part (more than one, if none stands in all), or " +
		"more than one first ending that no second one follows, that is how it is written. " +
		"As a note, an order of playing that the file gives (MEI's expansion) and no sign on the page says.",
	Why:      "Nobody knows what is played again.",
	Before:   "a sign to repeat from in m. 5, none to repeat back after it",
	After:    "the sign to repeat back at the end of m. 12",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

const (
	fix        = "put in the missing sign"
	repeatBack = "sign to repeat back" // how readings of such signs begin
)

func run(p *lint.Inspection) {
	reportWith := func(measure int, message, fix string) {
		p.Report(lint.Finding{
			Measure: measure, Line: line(p, measure), Message: message, Fix: fix, Together: message,
		})
	}
	report := func(measure int, message string) { reportWith(measure, message, fix) }
	turned(p)
	open, lastBack, ms := -1, -1, p.Score.Measures
	var unopened [][2]int // where a repeat ends that has not begun, and where the one before it ends
	plain := false        // a double barline stands where it would begin
	begun := false        // the last repeat that ended had a sign at its beginning
	forwards := 0
	for i := range ms {
		m := &ms[i]
		if m.Repeat.Forward {
			forwards++
			if open >= 0 {
				report(open, "a repeat begins here and does not end before the next one begins in m. "+m.Number+sectionEnds(p.Score, open, i-1))
			}
			open = i
		}
		if m.Repeat.Backward {
			if open < 0 && i > 0 && lastBack >= 0 && len(m.Endings) == 0 && !slices.Contains(ms[i-1].Endings, 1) &&
				!partBegins(p.Score, after(ms, lastBack), i) {
				unopened = append(unopened, [2]int{i, lastBack})
				plain = plain || begun || doubleAt(p.Score, after(ms, lastBack))
			}
			if open < 0 && lastBack < 0 {
				overFine(p, i)
				overKey(p, i)
			}
			if open >= 0 {
				over(p, open, i)
			}
			open, lastBack, begun = -1, i, open >= 0
		}
		if len(m.Endings) == 0 {
			continue
		}
		if i > 0 && slices.Equal(ms[i-1].Endings, m.Endings) {
			if ms[i-1].Repeat.Backward {
				reportWith(i, "an ending follows the repeat and has the number of the one before it", "number the endings anew")
			}
			continue
		}
		if first := slices.Min(m.Endings); first > 1 && (i == 0 || !slices.Contains(ms[i-1].Endings, first-1)) {
			report(i, "an ending stands here without the one before it")
		}
		last := i
		for last+1 < len(ms) && slices.Equal(ms[last+1].Endings, m.Endings) {
			last++
		}
		if last+1 < len(ms) && len(ms[last+1].Endings) > 0 && !ms[last].Repeat.Backward {
			report(last, "an ending is over here and another follows, but no sign to repeat back stands between")
		}
		if last+1 < len(ms) && slices.Equal(m.Endings, []int{1}) && len(ms[last+1].Endings) == 0 &&
			!slices.ContainsFunc(ms[i:last+1], func(m score.Measure) bool { return m.Repeat.Backward }) {
			report(last, "the first ending is over here, with no sign to repeat back, and no second one follows")
		}
	}
	if open >= 0 {
		report(open, "a repeat begins here, and no sign ends it"+sectionEnds(p.Score, open, len(ms)-1))
	}
	// Older print leaves out the sign at a second part; where all others of several have it, one is missing.
	if len(unopened) == 1 && (forwards > 1 || forwards == 1 && fromStart(p.Score) || plain) {
		at, before := unopened[0][0], unopened[0][1]
		p.Report(lint.Finding{
			Measure: after(ms, before), Line: p.FirstLine(after(ms, before)), Fix: fix, Severity: lint.Note,
			Message: fmt.Sprintf("no repeat begins here, after the one that ends in m. %s, and one ends in m. %s", ms[before].Number, ms[at].Number),
		})
	}
	beforeAll(p)
	brackets(p)
	barlines(p)
	inParts(p)
	oneEnding(p)
}

// after is the measure that follows a repeat, and the endings after it.
func after(ms []score.Measure, back int) int {
	next := back + 1
	for next+1 < len(ms) && len(ms[back].Endings) > 0 && len(ms[next].Endings) > 0 && slices.Min(ms[next].Endings) > slices.Max(ms[back].Endings) {
		next++
	}
	return next
}

// beforeAll reports a sign to repeat back before the first note: nothing stands there to be repeated.
func beforeAll(p *lint.Inspection) {
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind == score.ItemRepeat && i.Measure == 0 && i.Onset.Sign() == 0 && strings.HasPrefix(i.Reading, repeatBack) {
			p.ReportItem(i, lint.Finding{Message: "a sign to repeat back stands before the first note", Fix: "take it out, or turn it round"})
			return
		}
	}
}

// doubleAt says that a double barline begins a measure, beside the sign to repeat back that ends the one before it.
func doubleAt(s *score.Score, measure int) bool {
	return slices.ContainsFunc(s.Items, func(i score.Item) bool {
		return i.Kind == score.ItemBarline && i.Measure == measure && i.Onset.Sign() == 0 && i.Reading == "double barline"
	})
}

// overFine reports a sign to repeat back, the first of a piece, that goes back to its beginning over a Fine, where a double
// barline parts what follows: it is that part which is repeated, and its beginning lacks the sign.
func overFine(p *lint.Inspection, back int) {
	s := p.Score
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemJump && i.Kind != score.ItemWords || i.Measure >= back || !fine.MatchString(i.Reading) {
			continue
		}
		for b := range s.Items {
			j := &s.Items[b]
			if j.Kind == score.ItemBarline && edge[j.Reading] && (j.Measure == i.Measure && j.Onset.Sign() > 0 || j.Measure == i.Measure+1 && j.Onset.Sign() == 0) {
				p.Report(lint.Finding{
					Severity: lint.Note, Measure: back, Line: line(p, back), Fix: fix,
					Message: fmt.Sprintf("a repeat ends here, and none begins after the Fine in m. %s: it goes back over it to the beginning", s.Measures[i.Measure].Number),
				})
				return
			}
		}
	}
}

// overKey reports a sign to repeat back, the first of a piece, that goes back to its beginning over a change of key or metre and a
// double barline after it: what is repeated begins at that barline, and the sign is missing there.
func overKey(p *lint.Inspection, back int) {
	s := p.Score
	changes, double := 0, 0
	for k := range s.Items {
		i := &s.Items[k]
		at := i.Measure // the measure before which it stands
		if i.Kind == score.ItemBarline && i.Onset.Sign() > 0 {
			at++
		}
		switch {
		case at < shortPart || at > back+1-shortPart:
		case (i.Kind == score.ItemKey || i.Kind == score.ItemMetre) && changes == 0:
			changes = at
		case i.Kind == score.ItemBarline && edge[i.Reading]:
			double = max(double, at)
		}
	}
	if changes > 0 && double >= changes {
		p.Report(lint.Finding{
			Severity: lint.Note, Measure: double, Line: p.FirstLine(double), Fix: fix,
			Message: fmt.Sprintf("no repeat begins here, after a double barline, and the one that ends in m. %s goes back to the beginning, over the change in m. %s",
				s.Measures[back].Number, s.Measures[changes].Number),
		})
	}
}

// shortPart is how many measures a part of a piece has at least.
const shortPart = 4

var fine = regexp.MustCompile(`(?i)^\W*fine\W*$`)

// over reports a repeat that goes over the heading of another part of the piece, a trio or a variation: as a rule each part is
// repeated for itself, and a sign is missing between.
func over(p *lint.Inspection, from, to int) {
	s := p.Score
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind == score.ItemWords && i.Measure > from && i.Measure <= to && i.Onset.Sign() == 0 && trio.MatchString(i.Reading) {
			p.Report(lint.Finding{
				Severity: lint.Note, Measure: from, Line: line(p, from), Fix: fix,
				Message: fmt.Sprintf("the repeat that begins here goes over “%.30s” in m. %s and ends in m. %s; its part of the piece ends with m. %s",
					i.Reading, s.Measures[i.Measure].Number, s.Measures[to].Number, s.Measures[i.Measure-1].Number),
			})
			return
		}
	}
}

var trio = regexp.MustCompile(`(?i)^\W*(trio\b|var(iation|iazione|\.|:)|finale\b|coda\b)`)

// edge are barlines at which a part of a piece ends (common practice).
var edge = map[string]bool{"double barline": true, "final barline": true, "double heavy barline": true}

// sectionEnds says where the part of the piece that begins with a measure ends, no later than another: at the first double
// barline, or before the first heading or change of key.
func sectionEnds(s *score.Score, from, to int) string {
	end := to
	for k := range s.Items {
		i := &s.Items[k]
		at := i.Measure // the measure that it ends
		if i.Onset.Sign() == 0 {
			at--
		}
		switch {
		case at < from || at >= end:
		case i.Kind == score.ItemBarline && edge[i.Reading], i.Kind == score.ItemKey && i.Onset.Sign() == 0,
			(i.Kind == score.ItemWords || i.Kind == score.ItemTempo) && score.HeadsPart(i.Reading):
			end = at
		}
	}
	return "; its part of the piece ends with m. " + s.Measures[end].Number
}

// fromStart says that even the repeat at the beginning of a piece, which needs no sign, has one.
func fromStart(s *score.Score) bool {
	return s.Measures[0].Repeat.Forward || len(s.Measures) > 1 && s.Measures[1].Repeat.Forward
}

// inParts reports signs to repeat that stand in one part and are missing in another which has one elsewhere, or in all of
// the piano, or nowhere else.
func inParts(p *lint.Inspection) {
	s := p.Score
	type sign struct {
		measure int
		back    bool
	}
	has := map[sign]map[int]*score.Item{}
	var order []sign
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemRepeat {
			continue
		}
		x := sign{i.Measure, strings.HasPrefix(i.Reading, repeatBack)}
		if has[x] == nil {
			has[x] = map[int]*score.Item{}
			order = append(order, x)
		}
		has[x][i.Part] = i
	}
	parts := map[int]bool{} // that have notes
	for n := range s.Notes {
		parts[s.Notes[n].Part] = true
	}
	whole := 0
	var found []*score.Item
	for _, x := range order {
		if len(has[x]) == len(parts) {
			whole++
			continue
		}
		for _, part := range slices.Sorted(maps.Keys(has[x])) {
			found = append(found, has[x][part])
			break
		}
	}
	if whole == 0 && len(found) > 1 || len(found) > 2 {
		return // the file writes them in one part alone
	}
	for _, i := range found {
		p.ReportItem(i, lint.Finding{
			Message: fmt.Sprintf("a %s stands in the part %q and not in every other", i.Reading, s.Parts[i.Part].Name), Fix: fix,
		})
	}
}

// oneEnding reports a first ending that no other follows.
func oneEnding(p *lint.Inspection) {
	ms := p.Score.Measures
	var found []int
	for i := range len(ms) - 1 {
		if ms[i].Repeat.Backward && slices.Equal(ms[i].Endings, []int{1}) && len(ms[i+1].Endings) == 0 {
			found = append(found, i)
		}
	}
	if len(found) > 1 {
		return
	}
	for _, i := range found {
		p.Report(lint.Finding{
			Measure: i, Line: line(p, i), Fix: "put in the second ending", Severity: lint.Note,
			Message: "the first ending is over here, and no second one follows",
		})
	}
}

// partBegins says that a part of the piece begins between two measures, both included: with a heading, a tempo, a key or
// metre of its own, or after a barline. The repeat goes back to it.
func partBegins(s *score.Score, from, to int) bool {
	for k := range s.Items {
		i := &s.Items[k]
		if i.Measure < from || i.Measure > to || i.Onset.Sign() != 0 {
			continue
		}
		switch i.Kind {
		case score.ItemBarline:
			if i.Measure == from && i.Reading == "double barline" {
				continue // beside the one of the repeat that ends there
			}
			return true
		case score.ItemKey, score.ItemMetre, score.ItemRehearsal, score.ItemMetronome:
			return true
		case score.ItemWords, score.ItemTempo:
			if i.Kind == score.ItemTempo && i.Measure == from || score.HeadsPart(i.Reading) {
				return true
			}
		}
	}
	return false
}

// barlines reports barlines that look like the edge of a repeat, heavy and light, where no sign to repeat stands.
func barlines(p *lint.Inspection) {
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemBarline || i.Reading != "heavy and light barline" || i.Measure == 0 {
			continue
		}
		m := p.Score.Measures[i.Measure]
		next := i.Measure + 1
		if m.Repeat.Forward || i.Onset.Sign() > 0 && next < len(p.Score.Measures) && p.Score.Measures[next].Repeat.Forward {
			continue
		}
		p.ReportItem(i, lint.Finding{
			Message: "the barline is the one of a repeat that begins, and no sign to repeat stands at it", Fix: fix,
			Together: "barline of a repeat", Severity: lint.Note,
		})
	}
}

// brackets reports brackets of endings that lack their other half.
func brackets(p *lint.Inspection) {
	for k := range p.Score.Items {
		if i := &p.Score.Items[k]; i.Kind == score.ItemEnding && i.End == nil {
			p.ReportItem(i, lint.Finding{Message: "the bracket of an ending is opened here and not closed", Fix: fix})
		}
	}
	p.ReportOddities(p.Score.Oddities, score.OddEnding)
	for _, o := range p.Score.Oddities {
		if o.Kind == score.OddOrder {
			p.Report(lint.Finding{
				Severity: lint.Note, Measure: o.Measure, Line: o.Line, Message: o.Detail, Together: o.Detail, Fix: fix,
			})
		}
	}
}

// line is where a measure's first sign stands in the file, 0 where none is known.
func line(p *lint.Inspection, measure int) int {
	for k := range p.Score.Items {
		if i := &p.Score.Items[k]; i.Measure == measure && (i.Kind == score.ItemRepeat || i.Kind == score.ItemEnding) {
			return i.Line
		}
	}
	return 0
}
