package mark_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/16_mark"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

func policy(t *testing.T, text string) *policies.Policy {
	t.Helper()
	path := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	p, err := policies.Load(path)
	require.NoError(t, err)
	return p
}

// piece is notes of one measure by voice and key, all struck by one hand.
func piece(t *testing.T, p *policies.Policy, h score.Hand, voices []string, keys ...int) mark.Fingered {
	t.Helper()
	in := mark.Fingered{Score: &score.Score{Measures: []score.Measure{{}}}, Policy: p}
	var hands playing.Hands
	for k, key := range keys {
		in.Score.Notes = append(in.Score.Notes, score.Note{Voice: voices[k], Midi: key, TiedFrom: -1, TiedTo: -1})
		hands.Piano, hands.Hand, hands.Player = append(hands.Piano,
			true), append(hands.Hand, h), append(hands.Player, 0)
		in.Finger, in.Substitution, in.Print = append(in.Finger,
			k+1), append(in.Substitution, 0), append(in.Print, true)
		in.Whose, in.Row, in.Credit = append(in.Whose, nil), append(in.Row, nil), append(in.Credit, mark.Credit{})
	}
	in.Playing = playing.New(in.Score, hands)
	return in
}

// A lone digit of a chord is read as its outermost key's on that side (common practice, no source): that of an inner
// voice's outer key stands outside, unless another key without a digit lies further out there.
func TestALoneDigitIsReadAsItsOwn(t *testing.T) {
	p := policy(t, "extends: default\n")
	lone := func(h score.Hand, voices []string, keys []int, shown ...int) score.Placement {
		in := piece(t, p, h, voices, keys...)
		for k := range in.Print {
			in.Print[k] = false
		}
		for _, k := range shown {
			in.Print[k] = true
		}
		for _, m := range mark.Marking(in).Marks {
			if m.Note == shown[0] && len(m.Digits) > 0 {
				return m.Digits[0].Placement
			}
		}
		t.Fatal("no digit")
		return score.PlacementUnset
	}
	inner := []string{"5", "6", "6"} // a bass, and a chord of the inner voice
	bass := []int{48, 55, 64}
	require.Equal(t, score.Below, lone(score.Left, inner, bass, 1, 0), "G3 of G3-E4 over a bass that has its digit")
	require.Equal(t, score.Above, lone(score.Left, inner, bass, 2), "E4 of the same")
	require.Equal(t, score.Above, lone(score.Left, inner, bass, 1), "the bass has no digit and lies further out: as voices stand")
	require.Equal(t, score.Above, lone(score.Left, inner, bass, 1, 2), "both keys of the chord have theirs: as voices stand")
	one := []string{"1", "1"}
	require.Equal(t, score.Above, lone(score.Left, one, []int{48, 55}, 1), "the upper key of a left hand's chord")
	require.Equal(t, score.Below, lone(score.Right, one, []int{72, 76}, 0), "the lower key of a right hand's chord")
}

