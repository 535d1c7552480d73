// Package notationodd passes on where the notation contradicts itself.
package notationodd

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports ties to nowhere, impossible pitches and their like.
var Rule = &lint.Rule{
	Name:  "notation-odd",
	Title: "the notation contradicts itself",
	Checks: "Ties without a note to go on to, ties that are drawn and do not sound or the reverse, pitches off the keyboard, " +
		"a key twice in one chord, ids used twice; articulations and ornaments at a rest, mordents and accents at tied notes, staccato at a note that is tied on, a dot and a " +
		"wedge at one note; a note that sounds and is not printed between notes that are; a note that is alone in its voice and " +
		"fills a gap of another; signs shifted beyond their measure; heads of notes as no piano has. Of these, what a piece has more than twice is how it is written. " +
		"Ties over the barline of a measure that does not add up are left alone: the measure is reported; so is a tie " +
		"that is taken up again after a gap, as where a harp-like chord builds up, and one at a note that another voice doubles and ties.",
	Why:      "The fingering of a passage stands on such signs: a lost tie asks for a stroke that nobody hears.",
	Before:   "C4 with a tie that starts, no C4 after it",
	After:    "the tie taken out, or its second note put in",
	Severity: lint.Note,
	Since:    "0.1",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	var own []score.Oddity
	wrong, gaps := lengthless(p.Score), overGaps(p.Score)
	for _, o := range p.Score.Oddities {
		if o.Kind == score.OddTie && o.Note >= 0 && p.GraceOfKey(o.Note) {
			gaps[o.Note] = true
		}
	}
	doubledHeads(p.Score, gaps)
	for n := range p.Score.Notes { // a tie to another pitch is another rule's
		if m := p.TieToOther(n); m >= 0 {
			gaps[n], gaps[m] = true, true
		}
	}
	for _, o := range p.Score.Oddities {
		if o.Kind != score.OddTie || !gaps[o.Note] && !overBarline(p.Score, wrong, o.Note) {
			own = append(own, o)
		}
	}
	p.ReportOddities(own, score.OddTie, score.OddPitch, score.OddDuplicateID, score.OddTieSign)
	keysTwice(p)
	atRests(p)
	against(p)
	onTies(p)
	struckAtTies(p)
	notPrinted(p)
	tornVoices(p)
	beyond(p)
	heads(p)
}

// keysTwice reports keys that stand twice in one chord on one stem.
func keysTwice(p *lint.Inspection) {
	s := p.Score
	head := -1
	for n := range s.Notes {
		x := &s.Notes[n]
		if !x.Chord {
			head = n
		}
		if !x.Chord || head < 0 || x.Kind != score.Pitched || !p.Shows(n) {
			continue
		}
		for m := head; m < n; m++ {
			if o := &s.Notes[m]; o.Kind == score.Pitched && o.Midi == x.Midi && !o.Hidden && o.Staff == x.Staff {
				p.Report(lint.Finding{
					Notes:   []int{n, m},
					Message: fmt.Sprintf("the key of %s stands twice in one chord", x.Pitch), Fix: "correct one of the two, or take it out",
				})
				break
			}
		}
	}
}

// doubledHeads adds the notes with a tie to nowhere at whose moment another note stands on the key, in another voice, with
// a tie that joins: the key goes on, and the second sign is that of the doubled notehead.
func doubledHeads(s *score.Score, joined map[int]bool) {
	for _, o := range s.Oddities {
		if o.Kind != score.OddTie || o.Note < 0 {
			continue
		}
		n := &s.Notes[o.Note]
		for m := range s.Notes {
			x := &s.Notes[m]
			if m != o.Note && x.Measure == n.Measure && x.Part == n.Part && x.Midi == n.Midi && x.Kind == score.Pitched &&
				x.Onset == n.Onset && (n.TieStart && x.TiedTo >= 0 || n.TieStop && x.TiedFrom >= 0) {
				joined[o.Note] = true
			}
		}
	}
}

// lengthless says of each measure whether it does not add up.
func lengthless(s *score.Score) []bool {
	out := make([]bool, len(s.Measures))
	for _, o := range s.Oddities {
		if o.Kind == score.OddMeasureLength {
			out[o.Measure] = true
		}
	}
	return out
}

// overBarline says that a tie leads to or from the barline of a measure that
// does not add up: then the tie is not at fault, and another rule speaks.
func overBarline(s *score.Score, wrong []bool, n int) bool {
	if n < 0 {
		return false
	}
	note := &s.Notes[n]
	m := &s.Measures[note.Measure]
	end := note.Onset.Add(note.Duration)
	if note.TieStart && wrong[note.Measure] && (end == m.Nominal || end == m.Length) {
		return true
	}
	return note.TieStop && note.Onset.Sign() == 0 && note.Measure > 0 && wrong[note.Measure-1]
}

// overGaps finds ties that start at a note and are taken up by a later one of the same key after a gap: in its measure
// or the next, with no other note of the key between. A chord that builds up and is held is written so.
func overGaps(s *score.Score) map[int]bool {
	out := map[int]bool{}
	for _, o := range s.Oddities {
		if o.Kind != score.OddTie || o.Note < 0 || !s.Notes[o.Note].TieStart || s.Notes[o.Note].TiedTo >= 0 {
			continue
		}
		n := &s.Notes[o.Note]
		next := -1 // the next note of the key
		for m := range s.Notes {
			x := &s.Notes[m]
			if x.Part == n.Part && x.Midi == n.Midi && x.Kind == score.Pitched && x.Measure-n.Measure <= 1 &&
				s.At(o.Note).Less(s.At(m)) && (next < 0 || s.At(m).Less(s.At(next))) {
				next = m
			}
		}
		if next >= 0 && s.Notes[next].TieStop && s.Notes[next].TiedFrom < 0 {
			out[o.Note], out[next] = true, true
		}
	}
	return out
}
