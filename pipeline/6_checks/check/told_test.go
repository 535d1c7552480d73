package check_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/6_checks/check"

	"github.com/stretchr/testify/require"
)

// changed are changes of every kind at one place, as a piece has them.
func changed() []check.Change {
	at := func(kind check.Kind, was, is string) check.Change {
		return check.Change{
			Kind: kind, Measure: "4", Index: 3, Hand: "L", Pitch: "D3", At: "1", Beat: "2", Old: was, New: is, N: 7, Cause: "layout", Line: 12, Column: 5,
		}
	}
	bare := func(kind check.Kind, what, was, is string) check.Change {
		return check.Change{Kind: kind, Pitch: what, Old: was, New: is, N: -1, Cause: "policy: x"}
	}
	return []check.Change{
		at(check.Fingers, "4", ""), at(check.Hand, "R", "L"), at(check.Printed, "yes", "no"), at(check.Row, "3-4-3", "3-2-3"),
		at(check.Text, "1 D3", "1 D#3"), at(check.Text, "1 D3", "3/2 D3"), at(check.NoteAdded, "", "2"), at(check.NoteMissing, "5", ""),
		bare(check.FindingNew, "", "", "f1 warning wide-span: m. 4: a tenth"), bare(check.FindingGone, "", "f1 note wide-span: m. 4: a ninth", ""),
		bare(check.FindingLetStand, "", "f1 note wide-span: m. 4: a ninth", "AB: rolled"), bare(check.FindingNew, "", "", "older form: so"),
		bare(check.Second, "", "m. 4, left hand: 2", ""), bare(check.Heading, "title", "Waltz", ""), bare(check.Heading, "front matter", "aa", "bb"),
		bare(check.Looks, "marks.composer.italic", "false", "true"), bare(check.Looks, "redistribute.marks", "bracket", "sign"),
	}
}

// Each change is one sentence that says what was and what is.
func TestEachKindOfChangeIsASentence(t *testing.T) {
	var lines []string
	for _, c := range changed() {
		lines = append(lines, c.Sentence())
	}
	require.Equal(t, []string{
		"m. 4, left hand, beat 2, D3: finger was 4, is none", "m. 4, left hand, beat 2, D3: hand was R, is L",
		"m. 4, left hand, beat 2, D3: the digit was printed, is not printed", "m. 4, left hand, beat 2, D3: row of digits was 3-4-3, is 3-2-3",
		"m. 4, left hand, beat 2: the note was D3, is D#3",
		"m. 4, left hand, beat 2: the note was D3, 1 quarters into its measure, is D3, 3/2 quarters",
		"m. 4, left hand, beat 2, D3: new note, finger 2", "m. 4, left hand, beat 2, D3: the note is gone, finger was 5",
		"new finding: warning: m. 4: a tenth [wide-span]", "finding gone: note: m. 4: a ninth [wide-span]",
		"finding let stand by AB (rolled): note: m. 4: a ninth [wide-span]", "new finding: older form: so",
		"second finger beside the first: was m. 4, left hand: 2, is none",
		"title: was Waltz, is none: what is printed beside the music is another",
		"front matter: another text than was passed: what is printed beside the music is another",
		"marks.composer.italic: was false, is true: such digits print in another look",
		"redistribute.marks: was bracket, is sign: the page prints otherwise",
	}, lines)
	letStand := check.Change{Kind: check.FindingLetStand, Old: "f1 note wide-span: m. 4: a ninth", New: "AB: rolled"}
	was, is := letStand.Values()
	require.Equal(t, []string{"note: m. 4: a ninth [wide-span]", "let stand by AB: rolled"}, []string{was, is})
}

