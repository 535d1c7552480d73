// Package linewithoutend checks that hairpins, pedals and octave lines begin and end.
package linewithoutend

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a hairpin, a pedal or an octave line has no end or no beginning.
var Rule = &lint.Rule{
	Name:  "line-without-end",
	Title: "a hairpin, a pedal or an octave line has no end or no beginning",
	Checks: "Hairpins, pedals, octave lines, trill lines, glissandos and tremolos between two notes, " +
		"followed in time and by their numbers: each that begins must end, later than it begins, and none " +
		"may end that has not begun. A pedal that is taken anew counts as let go before, unless most others of the " +
		"piece are let go by a sign; con Ped. has no end. A pedal that lasts eight measures or more, and four " +
		"times as long as any other, has lost a sign on the way. A change of pedal where none is down, and an octave line whose signs name other sizes.",
	Why: "Nobody can see how far it goes; engraving draws it to the end of the system or drops it. Under an octave line " +
		"the keys themselves are in doubt.",
	Before:   "an octave line that starts in m. 3 and no stop",
	After:    "the stop at the last note meant",
	Severity: lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

var names = map[score.ItemKind]string{
	score.ItemHairpin: "a hairpin", score.ItemPedal: "a pedal", score.ItemOctaveLine: "an octave line",
}

const fix = "put in what is missing, or take it out"

func run(p *lint.Inspection) {
	printed := p.TextParts()
	for _, o := range p.Score.Oddities {
		if o.Kind == score.OddLine && printed[o.Part] {
			f := lint.Finding{Measure: o.Measure, Line: o.Line, Message: o.Detail, Fix: fix}
			if o.Note >= 0 {
				f.Notes = []int{o.Note}
			}
			p.Report(f)
		}
	}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		name := names[i.Kind]
		if name == "" || !printed[i.Part] {
			continue
		}
		if strings.TrimSuffix(i.Reading, lint.NotShown) == lint.ChangeOfPedal {
			if i.Reading == lint.ChangeOfPedal && !pedalDown(p, i) {
				p.ReportItem(i, lint.Finding{Message: "a pedal is changed, but has not begun", Fix: fix, Together: lint.ChangeOfPedal})
			}
			continue
		}
		what, since := "", ""
		switch {
		case i.Reading == lint.EndOfLine && beginsAfter(p, i):
			continue // told where it begins
		case i.Reading == lint.EndOfLine:
			what = "ends, but has not begun"
			since = lastBefore(p, k)
		case i.End != nil && withoutExtent(p, i):
			what = "ends where it begins"
		case i.End == nil && i.Kind == score.ItemPedal && inGeneral(p, i):
			continue
		case i.End == nil && (i.Kind != score.ItemPedal || !takenAnew(p, k) || released(p, i.Part)):
			what = "begins, but does not end"
		case i.Kind == score.ItemPedal && i.End != nil && tooLong(p, i):
			what = fmt.Sprintf("lasts %d measures, no other in the piece more than %d", measures(i), longestBut(p, i))
		default:
			continue
		}
		if i.Kind == score.ItemOctaveLine && (i.End == nil || i.Reading == lint.EndOfLine) {
			since += serves(p, i)
		}
		message := fmt.Sprintf("%s %s", name, what)
		p.ReportItem(i, lint.Finding{
			Message: message + since, Fix: fix, Together: message,
		})
	}
}

// pedalDown says that a pedal of a part has begun before a moment and has not ended before it, or is changed before.
func pedalDown(p *lint.Inspection, at *score.Item) bool {
	moment := func(measure int, onset score.Fraction) score.Fraction {
		return p.Score.Measures[measure].Start.Add(onset)
	}
	now := moment(at.Measure, at.Onset)
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i == at || i.Kind != score.ItemPedal || i.Part != at.Part || i.Reading == lint.EndOfLine || now.Less(moment(i.Measure, i.Onset)) {
			continue
		}
		if i.End == nil || !moment(i.End.Measure, i.End.Onset).Less(now) {
			return true // of changes, the first is told
		}
	}
	return false
}

