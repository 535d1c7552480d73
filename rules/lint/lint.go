// Package lint is the frame of the rules: a rule is a value with its own
// documentation, an Inspection holds everything a rule may look at, a Finding is
// what it reports. Rules live one folder each below this one.
package lint

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// Severity of a finding.
type Severity uint8

// The severities, mildest first.
const (
	Off Severity = iota
	Note
	Warning
	Error
)

var severityNames = [...]string{"off", "note", "warning", "error"}

// String gives the word used in files.
func (s Severity) String() string { return severityNames[s] }

// ParseSeverity reads the word used in files.
func ParseSeverity(word string) (Severity, bool) {
	for i, name := range severityNames {
		if name == word {
			return Severity(i), true
		}
	}
	return Off, false
}

// Rule is one check as a value: its documentation is data, so that help,
// pages and machine formats all read the same text.
type Rule struct {
	Name     string // kebab-case, in the trade's words
	Title    string // one line
	Checks   string // what it checks
	Why      string // why an editor cares
	Before   string // an example that is reported, in words or notes
	After    string // the same put right
	Severity Severity
	Since    string   // version of this program
	Options  []string // keys of the policy that change what it reports
	Run      func(*Inspection)
}

// Inspection is everything a rule may look at in one piece, and takes what it finds. All slices run parallel to
// Score.Notes.
type Inspection struct {
	Score   *score.Score
	Playing *playing.Playing // who plays which note, in what order
	Finger  []int            // worked out or given; 0 where there is none
	Given   []int            // the finger that the text gives and that binds, 0 if none
	Reason  []string         // why there is none, or why it is beyond the hand
	// FitsHand says whether two fingers of the hand in question can hold two keys,
	// lower key first, and names the hand in print.
	FitsHand     func(hand score.Hand, lowKey, highKey, lowFinger, highFinger int) bool
	HandName     string
	SignLanguage string // of hand signs: it, fr, en or de
	Tempo        Tempo
	Remarks      []Remark // what was found of the editors' decisions

	Whose   [][]score.Responsibility // of each indication of each note; Open: worked out in an earlier run, not decided
	Profile hand.Profile             // the hand the edition is fingered for
	Micros  []int64                  // when each note begins, in microseconds, at the fast end of the tempo
	Ends    []int64                  // when it ends as written
	Slurred []bool                   // a slur joins the note to the next of its voice
	Print   []bool                   // a digit is added here; nil: none
	Pedal   []bool                   // worked out: the key is let go early and left to the pedal
	Apart   []bool                   // declared to be fingered otherwise than where it stood before; nil: none
	// RepeatMicros is the time that one finger needs to strike a key again on the policy's instrument.
	RepeatMicros  int64
	ChangeMillis  int                                  // the time a silent change of finger needs
	PlacesOutside bool                                 // right hand's digits above, left hand's below
	FewDigits     bool                                 // the style prints a digit only where the hand moves
	Looks         map[score.Responsibility]score.Style // of the policy, or of the edition that is read
	// Legend says that the document is an edition whose looks are known: each digit must have one of them.
	Legend bool
	Agents map[string]bool // initials and sigla that are declared; nil: nothing is
	// Decided are the fingers that an editor decided for each note, then those changed to; nil: nothing anywhere.
	Decided [][]int
	// DecidedBy are the initials of who decided a note's digit, "" where nobody has; nil: nobody anywhere.
	DecidedBy       []string
	Returns         []parallel.Return
	Redistributions []fingering.Redistribution
	Collapses       []Collapse
	Witnesses       []Witness
	Options         Options

	countings []Counting
	pedals    map[int]score.Spans // by part: when a pedal is down
	rule      *Rule
	severity  Severity
	found     []Finding
}

// Remark is what the placing of decisions has to say; the rule of that name
// reports it.
type Remark struct {
	Rule    string
	Notes   []int // indices of the notes concerned
	Message string
	Fix     string
}

// Collapse is a passage whose fingering serves in practice and does not hold at
// the tempo: notes in the order of playing, each with that finger.
type Collapse struct{ Notes, Fingers []int }

// Tempo says how sure the speed is.
type Tempo struct {
	Marked bool // from a metronome mark; otherwise inferred
}

// Options are the thresholds that a policy sets.
type Options struct {
	ReachShare int    // percent of adult pianists who should be able to take a grip
	WideSpan   int    // percent of what a pair of fingers can span from which a span is wide
	Returns    string // which passages that return should be fingered alike: exact, transposed, all
}

// Witness is a source of the piece, aligned to the score by its music.
type Witness struct {
	Siglum string
	Score  *score.Score
	// Note gives for each note of the piece its note in the witness, -1 for none; Back is the reverse. Covered says
	// that the witness has no note of its own but the key sounds there all the same (a tie split, a unison merged).
	Note, Back []int
	Covered    []bool
	// BackCovered is Covered for the notes of the witness.
	BackCovered    []bool
	Responsibility score.Responsibility // of the digits that stand in it
}

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
			p.Report(Finding{Notes: r.Notes, Message: r.Message, Fix: r.Fix})
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
		if o.Note >= 0 {
			f.Notes = []int{o.Note}
		}
		p.Report(f)
	}
}

// Run runs rules over an inspection, each at the severity that severities gives for
// its name (its own where the name is missing), and returns the findings
// sorted by place, then by rule.
func Run(p *Inspection, rules []*Rule, severities map[string]Severity) []Finding {
	p.found = nil
	for _, r := range rules {
		s, set := severities[r.Name]
		if !set {
			s = r.Severity
		}
		if s == Off {
			continue
		}
		p.rule, p.severity = r, s
		r.Run(p)
	}
	Sort(p.found)
	return p.found
}