// A piece is told cause by cause, the most frequent first and equal ones by name; whose digits are is summed up behind the rest.
func TestAPieceIsToldCauseByCause(t *testing.T) {
	whose := func(measure, was, is, cause string) check.Change {
		return check.Change{Kind: check.Whose, Measure: measure, Hand: "R", Pitch: "C4", Old: was, New: is, Cause: cause}
	}
	finger := func(measure, cause string) check.Change {
		return check.Change{Kind: check.Fingers, Measure: measure, Hand: "R", Pitch: "C4", Beat: "1", Old: "1", New: "2", Cause: cause}
	}
	var out bytes.Buffer
	require.NoError(t, check.WriteText(&out, []check.Piece{{
		ID: "a", Notices: []string{"read this first"},
		Changes: []check.Change{
			finger("9", "weights"), whose("1", "open", "editor:AB", "decisions"), finger("2", "decisions"), finger("5", "layout"),
			whose("3", "open", "editor:AB", "decisions"), whose("4", "composer", "carried", "decisions"),
		},
	}}))
	require.Equal(t, `a: read this first
a: 6 changes
  cause decisions: 4 changes
    m. 2, right hand, beat 1, C4: finger was 1, is 2
    mm. 1–3: at 2 notes the digit was open, is the editor's (AB)
    m. 4: at 1 note the digit was the composer's, is carried from a return, and not decided
  cause layout: 1 change
    m. 5, right hand, beat 1, C4: finger was 1, is 2
  cause weights: 1 change
    m. 9, right hand, beat 1, C4: finger was 1, is 2
`, out.String())
}

// What a CI shows of a piece: the changes of a measure and hand that have one cause are one finding, at its place in the score,
// the first four in words, and the number of all.
func TestChangesOfOneMeasureAreOneFinding(t *testing.T) {
	p := check.Piece{ID: "a", Notes: 9, Inputs: []string{"layout"}, Changes: changed()}
	o := p.Outcome("scores/a.musicxml")
	require.Empty(t, o.Notices, "what has changed says that other inputs are there")
	var lines []string
	for i := range o.Findings {
		f := &o.Findings[i]
		lines = append(lines, fmt.Sprintf("%s %d:%d %s: %s", f.Rule, f.Line, f.Column, f.Hand, f.Message))
	}
	require.Equal(t, []string{
		"changed-fingering 12:5 L: 4 changes, cause layout: beat 2, D3: finger was 4, is none; beat 2, D3: hand was R, is L; " +
			"beat 2, D3: the digit was printed, is not printed; beat 2, D3: row of digits was 3-4-3, is 3-2-3",
		"changed-text 12:5 L: 4 changes, cause layout: beat 2: the note was D3, is D#3; " +
			"beat 2: the note was D3, 1 quarters into its measure, is D3, 3/2 quarters; beat 2, D3: new note, finger 2; " +
			"beat 2, D3: the note is gone, finger was 5",
	}, lines[:2])
	require.Equal(t, score.Left, o.Findings[0].Hand)
	require.Equal(t, []string{"changed-findings", "changed-fingering", "changed-text"},
		[]string{o.Findings[2].Rule, o.Findings[3].Rule, o.Findings[4].Rule})

	many := check.Piece{ID: "a", Changes: []check.Change{finger(0, "R", "x"), finger(0, "R", "x"), finger(0, "R", "x"), finger(0, "R", "x"), finger(0, "R", "x"), finger(0, "R", "x")}}
	message := many.Outcome("a").Findings[0].Message
	require.True(t, strings.HasPrefix(message, "6 changes, cause x: ") && strings.HasSuffix(message, "; and 2 more"), message)
	require.Equal(t, 4, strings.Count(message, "finger was"))

	for _, c := range []struct {
		piece check.Piece
		want  state.Outcome
	}{
		{check.Piece{ID: "a", Inputs: []string{"layout"}}, state.Outcome{Piece: "a", File: "f", Notices: []string{"as passed, though other inputs: layout"}}},
		{check.Piece{ID: "a", Problem: "it ends in the middle", Inputs: []string{"layout"}}, state.Outcome{Piece: "a", File: "f", Problem: "it ends in the middle"}},
		{check.Piece{ID: "a"}, state.Outcome{Piece: "a", File: "f"}},
	} {
		require.Equal(t, c.want, c.piece.Outcome("f"))
	}
}

// The summary of a CI has a row a piece, whatever became of it.
func TestTheSummarySaysWhatBecameOfEachPiece(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, check.WriteSummary(&out, []check.Piece{
		{ID: "a", Changes: []check.Change{finger(0, "R", "layout")}}, {ID: "b", Problem: "no such file\nhint: look for it"}, {ID: "c", Never: true},
		{ID: "d", Gone: true}, {ID: "e", Inputs: []string{"layout", "weights"}}, {ID: "f"},
	}))
	require.Contains(t, out.String(), `## Since it was passed for press: 6 pieces, 1 changed, 1 never passed, 1 no longer in the collection, 1 failed

| Piece | State | Causes |
|---|---|---|
| a | 1 change | layout: 1 |
| b | could not be compared: no such file; hint: look for it |  |
| c | never passed |  |
| d | passed, and no longer in the collection |  |
| e | as passed, though other inputs: layout and weights |  |
| f | as passed |  |
`)
}

