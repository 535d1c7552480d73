package lint

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// Finding is something about the music that an editor should see.
type Finding struct {
	Rule     string
	Severity Severity
	Message  string // one line that stands alone, without the place
	Notes    []int  // indices of the notes concerned, the first one is the place
	Measure  int
	Onset    score.Fraction
	Hand     score.Hand
	Placed   bool // it stands at Onset though it names no note: a sign, a text
	Line     int
	Column   int
	Fix      string // what would put it right, in words
	// Together is what findings of one rule have in common that are told as one, at the first place with the measures
	// of the others (Together); empty: each stands for itself.
	Together string
	Again    []int // measures of the others
	// There is, in short, what stands at this place: where findings are told together that say as much of other notes, it stands
	// with the measures of each of the others.
	There string
	// At are notes by which an editor lets it stand, one for each place: where it is told of several places, or of a
	// measure as a whole. Else it is the first of Notes.
	At []int
	// Edit is the same for a machine, set where the fix is safe: it moves,
	// reorders or restyles digits that stand, and changes none. Nil where only
	// a person can decide.
	Edit []score.Mark
}

// Report adds a finding at its first note. A rule may lower the severity it
// was run with through Finding.Severity; it cannot raise it.
func (p *Inspection) Report(f Finding) {
	f.Rule = p.rule.Name
	if f.Severity == Off || f.Severity > p.severity {
		f.Severity = p.severity
	}
	if len(f.Notes) > 0 {
		n := &p.Score.Notes[f.Notes[0]]
		f.Measure, f.Onset, f.Hand = n.Measure, n.Onset, p.Playing.Hand(f.Notes[0])
		if f.Line == 0 {
			f.Line, f.Column = n.Line, n.Column
		}
	}
	p.found = append(p.found, f)
}

// FoundAt says that a rule that ran before names a note.
func (p *Inspection) FoundAt(n int) bool {
	return slices.ContainsFunc(p.found, func(f Finding) bool { return f.Severity > Note && slices.Contains(f.Notes, n) })
}

// Found says that a rule that ran before, or the one that runs, names two notes together.
func (p *Inspection) Found(n, m int) bool {
	return slices.ContainsFunc(p.found, func(f Finding) bool { return slices.Contains(f.Notes, n) && slices.Contains(f.Notes, m) })
}

// ReportSign adds a finding that names no note at a direction of the score: a
// sign, a text, the end of a line.
func (p *Inspection) ReportSign(direction int, f Finding) {
	d := &p.Score.Directions[direction]
	f.Measure, f.Onset, f.Hand, f.Placed, f.Line, f.Column = d.Measure, d.Onset, d.Hand, true, d.Line, d.Column
	p.Report(f)
}

// ReportRemarks reports what was found of the editors' decisions for the rule that runs.
func (p *Inspection) ReportRemarks() {
	for _, r := range p.Remarks {
		if r.Rule == p.rule.Name {
			f := Finding{Notes: r.Notes, Message: r.Message, Fix: r.Fix}
			if r.Mild {
				f.Severity = Note
			}
			p.Report(f)
		}
	}
}

// ReportOddities reports, of what the reader of the score found odd, what is of some kinds.
func (p *Inspection) ReportOddities(oddities []score.Oddity, kinds ...score.OddityKind) {
	for _, o := range oddities {
		if !slices.Contains(kinds, o.Kind) {
			continue
		}
		f := Finding{Measure: o.Measure, Line: o.Line, Message: o.Detail}
		if o.Kind == score.OddMeasureLength {
			f.Together = o.Detail
		}
		if o.Note >= 0 {
			f.Notes = []int{o.Note}
		}
		p.Report(f)
	}
}

// Sort brings findings into their one order: measure, onset, rule, first
// note, message. The more severe comes first at the same place.
func Sort(f []Finding) {
	slices.SortStableFunc(f, func(a, b Finding) int { return Compare(&a, &b) })
}

// Compare says which of two findings is told first: by place, the graver before the lighter.
func Compare(a, b *Finding) int {
	return cmp.Or(
		cmp.Compare(a.Measure, b.Measure),
		a.Onset.Cmp(b.Onset),
		-cmp.Compare(a.Severity, b.Severity),
		cmp.Compare(a.Rule, b.Rule),
		cmp.Compare(firstNote(a), firstNote(b)),
		cmp.Compare(a.Message, b.Message),
	)
}

func firstNote(f *Finding) int {
	if len(f.Notes) == 0 {
		return -1
	}
	return f.Notes[0]
}
