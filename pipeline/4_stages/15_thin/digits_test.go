package thin_test

import (
	"fmt"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/13_credit"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
)

// suggested is a piece of five neighbouring notes as the stage gets it, fingered as anyone would, in a style that prints
// none of them by itself.
func suggested(t *testing.T, settings map[string]string) thin.Input {
	plain := passage("e4 f4 e4 d4 c4", "34321", thin.Style{})
	n := len(plain.Finger)
	values := map[string]string{
		"digits": "sparse", "courtesy.first": "false", "courtesy.system": "false",
		"courtesy.return": "false", "courtesy.rest": "0",
	}
	for key, value := range settings {
		values[key] = value
	}
	policy, err := policies.Default().Setting(values)
	require.NoError(t, err)
	in := thin.Input{
		Score:      plain.Score,
		Whose:      make([][]score.Responsibility, n),
		Playing:    plain.Playing,
		Decided:    &decide.Placed{},
		Bound:      make([]decide.Digit, n),
		Suggestion: &suggest.Suggestion{Notes: make([]suggest.NoteFingering, n)},
		Beside:     make([]int, n),
		Credited: credit.Output{
			Credits: make([]credit.Credit, n), Changes: make([]int, n), Rows: make([][]int, n),
		},
		Policy: policy, Profile: hand.NinthHand,
	}
	for i := range in.Suggestion.Notes {
		in.Suggestion.Notes[i].Finger = fingering.Finger(plain.Finger[i])
		in.Credited.Credits[i].Who = score.Open
	}
	return in
}

// text puts a digit into the text at a note.
func text(in *thin.Input, note, finger int, who score.Responsibility) {
	n := &in.Score.Notes[note]
	n.Indications = append(n.Indications, score.Indication{Fingers: []int{finger}})
	in.Whose[note] = append(in.Whose[note], who)
}

