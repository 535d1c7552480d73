// Package slurwithoutend checks that slurs begin and end.
package slurwithoutend

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a slur has no end or no beginning.
var Rule = &lint.Rule{
	Name:  "slur-without-end",
	Title: "a slur has no end or no beginning",
	Checks: "Slurs in the piano parts, followed in time and by their numbers, whichever voice writes them: each that " +
		"begins must end, and none may end that has not begun.",
	Why:      "Engraving drops such a slur or draws it to the end of the system, and what it joins is lost.",
	Before:   "a slur that starts at C4 and no stop",
	After:    "the stop at the last note meant",
	Severity: lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

type key struct{ part, number int }

// slurs follows the slurs of a score in the order of the document, as their numbers go (MusicXML 4.0, slur).
type slurs struct {
	p       *lint.Inspection
	open    map[key]int   // the note at which a slur begins that has not ended
	early   map[key][]int // ends that stand in the document before their beginnings: a voice that is written later
	order   []key         // of what was opened
	without []int         // notes at which a slur ends that has not begun
	endless []int         // notes at which one begins that does not end
	single  []int         // notes at which one begins and ends
}

func run(p *lint.Inspection) {
	s := &slurs{p: p, open: map[key]int{}, early: map[key][]int{}}
	piano := p.PianoParts()
	for n := range p.Score.Notes {
		if note := &p.Score.Notes[n]; len(note.Slurs) > 0 && piano[note.Part] {
			s.read(n)
		}
	}
	for _, k := range s.order {
		if from, is := s.open[k]; is {
			s.endless = append(s.endless, from)
			delete(s.open, k)
		}
		s.without = append(s.without, s.early[k]...)
		delete(s.early, k)
	}
	for _, n := range s.single {
		if !slices.Contains(s.without, n) && !slices.Contains(s.endless, n) {
			s.report(n, "begins and ends at one note,")
		}
	}
	for _, n := range s.endless {
		s.report(n, "begins, but does not end, at")
	}
	for _, n := range s.without {
		s.report(n, "ends, but has not begun, at")
	}
}

// read takes up what begins and ends at a note: ends first, as far as something is open for them.
func (s *slurs) read(n int) {
	note := &s.p.Score.Notes[n]
	at := func(x score.Slur) key { return key{note.Part, x.Number} }
	begun := map[key]bool{} // here
	s.withoutExtent(n)
	for _, x := range note.Slurs {
		if _, is := s.open[at(x)]; !x.Start && is {
			delete(s.open, at(x))
		} else if !x.Start {
			s.early[at(x)] = append(s.early[at(x)], n)
			s.order = append(s.order, at(x))
		}
	}
	for _, x := range note.Slurs {
		k := at(x)
		if !x.Start || begun[k] {
			continue
		}
		begun[k] = true
		s.order = append(s.order, k)
		if e := slices.IndexFunc(s.early[k], func(m int) bool { return s.later(m, n) }); e >= 0 {
			s.early[k] = slices.Delete(s.early[k], e, e+1)
			continue
		}
		if from, is := s.open[k]; is {
			s.endless = append(s.endless, from)
		}
		s.open[k] = n
	}
}

// withoutExtent reports a slur that begins and ends at one note, where its number is open from no note before.
func (s *slurs) withoutExtent(n int) {
	note := &s.p.Score.Notes[n]
	for i, x := range note.Slurs {
		k := key{note.Part, x.Number}
		_, open := s.open[k]
		both := slices.ContainsFunc(note.Slurs, func(y score.Slur) bool { return y.Start != x.Start && y.Number == x.Number })
		if x.Start && both && !open && len(note.Slurs) == 2 && i >= 0 {
			s.single = append(s.single, n)
		}
	}
}

// later says that an end stands in the measure of a beginning or the next, and not before it in time.
func (s *slurs) later(end, begin int) bool {
	score := s.p.Score
	return score.Notes[end].Measure >= score.Notes[begin].Measure && !score.At(end).Less(score.At(begin))
}

// report leaves alone what stands at notes and rests that are not shown: slurs end there that let a key ring.
func (s *slurs) report(n int, what string) {
	if s.p.Score.Notes[n].Hidden {
		return
	}
	s.p.Report(lint.Finding{
		Notes: []int{n}, Message: fmt.Sprintf("a slur %s %s", what, s.p.Score.Notes[n].Pitch),
		Fix: "put in what is missing, or take the slur out",
	})
}
