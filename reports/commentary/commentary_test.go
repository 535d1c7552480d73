package commentary_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/reports/commentary"

	"github.com/stretchr/testify/require"
)

// beats counts quarters from one.
func beats(_ int, onset score.Fraction) string { return onset.Add(score.Whole(1)).String() }

func TestCommentaryTellsWhatAnEditorAsks(t *testing.T) {
	c := commentary.New(&corpus.Collection{Title: "Pieces <of> mine", Composer: "Nobody"})
	p := &corpus.Piece{
		ID: "a",
		Witnesses: []corpus.Witness{
			{Siglum: "B", Name: "second edition", Numbering: corpus.Old, Responsibility: "composer"},
			{Siglum: "C", Numbering: "modern", Responsibility: "earlier"},
		},
	}
	composers, earlier := score.Composer, score.Earlier
	r := &state.Result{Piece: "a", Summary: state.Summary{Hand: "ninth hand (210 mm)"}, Notes: []state.Note{
		{N: 0, Measure: "1", Pitch: "C#5", Midi: 73, Hand: score.Right, Finger: 3, Agent: "kp", Printed: true,
			Responsibility: composers, Source: []state.Source{
				{Text: "2", Responsibility: composers},
				{Text: "+", Fingers: []int{1}, Responsibility: composers, Witnesses: []string{"B"}, WitnessOnly: true},
			}},
		{N: 1, Measure: "1", Pitch: "Ebb5", Midi: 74, Hand: score.Right, Finger: 4, Printed: true,
			Responsibility: composers, Source: []state.Source{
				{Text: "4", Responsibility: composers, Witnesses: []string{"B", "C"}},
				{Text: "5", Responsibility: earlier, Substitution: true, Witnesses: []string{"C"}, WitnessOnly: true},
				{
					Text: "(3)", Fingers: []int{3}, Responsibility: composers, Alternate: true,
					Witnesses:   []string{"B"},
					WitnessOnly: true,
				},
			}},
		{
			N: 2, Measure: "1", Onset: score.Frac(3, 2), Pitch: "D5", Midi: 74, Hand: score.Right, Finger: 2, Beside: 1,
			Source: []state.Source{{Text: "2", Responsibility: composers}},
		},
		{N: 3, Measure: "1", Onset: score.Frac(3, 2), Pitch: "D5", Midi: 74, Hand: score.Right, Finger: 2, Tied: true},
		{N: 4, Measure: "2", MeasureIndex: 1, Pitch: "C4", Midi: 60, Hand: score.Left, Finger: 1},
		{
			N: 5, Measure: "2", MeasureIndex: 1, Pitch: "C5", Midi: 72, Hand: score.Right, Finger: 1,
			Carried: true,
			Source: []state.Source{
				{Text: "9", Responsibility: composers, Witnesses: []string{"B"}, WitnessOnly: true},
			},
		},
		{N: 6, Measure: "3", MeasureIndex: 2, Pitch: "Bb3", Midi: 58, Hand: score.Left, Finger: 1},
	}, Redistributions: []state.Redistribution{
		{
			To: score.Right, Reason: "decided", Decided: true, Why: "the bass stays",
			Notes: []state.RedistributedNote{{N: 4, Finger: 1}},
		},
		{
			To: score.Right, Reason: "reach", Notes: []state.RedistributedNote{{N: 6, Finger: 1}},
			Around: []state.RedistributedNote{{N: 4, Finger: 5}, {N: 5, Finger: 4}},
		},
	},
		Witnesses: []state.Witness{{Siglum: "B", Digits: 3, Unplaced: 2, Odd: 1}, {Siglum: "C", Digits: 1}},
		Returns: []state.Return{{
			Apart: true, Notes: 5, Alike: 3,
			First: state.ReturnPassage{Hand: score.Left, Measure: "1", ToMeasure: "2", Beat: "1"},
			Later: state.ReturnPassage{Hand: score.Left, Measure: "9", ToMeasure: "10", Beat: "1"}}},
		Findings: []state.Finding{{Rule: "decision-query", Measure: "2", Message: "kp asks: really?"}},
	}
	c.Add(p, r, policies.Default(), beats)
	md := string(c.Markdown())
	for _, want := range []string{
		"Pieces &lt;of> mine: editorial", "Fingered for the ninth hand (210 mm).", "| *3* | italic | the composer's |",
		"B (second edition): fingers numbered + 1 2 3 4, + the thumb; given here as 1 to 5, its digits taken as the composer's; 3 " +
			"digits at notes of the text, 2 on notes that the text does not have; 1 of all are no fingers in its " +
			"numbering",
		"The composer's digits stand on 3 notes: right hand, m. 1.",
		"carried to 1 note of passages that return: right hand, m. 2.",
		"m. 1, right hand, beat 1, C♯5: the composer's 2; ours 3 (kp).",
		"m. 1, right hand, beat 1, C♯5+E𝄫5: text 2+4; B 1+4 or 3; C –+4-5.",
		"m. 2, right hand, beat 1, C5: text no digit; B “9”, which is no finger in its numbering.",
		"m. 1, right hand, beat 5/2, D5: the composer's 2; beside it 1.",
		"m. 2, beat 1: the right hand takes C4 with 1. Reason: the bass stays.",
		"m. 3, beat 1: the right hand may take B♭3 with 1. Reason: the grip of the left hand goes beyond the hand. " +
			"With it in the right hand: in m. 2 C5 with 4. With it in the left hand: in m. 2 C4 with 5.",
		"m. 9–10, beat 1, left hand returns from m. 1–2, beat 1, left hand and is fingered for itself: another " +
			"finger on 2 of 5 notes.",
		"m. 2: kp asks: really?", "6 notes struck, 2 notes with a digit in print (33 in 100): 2 the composer's", "on 1 note.",
		"| a | 6 | 2 | 2 | 0 | 0 | 0 | 1 |", "Pain is a reason to stop",
	} {
		require.Contains(t, md, want)
	}
	page, err := c.HTML()
	require.NoError(t, err)
	require.NotContains(t, string(page), "<of>")
	require.NotContains(t, strings.ToLower(string(page)), "http")
	require.NotContains(t, string(page), "ZgotmplZ", "a look that the template takes for unsafe")
	require.Contains(t, string(page), "the composer&#39;s 2; ours 3 (kp).")
	require.Contains(t, string(page), `<span style="font-style:italic;">3</span>`)
	require.Equal(t, md, string(c.Markdown()))
}

