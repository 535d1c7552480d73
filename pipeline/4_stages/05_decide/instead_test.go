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
	require.Equal(t, 1, left(takenIn(t, s, 2, "AB", "2026-01-06")...), "what was decided in the old text is none; of it the last word is asked")
	require.Equal(t, 2, left(takenIn(t, s, 2, "CD", "2026-01-06")...), "another editor's has lost its note too")
	require.Equal(t, 0, left(filed(t, decision.NewFinder(s), "AB", func() decision.Decision {
		d := decision.Decision{Verb: decision.Reopen, On: decision.Notes, By: "AB", When: "2026-01-06"}
		d.Notes = []decision.NoteRef{decision.NewFinder(s).Ref(8, nil)}
		return d
	}())...), "what its editor took back asks nothing")
	stet := filed(t, f, "AB", on(decision.Stet, decision.Finding, "2026-01-06", n))
	require.Equal(t, 0, left(stet...))
	require.Equal(t, 1, left(filed(t, f, "AB", on(decision.Stet, decision.Finding, "2026-01-04", n))...), "no answer comes before its question")
	plan := decide.Place(decide.Input{Score: corrected, Decisions: append(old, stet...)})
	require.Empty(t, plan.Stets, "the answer lets no other finding stand")
	again := quarters(t, strings.Replace(chords, "G3 +F4 A4", "F3 +F4 B4", 1))
	require.NotEmpty(t, decide.Place(decide.Input{Score: again, Decisions: append(old, stet...)}).Unplaced)
}

// What was decided for a note that a correction moved by a step is suggested for the one that stands there now, and binds nothing;
// not where the key lies farther away, nor where two notes could be meant.
func TestACorrectedNoteHasItsDigitSuggested(t *testing.T) {
	s := quarters(t, chords)
	d := takenIn(t, s, 2, "AB", "2026-01-05")
	suggested := func(chord string) (out []int) {
		p := decide.Place(decide.Input{Score: quarters(t, strings.Replace(chords, "G3 +F4", chord, 1)), Decisions: d})
		for n := range p.Corrected {
			if len(p.Corrected[n]) > 0 {
				require.Zero(t, p.Digits[n].Finger(), "it is not decided")
				out = append(out, n)
			}
		}
		return out
	}
	require.Equal(t, []int{8}, suggested("A3 +F4"))
	require.Empty(t, suggested("C4 +F4"), "a fourth away the hand lies otherwise")
	require.Empty(t, suggested("F3 +A3 +F4"), "either could be meant")
	require.Empty(t, suggested("G3 +F4"), "it is as it was decided")
}

// A finding that was let stand stands by those of its notes that are left; where none is left the stet is gone, and asks nothing.
func TestAStetOfACorrectedNoteAsksNothing(t *testing.T) {
	s := quarters(t, chords)
	f := decision.NewFinder(s)
	let := func(notes ...int) *decide.Placed {
		d := decision.Decision{Verb: decision.Stet, On: decision.Finding, Rule: "accidental-doubtful", Why: "so", By: "AB", When: "2026-01-05"}
		for _, n := range notes {
			d.Notes = append(d.Notes, f.Ref(n, nil))
		}
		return decide.Place(decide.Input{Score: quarters(t, strings.Replace(chords, "G3 +F4", "F3 +F4", 1)), Decisions: filed(t, f, "AB", d)})
	}
	alone := let(8)
	require.Empty(t, alone.Unplaced)
	require.Empty(t, alone.Stets)
	require.Len(t, alone.Gone, 1)
	both := let(8, 10)
	require.Empty(t, both.Unplaced)
	require.Empty(t, both.Gone)
	require.Equal(t, []int{10}, both.Stets[0].Notes)
}
