package lint

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// InOrderOfTime lists the notes of the piano parts, rests and grace notes included, by when they begin; grace notes
// come before what they lean on, else the order of the document holds. It is one list for all who ask.
func (p *Inspection) InOrderOfTime() []int {
	if p.inTime != nil {
		return p.inTime
	}
	type begins struct {
		at       score.Fraction
		grace, n int
	}
	piano := p.PianoParts()
	order := make([]begins, 0, len(p.Score.Notes))
	for n := range p.Score.Notes {
		if note := &p.Score.Notes[n]; piano[note.Part] {
			order = append(order, begins{p.Score.At(n), isGrace(note), n})
		}
	}
	slices.SortFunc(order, func(a, b begins) int {
		if c := a.at.Cmp(b.at); c != 0 {
			return c
		}
		return cmp.Or(b.grace-a.grace, a.n-b.n)
	})
	p.inTime = make([]int, len(order))
	for i := range order {
		p.inTime[i] = order[i].n
	}
	return p.inTime
}

func isGrace(n *score.Note) int {
	if n.Grace > 0 {
		return 1
	}
	return 0
}

// ReportItem adds a finding about something that stands on the page.
func (p *Inspection) ReportItem(i *score.Item, f Finding) {
	f.Measure, f.Onset, f.Placed, f.Line = i.Measure, i.Onset, true, i.Line
	if i.Note >= 0 {
		f.Notes = []int{i.Note}
	}
	p.Report(f)
}

// Dyadic says that a length can be written without tuplets: halves of halves of a quarter.
func Dyadic(f score.Fraction) bool {
	d := f.Den()
	return d&(d-1) == 0
}

// TieToOther gives the note of another key at which a tie arrives that starts at a note: the next one of its voice.
// -1 where the tie goes on at its key, or nothing takes it up.
func (p *Inspection) TieToOther(n int) int {
	s := p.Score
	note := &s.Notes[n]
	if !note.TieStart || note.TiedTo >= 0 || note.Kind != score.Pitched || note.Grace > 0 {
		return -1
	}
	end := s.At(n).Add(note.Duration)
	found := -1
	for m := n + 1; m < len(s.Notes) && s.Notes[m].Measure <= note.Measure+1; m++ {
		x := &s.Notes[m]
		if x.Part != note.Part || x.Voice != note.Voice || x.Staff != note.Staff || x.Grace > 0 || s.At(m) != end {
			continue
		}
		if x.TieStop && x.TiedFrom < 0 && x.Midi != note.Midi && x.Kind == score.Pitched {
			if found < 0 || p.Semitones(n, m) < p.Semitones(n, found) {
				found = m
			}
		}
	}
	return found
}

// GraceOfKey says that a grace note of its key stands where the tie of a note leads, or before the note to which one
// leads: it is the other end, which files seldom say.
func (p *Inspection) GraceOfKey(n int) bool {
	s := p.Score
	note := &s.Notes[n]
	for m := range s.Notes {
		x := &s.Notes[m]
		if x.Grace == 0 || x.Part != note.Part || x.Midi != note.Midi || x.Kind != score.Pitched {
			continue
		}
		if note.TieStop && s.At(m) == s.At(n) || note.TieStart && s.At(m) == s.At(n).Add(note.Duration) {
			return true
		}
	}
	return false
}

// GraceBefore says that the hand strikes the key of a note as a grace note just before it.
func (p *Inspection) GraceBefore(n int) bool {
	note := &p.Score.Notes[n]
	for m := n - 1; m >= 0 && p.Score.Notes[m].Measure == note.Measure; m-- {
		x := &p.Score.Notes[m]
		if x.Grace > 0 && x.Part == note.Part && x.Midi == note.Midi && x.Kind == score.Pitched && p.Score.At(m) == p.Score.At(n) {
			return true
		}
	}
	return false
}

// FirstLine is where the first note or rest of a measure stands in the file, 0 where it has none.
func (p *Inspection) FirstLine(measure int) int {
	i := slices.IndexFunc(p.Score.Notes, func(n score.Note) bool { return n.Measure == measure })
	if i < 0 {
		return 0
	}
	return p.Score.Notes[i].Line
}

// Readings of items (score.Item) that rules look for.
const (
	EndOfLine     = "end of a line"
	ChangeOfPedal = "change of pedal"
	NotShown      = ", not shown"
)

// NoteValue is how many quarters a note value lasts; false for a word that is none.
func NoteValue(name string) (score.Fraction, bool) {
	value, known := noteValues[name]
	return value, known
}

var noteValues = map[string]score.Fraction{
	"maxima": score.Whole(32), "long": score.Whole(16), "breve": score.Whole(8), "whole": score.Whole(4),
	"half": score.Whole(2), "quarter": score.Whole(1), "eighth": score.Frac(1, 2), "16th": score.Frac(1, 4),
	"32nd": score.Frac(1, 8), "64th": score.Frac(1, 16), "128th": score.Frac(1, 32), "256th": score.Frac(1, 64),
}
