package decide_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

// chords has seven measures, each its own, whose third begins with a chord.
const chords = "C4 D4 E4 F4|G4 A4 B4 C5|G3 +F4 A4 B4 A4|C5 B4 A4 G4|F4 E4 D4 C4|E4 E4 F4 G4|D4 D4 E4 E4"

// quarters reads measures parted by bars; +E4 is struck with the note before it.
func quarters(t *testing.T, text string) *score.Score {
	t.Helper()
	var measures []string
	for m := range strings.SplitSeq(text, "|") {
		inside := ""
		for word := range strings.FieldsSeq(m) {
			if pitch, with := strings.CutPrefix(word, "+"); with {
				inside += scoretest.Note(pitch, 4, 1, 1, "<chord/>")
			} else {
				inside += scoretest.Note(word, 4, 1, 1, "")
			}
		}
		measures = append(measures, inside)
	}
	return scoretest.Piano(t, measures...)
}

// takenIn decides all notes of a measure as one entry, as the page writes what is taken, and reads it back from its file.
func takenIn(t *testing.T, s *score.Score, measure int, by, when string) []decision.Decision {
	t.Helper()
	f := decision.NewFinder(s)
	d := decision.Decision{Verb: decision.Take, On: decision.Notes, By: by, When: when}
	for n := range s.Notes {
		if s.Notes[n].Measure == measure {
			d.Notes = append(d.Notes, f.Ref(n, []int{1 + len(d.Notes)}))
		}
	}
	return filed(t, f, by, d)
}

func filed(t *testing.T, f *decision.Finder, by string, all ...decision.Decision) []decision.Decision {
	t.Helper()
	text, err := decision.Append("decisions/p."+by+".yaml", nil, "p", by, f.Table(), all)
	require.NoError(t, err)
	out, _, err := decision.Parse("decisions/p."+by+".yaml", text)
	require.NoError(t, err)
	return out
}

// One key of a chord is corrected: the others of its entry stand, its own chord too, and it alone is asked, in its own measure,
// with what stands there now.
func TestACorrectedKeyAloneIsAsked(t *testing.T) {
	s := quarters(t, chords)
	d := takenIn(t, s, 2, "AB", "2026-01-05")
	corrected := quarters(t, strings.Replace(chords, "G3 +F4", "F3 +F4", 1))
	plan := decide.Place(decide.Input{Score: corrected, Decisions: d})
	require.Len(t, plan.Unplaced, 1)
	u := plan.Unplaced[0]
	require.Equal(t, "G3", u.Ref.Pitch)
	require.Equal(t, "F3", corrected.Notes[u.Instead].Pitch.String())
	require.Equal(t, 2, corrected.Notes[u.Filed()].Measure)
	require.Len(t, u.Nearest, 1, "a like note elsewhere has nothing to do with it")
	for n := range corrected.Notes {
		note := &corrected.Notes[n]
		require.Equal(t, note.Measure == 2 && n != u.Instead, plan.Digits[n].Finger() > 0, note.Pitch)
	}
	// Where it is taken out, and nothing stands there but what was struck with it, nothing is offered.
	plan = decide.Place(decide.Input{Score: quarters(t, strings.Replace(chords, "G3 +F4", "F4", 1)), Decisions: d})
	require.Len(t, plan.Unplaced, 1)
	require.Equal(t, -1, plan.Unplaced[0].Instead)
}

// Once what stands there now is decided in the text as it stands, nothing is asked of the note that is gone; what was decided in
// the old text is no answer. A stet on the loss is one, until the text changes again.
func TestALostNoteIsAnswered(t *testing.T) {
	s := quarters(t, chords)
	old := takenIn(t, s, 2, "AB", "2026-01-05")
	corrected := quarters(t, strings.Replace(chords, "G3 +F4", "F3 +F4", 1))
	f := decision.NewFinder(corrected)
	n := decide.Place(decide.Input{Score: corrected, Decisions: old}).Unplaced[0].Instead
	left := func(more ...decision.Decision) int {
		p := decide.Place(decide.Input{Score: corrected, Decisions: append(append([]decision.Decision{}, old...), more...), Today: "2026-03-01"})
		return len(p.Unplaced)
	}
	on := func(verb decision.Verb, subject decision.Subject, when string, note int) decision.Decision {
		d := decision.Decision{Verb: verb, On: subject, By: "AB", When: when, Notes: []decision.NoteRef{f.Ref(note, []int{5})}}
		if subject == decision.Finding || verb == decision.Query {
			d.Notes[0].Fingers, d.Why = nil, "so"
		}
		if subject == decision.Finding {
			d.Rule = "decision-unplaced"
		}
		return d
	}
	require.Equal(t, 1, left())
	require.Equal(t, 0, left(filed(t, f, "AB", on(decision.Amend, decision.Notes, "2026-01-05", n))...))
	require.Equal(t, 1, left(filed(t, f, "AB", on(decision.Amend, decision.Notes, "2026-01-05", n+1))...), "another note is no answer")
	require.Equal(t, 1, left(filed(t, f, "AB", on(decision.Query, decision.Notes, "2026-01-06", n))...), "a question is no answer")
	require.Equal(t, 2, left(takenIn(t, s, 2, "AB", "2026-01-06")...), "what was decided in the old text is none, and has lost its note too")
	stet := filed(t, f, "AB", on(decision.Stet, decision.Finding, "2026-01-06", n))
	require.Equal(t, 0, left(stet...))
	require.Equal(t, 1, left(filed(t, f, "AB", on(decision.Stet, decision.Finding, "2026-01-04", n))...), "no answer comes before its question")
	plan := decide.Place(decide.Input{Score: corrected, Decisions: append(old, stet...)})
	require.Empty(t, plan.Stets, "the answer lets no other finding stand")
	again := quarters(t, strings.Replace(chords, "G3 +F4 A4", "F3 +F4 B4", 1))
	require.NotEmpty(t, decide.Place(decide.Input{Score: again, Decisions: append(old, stet...)}).Unplaced)
}