// lastBefore says since when a line has not begun: where the last of its kind on its staff before it is over; "" where it is the first.
func lastBefore(p *lint.Inspection, end int) string {
	e := &p.Score.Items[end]
	last := -1
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if k == end || i.Kind != e.Kind || i.Part != e.Part || i.Staff != e.Staff || i.Reading == lint.EndOfLine || i.End == nil {
			continue
		}
		if i.End.Measure <= e.Measure && i.End.Measure > last {
			last = i.End.Measure
		}
	}
	if last < 0 || last == e.Measure {
		return ""
	}
	return " since m. " + p.Score.Measures[last].Number
}

// beginsAfter says that a line of the same kind begins after an end that has not begun, no more than a half
// later, and does not end: the two were set in the wrong order.
func beginsAfter(p *lint.Inspection, end *score.Item) bool {
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind == end.Kind && i.Part == end.Part && i.Staff == end.Staff && i.Reading != lint.EndOfLine && i.End == nil &&
			after(p, end, i) {
			return true
		}
	}
	return false
}

func after(p *lint.Inspection, end, begin *score.Item) bool {
	by := p.Score.Measures[begin.Measure].Start.Add(begin.Onset).Sub(p.Score.Measures[end.Measure].Start.Add(end.Onset))
	return by.Sign() > 0 && by.Cmp(score.Whole(2)) < 0
}

// withoutExtent says that a line ends at the moment at which it begins, though a note or rest of its staff lasts on: a
// hairpin on one note ends with the note.
func withoutExtent(p *lint.Inspection, i *score.Item) bool {
	return i.End.Measure == i.Measure && i.End.Onset == i.Onset && i.Onset.Less(p.Score.Measures[i.Measure].Length)
}

// released says that of the pedals of a part all but one, or two in three, are let go by a sign of their own, and that there
// are some.
func released(p *lint.Inspection, part int) bool {
	all, ended := 0, 0
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind == score.ItemPedal && i.Part == part && i.Reading != lint.ChangeOfPedal && i.Reading != lint.EndOfLine {
			all++
			if i.End != nil {
				ended++
			}
		}
	}
	const slips = 2 // a release that was set as a sign to take the pedal leaves two
	return all >= 5 && ended*3 >= all*2 || all >= 2 && ended == all-1 || ended >= slips && all-ended <= slips
}

var general = regexp.MustCompile(`(?i)^\W*(con|col|mit|avec|with|sempre|simile|sim\.)\W*(il\s+)?(p[eé]d\S*)?\W*(simile|sempre)?\W*$`)

// inGeneral says that a word beside a pedal sign makes it a direction for all that follows, as in con Ped.
func inGeneral(p *lint.Inspection, i *score.Item) bool {
	return slices.ContainsFunc(p.Score.Directions, func(d score.Direction) bool {
		return d.Kind == score.Words && d.Part == i.Part && d.Measure == i.Measure && d.Onset == i.Onset && general.MatchString(d.Text)
	})
}

// A pedal is too long from so many measures on, where it is so many times as long as any other of the piece.
const (
	longPedal  = 8
	longerThan = 4
)

// tooLong says that a pedal lasts much longer than any other of its part: the sign that let it go, or the one that took it
// anew, is lost.
func tooLong(p *lint.Inspection, i *score.Item) bool {
	if measures(i) < longPedal {
		return false
	}
	other := longestBut(p, i)
	return other > 0 && measures(i) >= longerThan*other
}

// measures is how many measures a line touches; it ends.
func measures(i *score.Item) int { return i.End.Measure - i.Measure + 1 }

// longestBut is how many measures the longest of the other pedals of a part lasts; 0 where none has an end.
func longestBut(p *lint.Inspection, but *score.Item) (longest int) {
	for k := range p.Score.Items {
		if i := &p.Score.Items[k]; i != but && i.Kind == score.ItemPedal && i.Part == but.Part && i.End != nil {
			longest = max(longest, measures(i))
		}
	}
	return longest
}

// takenAnew says that the next pedal sign of the part begins or changes the pedal: players lift it before.
func takenAnew(p *lint.Inspection, k int) bool {
	from := &p.Score.Items[k]
	after := func(i *score.Item) bool {
		return i.Measure > from.Measure || i.Measure == from.Measure && from.Onset.Less(i.Onset)
	}
	for j := range p.Score.Items {
		i := &p.Score.Items[j]
		if i.Kind == score.ItemPedal && i.Part == from.Part && after(i) {
			return true
		}
	}
	return false
}