// Right hand above, left below, and between the staves the inner voice (FACTS §5.3).
func TestPlacement(t *testing.T) {
	places := func(in mark.Fingered) (out []score.Placement) {
		for _, m := range mark.Marking(in).Marks {
			if len(m.Digits) > 0 { // else a digit of the text gets another look
				out = append(out, m.Digits[0].Placement)
			}
		}
		return out
	}
	p := policy(t, "extends: default\n")
	one, two := []string{"1", "1"}, []string{"1", "2"}
	require.Equal(t, []score.Placement{score.Above, score.Above}, places(piece(t, p, score.Right, one, 72, 64)))
	require.Equal(t, []score.Placement{score.Below, score.Below}, places(piece(t, p, score.Left, one, 48, 43)))
	require.Equal(t, []score.Placement{score.Above, score.Below}, places(piece(t, p, score.Right, two, 72, 64)))
	require.Equal(t, []score.Placement{score.Above, score.Below}, places(piece(t, p, score.Left, two, 48, 43)))
	// An octave embraces what the other voice strikes: one side, in the order of the keys (common practice).
	embraced := piece(t, p, score.Right, []string{"1", "1", "2", "2"}, 66, 78, 69, 76)
	require.Equal(t, []score.Placement{score.Above, score.Above, score.Above, score.Above}, places(embraced))
	// Where both hands play on one staff in a measure, the right has its digits above, the left below, whatever their voices.
	both := piece(t, p, score.Left, []string{"1", "2", "3"}, 48, 60, 72)
	hands := playing.Hands{Piano: []bool{true, true, true}, Hand: []score.Hand{score.Left, score.Left, score.Right}, Player: []int{0, 0, 0}}
	both.Playing = playing.New(both.Score, hands)
	require.Equal(t, []score.Placement{score.Below, score.Below, score.Above}, places(both))
	both.Score.Notes[2].Staff = 1
	require.Equal(t, []score.Placement{score.Below, score.Above, score.Above}, places(both), "on its own staff: as voices stand")
	outside := policy(t, "marks: {polyphony: outside}\n")
	require.Equal(t, []score.Placement{score.Above, score.Above}, places(piece(t, outside, score.Right, two, 72, 64)))
	// A voice that has the hand for itself, since the outer one has ended, has its digits outside.
	for onset, side := range map[int64]score.Placement{0: score.Below, 1: score.Above} {
		after := piece(t, p, score.Right, two, 72, 64)
		after.Score.Notes[0].Duration, after.Score.Notes[1].Duration = score.Whole(1), score.Whole(2)
		after.Score.Notes[1].Onset = score.Whole(onset)
		require.Equal(t, []score.Placement{score.Above, side}, places(after))
	}
	// What two voices strike and hold equally long is a chord: one stack; but no digit of the inner note stands where it would be
	// read as that of an outer one without.
	held := func(outer, inner int64) mark.Fingered {
		in := piece(t, p, score.Left, []string{"2", "1"}, 43, 48)
		in.Score.Notes[0].Duration, in.Score.Notes[1].Duration = score.Whole(outer), score.Whole(inner)
		return in
	}
	require.Equal(t, []score.Placement{score.Below, score.Below}, places(held(1, 1)))
	require.Equal(t, []score.Placement{score.Below, score.Above}, places(held(2, 1)))
	bare := held(1, 1)
	bare.Print[0] = false
	require.Equal(t, []score.Placement{score.Above}, places(bare))
	// A voice that is there for less than half the time makes no inner voice of the one that goes on.
	passing := piece(t, p, score.Left, []string{"2", "1", "1"}, 43, 48, 52)
	for k, at := range [][2]int64{{3, 1}, {0, 3}, {3, 2}} { // onset, duration
		passing.Score.Notes[k].Onset, passing.Score.Notes[k].Duration = score.Whole(at[0]), score.Whole(at[1])
	}
	passing.Playing = playing.New(passing.Score, playing.Hands{
		Piano: []bool{true, true, true}, Hand: []score.Hand{score.Left, score.Left, score.Left}, Player: []int{0, 0, 0},
	})
	require.Equal(t, []score.Placement{score.Below, score.Below, score.Below}, places(passing))
	// A bass with a second stem that is held below its accompaniment, and strikes nothing else, makes no second voice (trial 15b-17);
	// one that strikes a key of its own does.
	for bass, sides := range map[int][]score.Placement{
		43: {score.Below, score.Below, score.Below}, 41: {score.Below, score.Above, score.Above},
	} {
		stemmed := piece(t, p, score.Left, []string{"6", "5", "5"}, bass, 43, 55)
		for k, at := range [][2]int64{{0, 3}, {0, 1}, {1, 2}} { // onset, duration
			stemmed.Score.Notes[k].Onset, stemmed.Score.Notes[k].Duration = score.Whole(at[0]), score.Whole(at[1])
		}
		stemmed.Playing = playing.New(stemmed.Score, playing.Hands{
			Piano: []bool{true, true, true}, Hand: []score.Hand{score.Left, score.Left, score.Left}, Player: []int{0, 0, 0},
		})
		require.Equal(t, sides, places(stemmed), "bass %d", bass)
	}
	own := policy(t, "marks: {open: {placement: inside}}\n")
	require.Equal(t, []score.Placement{score.Below}, places(piece(t, own, score.Right, one[:1], 72)))

	// Beside digits of the text: with them in the row of their voice, and in a chord never below one of a lower note.
	text := func(in mark.Fingered, n int, side score.Placement) mark.Fingered {
		in.Score.Notes[n].Indications = []score.Indication{{Text: "1", Fingers: []int{1}, Placement: side}}
		in.Whose[n] = []score.Responsibility{score.Composer}
		in.Print[n] = false
		return in
	}
	row := piece(t, p, score.Left, one, 48, 43)
	row.Score.Notes[1].Onset = score.Whole(1)
	require.Equal(t, []score.Placement{score.Above}, places(text(row, 0, score.Above)))
	chord := text(piece(t, outside, score.Left, two, 48, 43), 1, score.Above)
	chord.Score.Notes[1].Voice = "1"
	require.Equal(t, []score.Placement{score.Above}, places(chord), "5 above the staff, and the thumb of the higher key not below it")
	unset := text(piece(t, p, score.Left, one, 48, 43), 0, score.PlacementUnset)
	require.Equal(t, []score.Placement{score.Below}, places(unset), "on its hand's side")
	require.Equal(t, score.Below, mark.Marking(unset).Marks[0].Restyles[0].Placement, "and the text's, for which the file names none, with it")
	require.Equal(t, score.PlacementUnset, mark.Marking(row).Marks[0].Restyles[0].Placement, "it stands where the file says")
	other := text(piece(t, p, score.Left, two, 48, 43), 1, score.Above)
	require.Equal(t, []score.Placement{score.Above}, places(other), "another voice keeps its own side")
}