// Where several play, each player's hands are told apart.
func TestPlayers(t *testing.T) {
	c := commentary.New(&corpus.Collection{})
	note := func(n int, part string, h score.Hand, finger int) state.Note {
		return state.Note{
			N: n, Part: part, Measure: "3", MeasureIndex: 2, Pitch: "C5", Midi: 72, Hand: h, Finger: finger,
			Source: []state.Source{{Text: "2", Responsibility: score.Composer}},
		}
	}
	c.Add(
		&corpus.Piece{ID: "a"},
		&state.Result{
			Piece: "a",
			Notes: []state.Note{
				note(0, "P9", score.Right, 3), note(1, "P9", score.Left, 2), note(2, "P1", score.Right, 4),
			},
		},
		policies.Default(), beats,
	)
	md := string(c.Markdown())
	for _, want := range []string{
		"on 3 notes: player 1, right hand, m. 3; player 1, left hand, m. 3; player 2, right hand, m. 3.",
		"m. 3, player 1, right hand, beat 1, C5: the composer's 2; ours 3.",
		"m. 3, player 2, right hand, beat 1, C5: the composer's 2; ours 4.",
	} {
		require.Contains(t, md, want)
	}
}

// A redistribution that was decided without a reason, a return fingered alike after all, a grace note, and what is
// printed by whose it is; of an edition for press.
func TestForPress(t *testing.T) {
	c := commentary.New(&corpus.Collection{})
	note := func(n int, part string, whose score.Responsibility) state.Note {
		return state.Note{
			N: n, Part: part, Measure: "3", MeasureIndex: 2, Pitch: "C5", Midi: 72, Hand: score.Right, Finger: 3,
			Printed: whose != score.Open, Responsibility: whose,
		}
	}
	grace := note(3, "P1", score.Editor)
	grace.Grace, grace.Source = 1, []state.Source{{Text: "2", Responsibility: score.Composer}}
	c.Add(
		&corpus.Piece{ID: "a"},
		&state.Result{
			Piece: "a", Summary: state.Summary{Hand: "ninth hand (210 mm)", Press: true},
			Notes: []state.Note{
				note(0, "P1", score.Earlier), note(1, "P2", score.Editor), note(2, "P2", score.Open), grace,
			},
			Redistributions: []state.Redistribution{
				{To: score.Left, Decided: true, Notes: []state.RedistributedNote{{N: 1, Finger: 2}}},
			},
			Returns: []state.Return{{
				First: state.ReturnPassage{Measure: "1", ToMeasure: "1", Beat: "1", Hand: score.Right},
				Later: state.ReturnPassage{Measure: "3", ToMeasure: "3", Beat: "1", Hand: score.Right},
				Apart: true, Notes: 4, Alike: 4,
			}},
		},
		policies.Default(), beats,
	)
	md := string(c.Markdown())
	for _, want := range []string{
		"Fingered for the ninth hand (210 mm). For press: only digits that stand in the text or were decided are printed.",
		"m. 3, beat 1: the left hand of player 2 takes C5 with 2. Reason: decided by the editor.",
		"m. 3, player 1, right hand, grace note at beat 1, C5: the composer's 2; ours 3.",
		"m. 3, beat 1, right hand returns from m. 1, beat 1, right hand and is fingered for itself, note for note " +
			"with " +
			"the same fingers all the same.",
		"| a | 4 | 3 | 1 | 1 | 2 | 1 |", // the grace note bears the composer's digit and the editor's
	} {
		require.Contains(t, md, want)
	}
}