// What is printed besides what a reader needs, and what is not, case by case, at the third note.
func TestWhatElseIsPrinted(t *testing.T) {
	const at = 2
	amended := decide.Digit{Verb: decision.Amend, Fingers: []int{3}, By: "AB"}
	for _, c := range []struct {
		name     string
		settings map[string]string
		change   func(in *thin.Input)
		want     string // printed digits
		open     string // notes whose digit is open
	}{
		{"nothing by itself", nil, func(*thin.Input) {}, ".....", "[]"},
		{"a change on the held key", nil, func(in *thin.Input) { in.Credited.Changes[at] = 4 }, "..3..", "[2]"},
		{"a row of digits", nil, func(in *thin.Input) { in.Credited.Rows[at] = []int{3, 2, 3} }, "..3..", "[2]"},
		{"no row where the house prints one digit", map[string]string{"marks.ornaments": "first"}, func(in *thin.Input) { in.Credited.Rows[at] = []int{3, 2} }, ".....", "[]"},
		{"a row of one is none", nil, func(in *thin.Input) { in.Credited.Rows[at] = []int{3} }, ".....", "[]"},
		{"the composer's, from a witness", map[string]string{"witness.prints": "composer"}, func(in *thin.Input) {
			in.Credited.Credits[at] = credit.Credit{Who: score.Composer, Sigla: []string{"A"}}
		}, "..3..", "[]"},
		{"a pupil's witness, where the composer's print", map[string]string{"witness.prints": "composer"}, func(in *thin.Input) {
			in.Credited.Credits[at] = credit.Credit{Who: score.Earlier, Sigla: []string{"A"}}
		}, ".....", "[]"},
		{"a pupil's witness, where all print", map[string]string{"witness.prints": "all"}, func(in *thin.Input) {
			in.Credited.Credits[at] = credit.Credit{Who: score.Earlier, Sigla: []string{"A"}}
		}, "..3..", "[]"},
		{"a witness where none print", map[string]string{"witness.prints": "none"}, func(in *thin.Input) {
			in.Credited.Credits[at] = credit.Credit{Who: score.Composer, Sigla: []string{"A"}}
		}, ".....", "[]"},
		{"a witness in a score of the composer's alone", map[string]string{"digits": "composer-only", "witness.prints": "all"}, func(in *thin.Input) {
			in.Credited.Credits[at] = credit.Credit{Who: score.Composer, Sigla: []string{"A"}}
			in.Credited.Credits[at+1] = credit.Credit{Who: score.Earlier, Sigla: []string{"A"}}
		}, "..3..", "[]"},
		{"a second finger beside it", nil, func(in *thin.Input) { in.Beside[at] = 2 }, "..3..", "[2]"},
		{"amended: by the house style, as what is taken", nil, func(in *thin.Input) { in.Bound[at] = amended }, ".....", "[]"},
		{"amended, to be printed always", nil, func(in *thin.Input) { in.Bound[at] = amended; in.Bound[at].Always = true }, "..3..", "[]"},
		{"amended, where it stands already", nil, func(in *thin.Input) { in.Bound[at] = amended; text(in, at, 3, score.Editor) }, ".....", "[]"},
		{"amended, carried here from its return", nil, func(in *thin.Input) { in.Bound[at] = amended; in.Bound[at].Carried = true }, ".....", "[]"},
		{"taken, and printed always", nil, func(in *thin.Input) {
			in.Bound[at] = decide.Digit{Verb: decision.Take, Fingers: []int{3}, Always: true}
		}, "..3..", "[]"},
		{"taken", nil, func(in *thin.Input) { in.Bound[at] = decide.Digit{Verb: decision.Take, Fingers: []int{3}} }, ".....", "[]"},
		{"given to the other hand, with its digit", nil, func(in *thin.Input) {
			in.Decided.Redistributions = []fingering.Redistribution{{Notes: []int{at}}}
			in.Bound[at] = decide.Digit{Verb: decision.Take, Fingers: []int{3}}
		}, "..3..", "[]"},
		{"given to the other hand, without a digit", nil, func(in *thin.Input) { in.Decided.Redistributions = []fingering.Redistribution{{Notes: []int{at}}} }, ".....", "[]"},
		{"amended beside the composer's other digit", map[string]string{"beside.composer": "cheaper"}, func(in *thin.Input) { in.Bound[at] = amended; text(in, at, 4, score.Composer) }, "..3..", "[]"},
		{"amended, where nothing stands beside the composer's", map[string]string{"beside.composer": "never"}, func(in *thin.Input) { in.Bound[at] = amended; text(in, at, 4, score.Composer) }, ".....", "[]"},
		{"open beside the composer's other digit", map[string]string{"digits": "every-note"}, func(in *thin.Input) { text(in, at, 4, score.Composer) }, "34.21", "[0 1 3 4]"},
		{"where the composer's digit says the finger", map[string]string{"digits": "every-note"}, func(in *thin.Input) { text(in, at, 3, score.Composer) }, "34.21", "[0 1 3 4]"},
		{"beside an alternative in the text", map[string]string{"digits": "every-note"}, func(in *thin.Input) {
			text(in, at, 3, score.Editor)
			in.Score.Notes[at].Indications[0].Alternate = true
		}, "34321", "[0 1 2 3 4]"},
		{"beside a hidden digit", map[string]string{"digits": "every-note"}, func(in *thin.Input) { text(in, at, 3, score.Editor); in.Score.Notes[at].Indications[0].Hidden = true }, "34321", "[0 1 2 3 4]"},
		{"beside a digit that is changed to", map[string]string{"digits": "every-note"}, func(in *thin.Input) {
			text(in, at, 3, score.Editor)
			in.Score.Notes[at].Indications[0].Substitution = true
		}, "34321", "[0 1 2 3 4]"},
		{"for press, what is open", map[string]string{"digits": "every-note"}, func(in *thin.Input) { in.Press = true; in.Bound[at] = amended }, "..3..", "[0 1 3 4]"},
		{"the editor's are not open", map[string]string{"digits": "every-note"}, func(in *thin.Input) { in.Credited.Credits[at].Who = score.Editor }, "34321", "[0 1 3 4]"},
		{"carried from a return is open", map[string]string{"digits": "every-note"}, func(in *thin.Input) { in.Credited.Credits[at] = credit.Credit{Who: score.Open, Carried: true} }, "34321", "[0 1 2 3 4]"},
	} {
		in := suggested(t, c.settings)
		c.change(&in)
		out := thin.Digits(in)
		got := ""
		for i, p := range out.Print {
			if p {
				got += fmt.Sprint(in.Suggestion.Notes[i].Finger)
			} else {
				got += "."
			}
		}
		require.Equal(t, c.want, got, c.name)
		require.Equal(t, c.open, fmt.Sprint(out.Open), c.name)
	}
}