func TestChangesRowsAlternativesAndTies(t *testing.T) {
	texts := func(in mark.Fingered) (out []string) {
		for _, m := range mark.Marking(in).Marks {
			for _, d := range m.Digits {
				s := d.Text
				if d.Substitution {
					s = "then " + s
				}
				if d.Alternate {
					s = "or " + s + " in " + string(d.Style.Enclosure)
				}
				out = append(out, s)
			}
		}
		return out
	}
	p := policy(t, "extends: default\n")
	in := piece(t, p, score.Right, []string{"1"}, 60)
	in.Substitution[0] = 4
	require.Equal(t, []string{"1", "then 4"}, texts(in))
	in.Policy = policy(t, "marks: {substitution: dash}\n")
	require.Equal(t, []string{"1-4"}, texts(in))
	in = piece(t, p, score.Right, []string{"1"}, 60)
	in.Row[0] = []int{1, 3, 2, 3}
	require.Equal(t, []string{"1 3 2 3"}, texts(in))
	in.Policy = policy(t, "marks: {ornaments: first}\n")
	require.Equal(t, []string{"1"}, texts(in))
	in = piece(t, p, score.Right, []string{"1"}, 60)
	in.Alternatives = []int{5}
	require.Equal(t, []string{"1", "or 5 in parentheses"}, texts(in))

	tied := piece(t, p, score.Right, []string{"1", "1"}, 60, 60)
	tied.Score.Notes[0].TiedTo, tied.Score.Notes[1].TiedFrom = 1, 0
	tied.Substitution[0], tied.Print[1] = 2, false // the second finger, 2, holds the tied note
	require.Equal(t, []string{"1", "2"}, texts(tied))
	tied.Policy = policy(t, "marks: {ties: first}\n")
	require.Equal(t, []string{"1", "then 2"}, texts(tied))
}