// What is left open for press is said in preface and commentary, who fingers without a name in the house style is named by the
// initials, and an alternative for somebody says for whom.
func TestWhatAReaderIsToKnowOfAnEditionForPress(t *testing.T) {
	c := commentary.New(&corpus.Collection{})
	note := func(n int, agent string) state.Note {
		return state.Note{
			N: n, Part: "P1", Measure: "3", MeasureIndex: 2, Pitch: "C5", Midi: 72, Hand: score.Right, Finger: 3,
			Printed: agent != "", Responsibility: score.Editor, Agent: agent,
		}
	}
	other := note(2, "")
	other.Second, other.SecondFor = 4, "smaller hands"
	c.Add(&corpus.Piece{ID: "a"}, &state.Result{
		Piece: "a", Summary: state.Summary{Press: true}, Notes: []state.Note{note(0, "CD"), note(1, "AB"), other},
		Open: []state.OpenMeasure{{Measure: "4", Notes: []int{7, 8}}},
	}, policies.Default(), beats)
	preface, commentary := string(c.Preface()), string(c.Markdown())
	const open = "Nobody has decided the digits of 2 notes yet: they are not printed, though"
	require.Contains(t, preface, "Fingered by: AB, CD.")
	require.Contains(t, preface, open)
	require.Contains(t, commentary, open)
	require.Contains(t, commentary, "\nFingered by: AB, CD.\n")
	require.Contains(t, commentary, "### Second fingerings in print, and for whom\n\n- m. 3, beat 1, right hand: C5 with 4. For: smaller hands.\n")
	require.Contains(t, commentary, "3 notes with a digit in print (100 in 100): 0 the composer's, 0 of earlier hands, 3 the editor's.")
}

// chordsOf gives the notes of chords of one hand, an eighth each, with the fingers of each from the lowest.
func chordsOf(r *state.Result, hand score.Hand, measure int, chords ...string) (out []state.RedistributedNote) {
	for k, chord := range chords {
		for _, key := range strings.Fields(chord) {
			name, finger, _ := strings.Cut(key, "=")
			n := state.Note{
				N: len(r.Notes), Measure: strconv.Itoa(measure), MeasureIndex: measure - 1, Onset: score.Frac(int64(k), 2), Hand: hand,
				Pitch: name, Midi: 12*int(name[len(name)-1]) + strings.Index("C D EF G A B", name[:1]), Finger: int(finger[0] - '0'),
			}
			r.Notes = append(r.Notes, n)
			out = append(out, state.RedistributedNote{N: n.N, Finger: n.Finger})
		}
	}
	return out
}

