package main

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
)

// sinceSheet holds what an editor decided since a sheet was printed: what is taken of a passage by its number there leaves
// it as it is.
type sinceSheet struct {
	digits map[int]bool
	left   []string // of these, what a line took
	now    map[int]bool
	gone   map[string]bool // entries that are taken out in the same sitting
	same   []string        // what a line gives as the editor has decided it
}

// decidedSince compares a piece as it is decided now with how it was when its sheet was printed.
func decidedSince(now, then *decidedPiece, by string) *sinceSheet {
	out := &sinceSheet{digits: map[int]bool{}, now: now.keying(by, now.job.Today).Own}
	if now == then {
		return out
	}
	before := then.keying(by, then.job.Today).Own
	for n, own := range out.now {
		if own && !before[n] {
			out.digits[n] = true
		}
	}
	return out
}

// leave takes out of what is taken the notes that were decided since.
func (s *sinceSheet) leave(f *decision.Finder, decided []decision.Decision) {
	for i := range decided {
		d := &decided[i]
		if d.Verb != decision.Take || d.On != decision.Notes {
			continue
		}
		d.Notes = slices.DeleteFunc(d.Notes, func(ref decision.NoteRef) bool {
			n, _, _ := f.Find(&ref)
			if n < 0 || !s.digits[n] {
				return false
			}
			s.left = append(s.left, "m. "+ref.Printed+" "+ref.Pitch)
			return true
		})
	}
}

// leaveSame takes out of digits that are keyed those that the editor has decided so: they stand in the file.
func (s *sinceSheet) leaveSame(p *decidedPiece, f *decision.Finder, decided []decision.Decision) {
	for i := range decided {
		d := &decided[i]
		if d.Verb != decision.Amend || d.On != decision.Notes || d.Print != "" || d.Why != "" {
			continue
		}
		d.Notes = slices.DeleteFunc(d.Notes, func(ref decision.NoteRef) bool {
			n, _, _ := f.Find(&ref)
			asked := slices.ContainsFunc(p.run.Decided.Queries, func(q decide.Asked) bool { return q.Decision.By != d.By && slices.Contains(q.Notes, n) })
			if n < 0 || !s.now[n] || asked { // said again it is the answer
				return false
			}
			fingers, returns, except := p.run.Bound[n].Written(), p.run.Bound[n].Returns, p.run.Bound[n].Except
			if disputed(p, n) { // the editor's digit binds nobody, and stands all the same
				last := lastWord(p, f, n, d.By)
				fingers, returns, except = nil, last.Returns, last.Except
				for k := range last.Notes {
					if at, _, _ := f.Find(&last.Notes[k]); at == n {
						fingers = last.Notes[k].Fingers
					}
				}
			}
			if d.Returns && (!returns || !slices.Equal(d.Except, except)) || !slices.Equal(fingers, ref.Fingers) {
				return false
			}
			s.same = append(s.same, "m. "+ref.Printed+" "+ref.Pitch)
			return true
		})
	}
}

// disputed says that editors differ on the digit of a note.
func disputed(p *decidedPiece, n int) bool {
	return slices.ContainsFunc(p.run.Decided.Contradictions, func(c decide.Contradiction) bool { return c.Note == n })
}

// lastWord is what an editor decided last of the digit of a note, nil where that is nothing.
func lastWord(p *decidedPiece, f *decision.Finder, n int, by string) (last *decision.Decision) {
	ordered := slices.Clone(p.run.Decisions)
	decision.SortByDate(ordered)
	for i := range ordered {
		d := &ordered[i]
		if d.By == by && d.On == decision.Notes && d.Verb != decision.Query && slices.Contains(notesOf(f, d), n) {
			last = d
		}
	}
	return last
}

// leaveStanding takes out what the editor has said already in the same words, and nothing else since of the same notes: a
// sheet that is keyed in twice adds nothing the second time.
func (s *sinceSheet) leaveStanding(p *decidedPiece, f *decision.Finder, decided []decision.Decision) {
	for i := range decided {
		d := &decided[i]
		if d.On == decision.Notes && d.Verb != decision.Query && d.Verb != decision.Stet {
			continue
		}
		notes := notesOf(f, d)
		var last *decision.Decision
		for k := range p.run.Decisions {
			was := &p.run.Decisions[k]
			if !s.gone[was.Place()] && was.By == d.By && was.On == d.On && was.Rule == d.Rule &&
				slices.ContainsFunc(notesOf(f, was), func(n int) bool { return slices.Contains(notes, n) }) {
				last = was
			}
		}
		if last == nil || len(d.Notes) == 0 || last.Verb != d.Verb || last.Why != d.Why || last.To != d.To || last.Until != d.Until ||
			last.Direction != d.Direction || !slices.Equal(notesOf(f, last), notes) {
			continue
		}
		if d.Verb == decision.Query && !slices.ContainsFunc(p.run.Decided.Queries, func(q decide.Asked) bool { return q.Decision.Place() == last.Place() }) {
			continue // it was answered, and is asked anew
		}
		said := "m. " + d.Notes[0].Printed + " " + string(d.Verb)
		if d.Rule != "" {
			said += " " + d.Rule
		}
		s.same, d.Notes = append(s.same, said), nil
	}
}

// notesOf lists the notes of a decision that are found, in their order in the score.
func notesOf(f *decision.Finder, d *decision.Decision) (out []int) {
	for k := range d.Notes {
		if n, _, _ := f.Find(&d.Notes[k]); n >= 0 {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
}

// fewPlaces is how many places a sentence names one by one.
const fewPlaces = 5

// inMeasures names places of the form "m. 12 D4", or only their number and their measures where they are many.
func inMeasures(places []string) string {
	if len(places) <= fewPlaces {
		return strings.Join(places, ", ")
	}
	var measures []string
	for _, place := range places {
		if number := strings.Fields(place)[1]; !slices.Contains(measures, number) {
			measures = append(measures, number)
		}
	}
	in := "m. "
	if len(measures) > 1 {
		in = "mm. "
	}
	return fmt.Sprintf("%d places, %s%s", len(places), in, strings.Join(measures, ", "))
}

// answersQuery says that decisions are a word on each note of a query.
func answersQuery(f *decision.Finder, q decide.Asked, add []decision.Decision) bool {
	_, silent := spokenOf(f, q, add)
	return len(silent) == 0
}

// spokenOf parts the notes of a query into those on which decisions are a word and those of which they say nothing.
func spokenOf(f *decision.Finder, q decide.Asked, add []decision.Decision) (spoken, silent []int) {
	answered := map[int]bool{}
	for i := range add {
		d := &add[i]
		digits := d.On != decision.Finding && (d.Verb == decision.Take || d.Verb == decision.Amend)
		if (digits || d.On == decision.Finding) && q.AnsweredBy(d) {
			for _, n := range notesOf(f, d) {
				answered[n] = true
			}
		}
	}
	for _, n := range q.Notes {
		if answered[n] {
			spoken = append(spoken, n)
		} else {
			silent = append(silent, n)
		}
	}
	return spoken, silent
}