// Each responsibility has its look; an editor's digit where the composer has
// one is an alternative; a single witness's digit is bracketed.
func TestLooks(t *testing.T) {
	p := policy(t, "marks: {tradition: composer-upright}\nwitness: {prints: composer}\n")
	in := piece(t, p, score.Right, []string{"1", "1", "1"}, 60, 64, 67)
	in.Credit = []mark.Credit{{Who: score.Editor}, {Who: score.Composer, Single: true}, {Who: score.Earlier}}
	in.Score.Notes[0].Indications = []score.Indication{{Text: "4", Fingers: []int{4}}}
	in.Whose[0] = []score.Responsibility{score.Composer}
	marks := mark.Marking(in).Marks
	require.True(t, marks[0].Digits[0].Alternate)
	require.Equal(t, score.Style{Italic: true, Size: "small", Enclosure: score.Parentheses}, marks[0].Digits[0].Style)
	require.Equal(t, []score.Restyle{{Style: score.Style{Bold: true}, Placement: score.Above}}, marks[0].Restyles)
	require.Equal(t, score.Style{Bold: true, Enclosure: score.Brackets}, marks[1].Digits[0].Style)
	require.Equal(t, score.Style{Enclosure: score.Parentheses}, marks[2].Digits[0].Style)
}

// A grip that an editor sets beside the text's is an alternative as far as it would be read with the text's digit: one finger on two keys.
func TestAGripBesideTheTextsIsAnAlternative(t *testing.T) {
	for _, c := range []struct {
		fingers     []string
		who         score.Responsibility
		alternative []bool
	}{
		{[]string{"4", "5"}, score.Composer, []bool{true, true}},
		{[]string{"4", "5"}, score.Earlier, []bool{true, true}},
		{[]string{"3", "5"}, score.Composer, []bool{false, true}}, // goes with the text's 4, too
		{[]string{"4", "5"}, score.Editor, []bool{false, false}},  // lint has a word on it
	} {
		in := piece(t, policy(t, "extends: default\n"), score.Right, []string{"1", "1"}, 65, 69)
		for i := range in.Score.Notes {
			in.Finger[i], in.Credit[i] = int(c.fingers[i][0]-'0'), mark.Credit{Who: score.Editor}
		}
		in.Score.Notes[1].Indications = []score.Indication{{Text: "4", Fingers: []int{4}}}
		in.Whose[1] = []score.Responsibility{c.who}
		var got []bool
		for _, m := range mark.Marking(in).Marks {
			got = append(got, m.Digits[0].Alternate)
		}
		require.Equal(t, c.alternative, got, "%s %s", c.fingers, c.who)
	}
}

// An editor's digit beside one that stands is no second digit of a chord: it is enclosed, whoever the other is of, also where
// the house style puts nothing around alternatives. Beside a digit of the editor's own there is nothing to tell apart.
func TestAnEditorsDigitBesideAnotherHandsIsEnclosed(t *testing.T) {
	for text, want := range map[string]score.Enclosure{
		"extends: default\n": score.Parentheses,
		"extends: default\nmarks:\n  alternative: brackets\n":                                score.Brackets,
		"extends: default\nmarks:\n  alternative: none\nbeside:\n  composer: never\n":        score.Brackets,
		"extends: default\nmarks:\n  alternative: parentheses\nbeside:\n  composer: never\n": score.Parentheses,
	} {
		for who, enclosed := range map[score.Responsibility]bool{score.Composer: true, score.Earlier: true, score.Editor: false} {
			in := piece(t, policy(t, text), score.Left, []string{"1", "1"}, 50, 53)
			in.Score.Notes[1].Indications = []score.Indication{{Text: "5", Fingers: []int{5}}}
			in.Whose[1] = []score.Responsibility{who}
			in.Finger[1], in.Credit[1] = 3, mark.Credit{Who: score.Editor}
			marks := mark.Marking(in).Marks
			d := marks[len(marks)-1].Digits
			require.Len(t, d, 1)
			require.Equal(t, "3", d[0].Text)
			require.Equal(t, enclosed, d[0].Alternate, "%s %s", text, who)
			if enclosed {
				require.Equal(t, want, d[0].Style.Enclosure, "%s %s", text, who)
			} else {
				require.Equal(t, score.NoEnclosure, d[0].Style.Enclosure, "%s %s", text, who)
			}
		}
	}
}