// Fingerings with a reason: chords as chords, a figure that is repeated once, what is alike in other measures once with its
// places, each hand for itself, a change on the key; and no digit in parentheses, which are an earlier hand's.
func TestFingeringsWithAReason(t *testing.T) {
	r := &state.Result{Piece: "a"}
	waltz := func(measure int) []state.RedistributedNote {
		return chordsOf(r, score.Left, measure, "C3=4 E3=2 G3=1", "E4=1 C3=5 G3=2", "C3=5 G3=2 E4=1", "C3=5 G3=2 E4=1")
	}
	r.Reasons = []state.DigitReason{
		{By: "KE", Why: "as written.", Notes: waltz(15)},
		{By: "KE", Why: "in legato", Notes: append(chordsOf(r, score.Right, 16, "D5=1", "B4=3", "C5=4"), chordsOf(r, score.Left, 16, "C3=5")...)},
		{By: "KE", Why: "as written.", Notes: waltz(20)},
		{By: "KE", Why: "even", Notes: append(
			chordsOf(r, score.Left, 30, "C3=5", "G3=1", "E3=3", "G3=1", "C3=5", "G3=1", "E3=3", "G3=1", "D3=5"),
			chordsOf(r, score.Left, 31, "C3=5", "G3=1", "E3=3", "G3=1", "C3=5", "G3=1", "E3=3", "G3=1", "C3=5", "C3=4")...)},
	}
	for i := range r.Notes {
		if r.Notes[i].Pitch == "C5" {
			r.Notes[i].Substitution = []int{5}
		}
	}
	c := commentary.New(&corpus.Collection{})
	c.Add(&corpus.Piece{ID: "a"}, r, policies.Default(), beats)
	md := string(c.Markdown())
	for _, want := range []string{
		"- m. 15, beat 1; m. 20, beat 1, left hand: C3+E3+G3 with 4+2+1; C3+G3+E4 with 5+2+1, 3 times. Reason: as written.\n",
		"- m. 16, beat 1, right hand: D5 B4 C5 with 1 3 4-5. Reason: in legato.\n",
		"- m. 16, beat 1, left hand: C3 with 5. Reason: in legato.\n",
		"- m. 30, beat 1, left hand: C3 G3 E3 G3 with 5 1 3 1, 2 times, and again in m. 31, beat 1; D3 with 5; in m. 31 C3 C3 with 5 4. " +
			"Reason: even.\n",
	} {
		require.Contains(t, md, want)
	}
	require.Equal(t, 1, strings.Count(md, "as written"))
	require.NotRegexp(t, `\(\d\)`, md)
}