// Five neighbouring notes from the thumb up: the first alone has its digit where nothing is printed by itself, and every note
// in a style that prints all.
func TestFiveNotesFromTheThumb(t *testing.T) {
	for digits, want := range map[string][]bool{
		"sparse": {true, false, false, false, false}, "every-note": {true, true, true, true, true},
		"composer-only": {false, false, false, false, false},
	} {
		in := suggested(t, map[string]string{"digits": digits})
		for i, key := range []int{60, 62, 64, 65, 67} {
			in.Score.Notes[i].Midi, in.Suggestion.Notes[i].Finger = key, fingering.Finger(i+1)
		}
		in.Playing = playing.New(in.Score, rightHand(5))
		require.Equal(t, want, thin.Digits(in).Print, digits)
	}
}

// Fingers printed beside others: those offered beside the composer's, and those of the smaller hand where they
// differ and the house prints them; none for press.
func TestFingersPrintedBesideOthers(t *testing.T) {
	smaller := func(settings map[string]string, press bool) []int {
		in := suggested(t, settings)
		in.Press, in.Beside[0] = press, 3
		in.Suggestion.Smaller = []suggest.SmallerPassage{
			{Notes: []int{1, 2, 3}, Fingers: []fingering.Finger{4, 4, 5}},
		}
		in.Score.Notes[3].TiedFrom = 2
		return thin.Digits(in).Alternatives
	}
	require.Equal(t, []int{3, 0, 4, 0, 0}, smaller(map[string]string{"marks.smaller_hand": "true"}, false))
	require.Equal(t, []int{3, 0, 0, 0, 0}, smaller(map[string]string{"marks.smaller_hand": "false"}, false))
	require.Equal(t, []int{0, 0, 0, 0, 0}, smaller(map[string]string{"marks.smaller_hand": "true"}, true))
}

// A key that two voices of a hand strike together has one digit: the decided one, else the first; a note of a chord keeps its
// own, and so does one whose digit says more.
func TestAKeyOfTwoVoicesHasOneDigit(t *testing.T) {
	for name, c := range map[string]struct {
		change func(in *thin.Input)
		want   string // the five notes, then the other voice's
	}{
		"the first":           {func(*thin.Input) {}, "34321."},
		"the decided one":     {func(in *thin.Input) { in.Bound[5] = decide.Digit{Verb: decision.Take, Fingers: []int{3}} }, "34.213"},
		"one in the text":     {func(in *thin.Input) { text(in, 2, 3, score.Editor) }, "34.21."},
		"another finger":      {func(in *thin.Input) { in.Suggestion.Notes[5].Finger = 4 }, "343214"},
		"one that is changed": {func(in *thin.Input) { in.Credited.Changes[5] = 1 }, "34.213"},
		"the text's change": {func(in *thin.Input) {
			text(in, 2, 3, score.Editor)
			in.Credited.Changes[2], in.Credited.Changes[5] = 1, 1
		}, "34.21."},
		"another change than the text's": {func(in *thin.Input) {
			text(in, 2, 3, score.Editor)
			in.Credited.Changes[2], in.Credited.Changes[5] = 1, 2
		}, "34.213"},
		"a row of digits":      {func(in *thin.Input) { in.Credited.Rows[2], in.Credited.Rows[5] = []int{3, 2}, []int{3, 2} }, "343213"},
		"a note of a chord":    {func(in *thin.Input) { in.Score.Notes[5].Voice, in.Score.Notes[1].Onset = "", in.Score.Notes[2].Onset }, "343213"},
		"one of another voice": {func(in *thin.Input) { in.Score.Notes[5].Midi++ }, "343213"},
	} {
		in := suggested(t, map[string]string{"digits": "every-note"})
		other := in.Score.Notes[2]
		other.Voice = "2"
		in.Score.Notes = append(in.Score.Notes, other)
		in.Whose, in.Bound, in.Beside = append(in.Whose, nil), append(in.Bound, decide.Digit{}), append(in.Beside, 0)
		in.Suggestion.Notes = append(in.Suggestion.Notes, in.Suggestion.Notes[2])
		in.Credited.Credits = append(in.Credited.Credits, in.Credited.Credits[2])
		in.Credited.Changes, in.Credited.Rows = append(in.Credited.Changes, 0), append(in.Credited.Rows, nil)
		c.change(&in)
		in.Playing = playing.New(in.Score, rightHand(6))
		got := ""
		for i, p := range thin.Digits(in).Print {
			if p {
				got += fmt.Sprint(in.Suggestion.Notes[i].Finger)
			} else {
				got += "."
			}
		}
		require.Equal(t, c.want, got, name)
	}
}