// What a house style would do is told whole: sums, each table under its title, twenty passages and findings, and how many are
// left out.
func TestTheEffectIsToldWhole(t *testing.T) {
	told := func(passages int) string {
		p := check.Piece{ID: "a", Notes: 90, Decided: 5}
		for m := range passages {
			p.Changes = append(p.Changes,
				check.Change{Kind: check.Fingers, Measure: fmt.Sprint(8*m + 1), Index: 8 * m, Hand: "L", Cause: "policy: hand"},
				check.Change{Kind: check.FindingGone, Old: fmt.Sprintf("f%d note wide-span: m. %d: so", m, 8*m+1), N: -1, Cause: "policy: hand"})
		}
		e := check.EffectOf([]check.Piece{p, {ID: "b", Problem: "broken", Notes: 3}, {ID: "c", Decided: 2}})
		require.Equal(t, 7, e.Decided)
		require.Equal(t, 90, e.Notes, "a piece that cannot be read counts no notes")
		var out bytes.Buffer
		require.NoError(t, e.WriteText(&out))
		return out.String()
	}
	require.Equal(t, `2 changes in 1 of 3 pieces (90 notes); 1 piece could not be worked out
notes with a digit in print: 0 now, 0 then

by kind
       1  finding gone
       1  finger

by key
       2  policy: hand

by piece
       2  a (90 notes)

most affected passages
       1  a, m. 1, left hand (policy: hand)

findings that are gone
  a: note wide-span: m. 1: so
`, told(1))
	require.NotContains(t, told(20), "more; --report json")
	many := told(23)
	require.Equal(t, 2, strings.Count(many, "\n  and 3 more; --report json lists all\n"))
	require.Equal(t, 20, strings.Count(many, "left hand (policy: hand)"))
	require.Equal(t, 20, strings.Count(many, "note wide-span"))
	require.NotContains(t, told(0), "most affected passages")
}

// Digits that were open or an editor's and stand in the text now are named with whose they are taken for: an edition may have come
// back from another program in the score's place. Digits that were the composer's, or an earlier hand's, before are not.
func TestDigitsThatHaveBecomeTheTextsAreNamed(t *testing.T) {
	for whose, words := range map[score.Responsibility]string{score.Composer: "the composer's", score.Earlier: "an earlier hand's"} {
		in := demo(t, "op7-nocturne")
		in.piece.TextDigits = whose.String()
		w := work(t, in)
		was := stateOf(w)
		require.NotContains(t, strings.Join(check.Compare(w, was, in.data).Notices, "\n"), "stand in the text now")
		given := 0
		for i := range was.Notes {
			if was.Notes[i].Whose == whose.String() {
				was.Notes[i].Whose = []string{"", "editor:AB"}[given%2]
				given++
			}
		}
		require.Greater(t, given, 1)
		p := check.Compare(w, was, in.data)
		require.Contains(t, strings.Join(p.Notices, "\n"), fmt.Sprintf("at %d notes digits that were the editor's or open when the piece was passed "+
			"stand in the text now and are taken for %s:", given, words))
		require.Equal(t, len(w.Result.Notes), p.Notes)
		require.Equal(t, w.Result.Summary.Decided, p.Decided)
	}
}

// What a state of an older program did not keep is named and not taken for a change.
func TestWhatAnOlderStateDidNotKeepIsNamed(t *testing.T) {
	in := demo(t, "op7-nocturne")
	w := work(t, in)
	w.Result.Notes[0].Second = 3
	const named = "did not keep the fingers that print beside others"
	was := stateOf(w)
	require.NotContains(t, strings.Join(check.Compare(w, was, in.data).Notices, "\n"), named)
	was.Seconds = nil
	p := check.Compare(w, was, in.data)
	require.Contains(t, strings.Join(p.Notices, "\n"), named)
	require.Empty(t, p.Changes)
	was.Seconds = []string{}
	p = check.Compare(w, was, in.data)
	require.Len(t, p.Changes, 1)
	require.Equal(t, check.Second, p.Changes[0].Kind)
	require.NotContains(t, strings.Join(p.Notices, "\n"), named)
}