// What an editor let stand is part of the commentary with its reason, once for like places; what nobody answered is counted,
// and a piece of which such stands is no piece without remark.
func TestWhatAnEditorLetStand(t *testing.T) {
	doubled := func(measure int, beat string, onset int64) state.Stet {
		return state.Stet{By: "KE", Why: "as the source", Finding: state.Finding{
			Rule: "sign-doubled", Message: "\"f\" stands here twice", Measure: strconv.Itoa(measure), MeasureIndex: measure - 1,
			Onset: score.Whole(onset), Beat: beat,
		}}
	}
	r := &state.Result{Piece: "a", Stets: []state.Stet{
		doubled(5, "1", 0), doubled(5, "3", 2), doubled(10, "1", 0),
		{By: "KE", Why: "held in the pedal.", Finding: state.Finding{
			Rule: "hands-collide", Message: "Bb4 is struck by both hands at once", Measure: "12", MeasureIndex: 11, Beat: "1", Hand: score.Left,
		}},
		{By: "KE", Why: "as before", NotFound: true, Finding: state.Finding{
			Rule: "span-at-the-edge", Message: "a span is at the edge of the hand, not found as digits, hand and policy stand now",
			Measure: "14", MeasureIndex: 13, Beat: "1", Hand: score.Left,
		}},
		{By: "KE", Why: "by the digits that were decided", Finding: state.Finding{Rule: "decision-query", Message: "KE asks: 5?", Measure: "1"}},
	}}
	r.Notes = []state.Note{{N: 0, Measure: "1", Pitch: "C5", Midi: 72, Hand: score.Right, Finger: 1}}
	for _, measure := range []int{8, 29} {
		notes := chordsOf(r, score.Right, measure, "A4=4")
		r.Stets = append(r.Stets, state.Stet{Why: "so the edition", Finding: state.Finding{
			Rule: "return-differs", Notes: []int{notes[0].N}, Measure: strconv.Itoa(measure), MeasureIndex: measure - 1, Beat: "1",
			Hand:    score.Right,
			Message: fmt.Sprintf("A4 has 4 here and 5 where the passage stood before (m. 1); 2 of %d digits of the passage differ", measure),
		}})
	}
	line := chordsOf(r, score.Right, 40, "C6=1", "B5=3", "A5=2")
	r.Stets = append(r.Stets, state.Stet{Why: "best in legato", Finding: state.Finding{
		Rule: "personal-fingering", Message: "the editor's 1-3-2 from C6 to A5 gains them nothing", Notes: []int{line[0].N, line[1].N, line[2].N},
		Measure: "40", MeasureIndex: 39, Beat: "1", Hand: score.Right,
	}})
	for k := range 8 {
		s := doubled(30+k/2, strconv.Itoa(1+k%2), int64(k%2))
		s.Finding.Message = "\"p\" stands here twice"
		r.Stets = append(r.Stets, s)
	}
	in := func(language string, r *state.Result) string {
		path := filepath.Join(t.TempDir(), "policy.yaml")
		require.NoError(t, os.WriteFile(path, []byte("extends: performance\nlanguage: "+language+"\n"), 0o644))
		policy, err := policies.Load(path)
		require.NoError(t, err)
		c := commentary.New(&corpus.Collection{})
		c.Add(&corpus.Piece{ID: "a"}, r, policy, nil)
		page, err := c.HTML()
		require.NoError(t, err)
		require.Equal(t, strings.Contains(string(page), c.Say("nothing")), strings.Contains(string(c.Markdown()), c.Say("nothing")))
		return string(c.Markdown())
	}
	require.Contains(t, in("de", r), "Was die Prüfung dort fand, sagt sie auf Englisch; hier steht es nicht.")
	require.NotContains(t, in("en", r), "What was found, and the editor's reason")
	md := in("en", r)
	for _, want := range []string{
		"### Left as it stands, and why\n",
		"- m. 5, beat 1; beat 3; m. 10, beat 1: \"f\" stands here twice. Reason: as the source.\n",
		"- left hand, m. 12, beat 1: B♭4 is struck by both hands at once. Reason: held in the pedal.\n",
		"- right hand, m. 8, beat 1; m. 29, beat 1: A4 has 4 here and 5 where the passage stood before (m. 1). Reason: so the edition.\n",
		"- mm. 30–33: \"p\" stands here twice. Reason: as the source.\n",
	} {
		require.Contains(t, md, want)
	}
	require.NotContains(t, md, "Nothing to remark")
	require.NotContains(t, md, "asks")
	require.NotContains(t, md, "not found") // the terminal tells it, no reader of the edition
	require.Contains(t, md, "- right hand, m. 40, beat 1: C6 B5 A5 with 1 3 2. Reason: best in legato.\n")
	de := in("de", r)
	require.Contains(t, de, "- rechte Hand, T. 8, Zählzeit 1; T. 29, Zählzeit 1: A4 mit 4. Grund: so the edition.\n")
	require.NotContains(t, de, "stands here")

	r = &state.Result{Piece: "a", Findings: []state.Finding{{Rule: "sign-doubled", Measure: "5"}, {Rule: "tie-missing", Measure: "6"}}}
	md = in("en", r)
	require.Contains(t, md, "No editor has remarked on anything here; 2 findings of the checks are unanswered.")
	require.NotContains(t, md, "Nothing to remark")
	require.Contains(t, in("en", &state.Result{Piece: "a"}), "Nothing to remark.")
}

