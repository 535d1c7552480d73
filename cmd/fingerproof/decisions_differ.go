package main

import (
	"fmt"
	"io"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/lint/decision-query"
)

// sayDiffers names at once the notes on which what was keyed in goes against another editor: neither digit binds there, and a
// run for press would be the first to say so.
func sayDiffers(out io.Writer, after *withDecisions) {
	if len(after.add) == 0 || !slices.ContainsFunc(after.p.run.Decisions, func(d decision.Decision) bool { return d.By != after.add[0].By }) {
		return
	}
	then, err := after.run()
	if err != nil {
		return // said by sayMade
	}
	known := map[int]bool{}
	for _, c := range after.p.run.Decided.Contradictions {
		known[c.Note] = true
	}
	for _, c := range then.Decided.Contradictions {
		if !known[c.Note] {
			fmt.Fprintf(out, "%s, %s: %s says %s, %s says %s: neither holds, and the note is open, until both say the same or one is taken back "+
				"(decisions remove)\n", then.Score.Place(c.Note), then.Score.Notes[c.Note].Pitch, c.First.By, c.Digits[0], c.Second.By, c.Digits[1])
		}
	}
}

// sayRolled names chords that an editor decided to roll of which a redistribution now gives keys to the other hand: both stand.
func sayRolled(out io.Writer, f *decision.Finder, after *withDecisions) {
	s := after.p.run.Score
	for i := range after.add {
		d := &after.add[i]
		if d.On != decision.Redistribution || d.Verb != decision.Take {
			continue
		}
		notes := notesOf(f, d)
		if at := slices.IndexFunc(notes, func(n int) bool { return after.p.run.Decided.Rolling[n] != score.Struck }); at >= 0 {
			n := notes[at]
			fmt.Fprintf(out, "%s: that chord is decided to be rolled, and stays so with the hands as they are now; "+
				"%s b %s roll no has it struck at once\n", s.Place(n), s.Measures[s.Notes[n].Measure].Number, s.BeatAt(s.Notes[n].Measure, s.Notes[n].Onset).Key())
		}
	}
}

// sayUnanswered says of a query that was answered in part which notes it still waits for.
func sayUnanswered(out io.Writer, s *score.Score, f *decision.Finder, q decide.Asked, add []decision.Decision) {
	spoken, silent := spokenOf(f, q, add)
	if len(spoken) == 0 || len(silent) == 0 {
		return
	}
	var names []string
	for _, n := range silent {
		note := &s.Notes[n]
		if name := fmt.Sprintf("%s on beat %s", note.Pitch, s.BeatAt(note.Measure, note.Onset).Key()); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	n := q.Notes[0]
	fmt.Fprintf(out, "the query of %s at %s stays open, since nothing is said of %s: %s\n"+
		"  %s stet %s: REASON answers it in words\n", q.Decision.By, s.Place(n), wording.List(names), q.Decision.Why,
		s.Measures[s.Notes[n].Measure].Number, decisionquery.Rule.Name)
}
