package decide

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/rules/fingering"
)

// roll decides whether a chord is rolled; a later decision on notes of it takes the place of an earlier one.
func (p *placer) roll(d *decision.Decision, notes []int) {
	s, out := p.in.Score, p.out
	sorted := slices.Clone(notes)
	slices.Sort(sorted)
	touches := func(other []int) bool {
		return slices.ContainsFunc(other, func(n int) bool { return slices.Contains(sorted, n) })
	}
	if d.Verb == decision.Stet {
		if !slices.ContainsFunc(sorted, func(n int) bool { return !s.Rolling(n).Rolls() }) {
			out.Idle = append(out.Idle, Remark{d, notes, "the text has this chord rolled: that is not ours to take away"})
			return
		}
		out.unroll(touches)
		out.Unrolled = append(out.Unrolled, sorted)
		return
	}
	if why := notRolled(s, sorted); why != "" {
		out.Idle = append(out.Idle, Remark{d, notes, why})
		return
	}
	out.unroll(touches)
	number := s.Measures[s.Notes[sorted[0]].Measure].Number
	out.addRoll(s, fingering.Roll{
		ID: fmt.Sprintf("%s-%s-roll-%s", d.By, d.When, number), Down: d.Direction == decision.Down, Decided: true,
		By: d.By, Notes: sorted, Reason: d.Reason, Why: d.Why,
	})
}

// unroll takes what was decided of rolls back where it is met.
func (p *Placed) unroll(met func(notes []int) bool) {
	p.Unrolled = slices.DeleteFunc(p.Unrolled, met)
	p.Rolls = slices.DeleteFunc(p.Rolls, func(r fingering.Roll) bool {
		if !met(r.Notes) {
			return false
		}
		for _, n := range r.Notes {
			p.Rolling[n] = score.Struck
		}
		return true
	})
}

// addRoll adds a roll that was decided, in the order of first notes.
func (p *Placed) addRoll(s *score.Score, r fingering.Roll) {
	how := score.RolledUp
	if r.Down {
		how = score.RolledDown
	}
	for _, n := range r.Notes {
		p.Rolling[n] = how
	}
	r.Notes = slices.Clone(r.Notes)
	slices.SortStableFunc(r.Notes, func(a, b int) int {
		return cmp.Or(cmp.Compare(s.Notes[a].Midi, s.Notes[b].Midi), cmp.Compare(a, b))
	})
	p.Rolls = append(p.Rolls, r)
	slices.SortStableFunc(p.Rolls, func(a, b fingering.Roll) int {
		return cmp.Compare(slices.Min(a.Notes), slices.Min(b.Notes))
	})
}

// notRolled says why notes cannot be rolled as one chord, "" where they can.
func notRolled(s *score.Score, notes []int) string {
	first, rolled := &s.Notes[notes[0]], 0
	for _, n := range notes {
		note := &s.Notes[n]
		switch {
		case note.Part != first.Part || s.At(n) != s.At(notes[0]):
			return "these notes are not struck together: no chord is rolled"
		case note.TiedFrom >= 0:
			return note.Pitch.String() + " is tied on and not struck here: no chord is rolled"
		case note.Arpeggio.NonRolled:
			return "the text has a bracket here: these keys are struck at once"
		case s.Rolling(n).Rolls():
			rolled++
		}
	}
	switch {
	case len(notes) < 2:
		return "one note is no chord to be rolled"
	case rolled == len(notes):
		return "the text has this chord rolled already"
	}
	return ""
}

// addEmbeddedRolls adds the rolls that an edition brings along. Decisions that are there come first.
func addEmbeddedRolls(placed *Placed, s *score.Score, embedded *edition.Embedded) {
	if embedded == nil {
		return
	}
	fits := func(notes []int) bool {
		return len(notes) > 0 && !slices.ContainsFunc(notes, func(n int) bool { return n < 0 || n >= len(placed.Rolling) })
	}
	said := func(n int) bool {
		return placed.Rolling[n].Rolls() ||
			slices.ContainsFunc(placed.Unrolled, func(notes []int) bool { return slices.Contains(notes, n) })
	}
	for _, k := range embedded.Rolls {
		if fits(k.Notes) && !slices.ContainsFunc(k.Notes, said) && notRolledByComposer(s, k.Notes) {
			placed.addRoll(s, fingering.Roll{
				ID: k.ID, Down: k.Down, Decided: true, By: k.By, Notes: k.Notes, Reason: k.Reason, Why: k.Why,
			})
		}
	}
	for _, notes := range embedded.Unrolled {
		if fits(notes) && !slices.ContainsFunc(notes, said) {
			placed.Unrolled = append(placed.Unrolled, notes)
		}
	}
}

// notRolledByComposer says that notes can be rolled: signs that the edition itself has put there do not count, as they
// stand in a text that another program has written anew.
func notRolledByComposer(s *score.Score, notes []int) bool {
	added := !slices.ContainsFunc(notes, func(n int) bool { return s.Notes[n].Arpeggio.Enclosure != score.Brackets })
	return added || notRolled(s, notes) == ""
}