// A folder without a manifest has no title; two styles of one name are told
// apart, and each piece names its own.
func TestHeadingsAndStyles(t *testing.T) {
	c := commentary.New(&corpus.Collection{})
	for k, text := range []string{
		"extends: performance\n", "extends: performance\nmarks: {editor: {colour: \"#AA0000\"}, open: {size: 7.5}}\n",
	} {
		path := filepath.Join(t.TempDir(), []string{"policy.yaml", "second.yaml"}[k])
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		p, err := policies.Load(path)
		require.NoError(t, err)
		c.Add(&corpus.Piece{ID: "a"}, &state.Result{Piece: "a", Notes: []state.Note{
			{Printed: true, Finger: 1, Responsibility: score.Editor}, {N: 1, Printed: true, Finger: 1, Responsibility: score.Open},
		}}, p, nil)
	}
	c.Fail(&corpus.Piece{ID: "b"}, errors.New("no score\nhint: none"))
	md := string(c.Markdown())
	require.True(t, strings.HasPrefix(md, "# Editorial commentary\n"), md[:60])
	for _, want := range []string{
		"(performance)", "(performance, 2)", "House style: performance\n",
		"House style: performance, 2\n", "Nothing to remark.", "Could not be worked on: no score\n",
	} {
		require.Contains(t, md, want)
	}
	page, err := c.HTML()
	require.NoError(t, err)
	require.Contains(t, string(page), `style="font-style:italic;font-size:small;color:#AA0000;"`)
	require.Contains(t, string(page), `style="font-style:italic;font-size:7.5pt;"`)
}

// What was let stand for one reason at many places in as many words is one line, and what concerns the file alone is none.
func TestOneReasonIsOneLine(t *testing.T) {
	r := &state.Result{Piece: "a", Notes: []state.Note{{N: 0, Measure: "1", Pitch: "C5", Midi: 72, Hand: score.Right, Finger: 1}}}
	for k, key := range []string{"C5", "D5", "E5", "F5"} {
		for _, rule := range []string{"accidental-doubtful", "value-against-length"} {
			r.Stets = append(r.Stets, state.Stet{By: "KE", Why: "so in the autograph", Finding: state.Finding{
				Rule: rule, Message: key + " wants a word", Measure: strconv.Itoa(k + 1), MeasureIndex: k, Beat: "1", Hand: score.Right,
			}})
		}
	}
	of := func(r *state.Result) string {
		c := commentary.New(&corpus.Collection{})
		c.Add(&corpus.Piece{ID: "a"}, r, policies.Default(), nil)
		return string(c.Markdown())
	}
	md := of(r)
	require.Contains(t, md, "- m. 1, beat 1; m. 2, beat 1; m. 3, beat 1; m. 4, beat 1: C5 wants a word; at the other places the like of other notes. Reason: so in the autograph.\n")
	require.Equal(t, 1, strings.Count(md, "so in the autograph"))
	r.Stets = r.Stets[:6]
	require.Equal(t, 3, strings.Count(of(r), "so in the autograph"), "a few are told each in its words")
}

// Pieces of several composers are listed with theirs; those of one are not.
func TestPrefaceNamesComposersWhereThereAreSeveral(t *testing.T) {
	of := func(composers ...string) string {
		c := commentary.New(&corpus.Collection{})
		for i, who := range composers {
			r := &state.Result{Piece: strconv.Itoa(i)}
			r.Summary.Title, r.Summary.Composer = "Study "+strconv.Itoa(i), who
			c.Add(&corpus.Piece{ID: r.Piece}, r, policies.Default(), nil)
		}
		return string(c.Preface())
	}
	require.Contains(t, of("N. One", "N. Two"), "- N. One: Study 0\n- N. Two: Study 1\n")
	require.Contains(t, of("N. One", "N. One"), "- Study 0\n- Study 1\n")
	require.Contains(t, of("N. One", ""), "- N. One: Study 0\n- Study 1\n")
}
