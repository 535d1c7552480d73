package keying_test

import (
	"fmt"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"
	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

// Short names for what many tests write.
var (
	parse = scoretest.Read
	music = scoretest.Letters
)

const scale = scoretest.Scale

func TestNotesOfferedToTheOtherHandAreAnsweredByNumber(t *testing.T) {
	s := music(t, scale)
	k := &keying.Keying{Score: s, By: "AB", When: "2026-03-01", Fingers: make([][]int, len(s.Notes)),
		Passages: []keying.SheetPassage{{Number: 7, Notes: []int{4, 5}, Offer: keying.Offer{To: score.Left, Fingers: []int{2, 1}}}}}
	f := decision.NewFinder(s)
	taken, err := keying.Key(k, f, "#7 ok out of reach")
	require.NoError(t, err)
	left, err := keying.Key(k, f, "#7 stet")
	require.NoError(t, err)
	asked, err := keying.Key(k, f, "#7 ? the slur")
	require.NoError(t, err)
	text, err := decision.Append("decisions/p.AB.yaml", nil, "p", "AB", nil, []decision.Decision{*taken})
	require.NoError(t, err)
	back, _, err := decision.Parse("decisions/p.AB.yaml", text)
	require.NoError(t, err)
	plan := decide.Place(decide.Input{Score: s, Decisions: back})
	require.Equal(t, score.Left, plan.Hands[4])
	require.Equal(t, 2, plan.Digits[4].Finger())
	require.Equal(t, "out of reach", plan.Redistributions[0].Why)
	plan = decide.Place(decide.Input{Score: s, Decisions: []decision.Decision{*left}})
	require.Equal(t, [][]int{{4, 5}}, plan.Declined)
	require.Equal(t, score.NoHand, plan.Hands[4])
	plan = decide.Place(decide.Input{Score: s, Decisions: []decision.Decision{*asked}})
	require.Equal(t, []int{4, 5}, plan.Queries[0].Notes)
	_, err = keying.Key(k, f, "#7 3")
	require.ErrorContains(t, err, `"3" is no answer`)
	_, err = keying.Key(k, f, "#7 ?")
	require.ErrorContains(t, err, "a query asks something")
	_, err = keying.Key(k, f, "#7")
	require.ErrorContains(t, err, "nothing is said of it")
}

// The answer to notes offered holds where the same keys stand again, but for places with a line of their own, and where the line
// says that it means its own place alone; a reason may stand behind a colon.
func TestOneAnswerHoldsForLikeOffers(t *testing.T) {
	s := music(t, scale)
	offer := func(like ...int) keying.Offer {
		return keying.Offer{To: score.Left, Fingers: []int{2}, Reason: "reach", Like: like}
	}
	k := &keying.Keying{Score: s, By: "AB", When: "2026-03-01", Fingers: make([][]int, len(s.Notes)), Passages: []keying.SheetPassage{
		{Number: 7, Notes: []int{0}, Offer: offer(8, 9)}, {Number: 8, Notes: []int{2}, Offer: offer()}, {Number: 9, Notes: []int{4}, Offer: offer()},
	}}
	f := decision.NewFinder(s)
	said := func(line string) (out []string) {
		all, err := keying.Line(k, f, line)
		require.NoError(t, err, line)
		for i := range all {
			require.Equal(t, "reach", all[i].Reason)
			out = append(out, fmt.Sprint(all[i].Verb, " ", all[i].Notes[0].Midi, " ", all[i].Why))
		}
		return out
	}
	require.Equal(t, []string{"stet 60 the tune stays", "stet 64 the tune stays", "stet 67 the tune stays"}, said("#7 stet: the tune stays"))
	require.Equal(t, []string{"take 60 "}, said("#7 ok here"))
	require.Equal(t, []string{"take 67 "}, said("#9 ok"))
	_, err := keying.Line(k, f, "#7 ok not 999")
	require.ErrorContains(t, err, "does not go to m. 999")
	require.Equal(t, []string{"take 60 ", "take 67 "}, said("#7 ok not 1"), "that in m. 1 is left out")
	k.Spoken = map[int]bool{7: true, 8: true}
	require.Equal(t, []string{"take 60 why", "take 67 why"}, said("#7 ok why"))
	all, err := keying.Line(k, f, "#7 ? may it")
	require.NoError(t, err)
	require.Len(t, all, 1, "a question is asked once")
}

// Two after-notes close the first measure, a grace note opens the second: five strokes, each with its digit.
func TestAfterNotesAndAGraceNoteAreStrokesOfTheirOwn(t *testing.T) {
	note := func(kind, pitch, duration string) string {
		return `<note>` + kind + `<pitch><step>` + pitch[:1] + `</step><octave>` + pitch[1:] + `</octave></pitch>` + duration + `<voice>1</voice></note>`
	}
	whole, grace := `<duration>4</duration>`, `<grace/>`
	s := parse(t, `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">
<measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`+
		note("", "C5", whole)+note(grace, "G4", "")+note(grace, "A4", "")+`</measure>
<measure number="2">`+note(grace, "B4", "")+note("", "C5", whole)+`</measure></part></score-partwise>`)
	hands := playing.Hands{Piano: make([]bool, len(s.Notes)), Hand: make([]score.Hand, len(s.Notes)), Player: make([]int, len(s.Notes))}
	for n := range s.Notes {
		hands.Piano[n], hands.Hand[n] = true, score.Right
	}
	k := &keying.Keying{Score: s, Playing: playing.New(s, hands), By: "AB", When: "2026-03-01", Fingers: make([][]int, len(s.Notes))}
	d, err := keying.Key(k, decision.NewFinder(s), "1 r 1 5 1 2 | 3 4")
	require.NoError(t, err)
	require.Len(t, d.Notes, 5)
	for n, finger := range []int{5, 1, 2, 3, 4} {
		require.Equal(t, []int{finger}, d.Notes[n].Fingers)
		require.Equal(t, s.Notes[n].Midi, d.Notes[n].Midi)
	}
	d, err = keying.Key(k, decision.NewFinder(s), "2 r 1 3")
	require.NoError(t, err)
	require.Len(t, d.Notes, 1, "the grace note stands on the beat that it leans on")
	require.Equal(t, s.Notes[3].Midi, d.Notes[0].Midi)
}
