package keying_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"

	"github.com/stretchr/testify/require"
)

// withFindings is twoHands with what lint might say: of a chord in passage 7's measure, of a beat, of a measure as a whole.
func withFindings(t *testing.T) *keying.Keying {
	k := twoHands(t)
	span := keying.Found{Rule: "span-beyond-hand", Measure: 1, Hand: score.Right, Speaks: []int{8}, Notes: []int{8}}
	passing := keying.Found{Rule: "passing", Measure: 1, Hand: score.Right, Speaks: []int{9, 8}, Notes: []int{9}}
	measure := keying.Found{Rule: "measure-does-not-add-up", Measure: 0, Notes: []int{0}}
	query := keying.Found{Rule: "decision-query", Measure: 0, Hand: score.Right, Speaks: []int{1}, Notes: []int{1}, Instead: "answer it"}
	k.Found = []keying.Found{span, passing, measure, query}
	k.Passages[1].Findings = []keying.Found{span, passing}
	k.Passages[0].Findings = []keying.Found{query}
	return k
}

// What lines say of findings, by number and by place.
func TestFindingsAreAnsweredInLines(t *testing.T) {
	for line, want := range map[string]string{
		"#7 stet: rolled":                        "stet finding, span-beyond-hand, why rolled; 1+1 A5 | stet finding, passing, why rolled; 1+3/2 B5",
		"#7 stet passing: rolled":                "stet finding, passing, why rolled; 1+3/2 B5",
		"#7 ok: rolled":                          "take notes; 1+1 A5 4; 1+3/2 B5 5 | stet finding, span-beyond-hand, why rolled; 1+1 A5 | stet finding, passing, why rolled; 1+3/2 B5",
		"#7 ok":                                  "take notes; 1+1 A5 4; 1+3/2 B5 5",
		"1 l stet measure-does-not-add-up: so":   "stet finding, measure-does-not-add-up, why so; 0+0 C5",
		"1 r 3 stet measure-does-not-add-up: so": "stet finding, measure-does-not-add-up, why so; 0+0 C5",
		"2 r stet: so":                           "stet finding, span-beyond-hand, why so; 1+1 A5 | stet finding, passing, why so; 1+3/2 B5",
		"1-2 r stet span-beyond-hand: a: b":      "stet finding, span-beyond-hand, why a: b; 1+1 A5",
		"2 r 2.2/8 stet: so":                     "stet finding, passing, why so; 1+3/2 B5",
		"2 r 1 stet":                             "stet notes; 1+0 G5",
		"1 r 1 ok: better in print":              "take notes; 0+0 C5 5-4 | stet finding, measure-does-not-add-up, why better in print; 0+0 C5",
	} {
		k := withFindings(t)
		all, err := keying.Line(k, decision.NewFinder(k.Score), line)
		require.NoError(t, err, line)
		var words []string
		for i := range all {
			words = append(words, inWords(&all[i]))
			require.Equal(t, "AB 2026-03-01", all[i].By+" "+all[i].When)
		}
		require.Equal(t, want, strings.Join(words, " | "), line)
	}
	// What would be found once it is taken is let stand with the same reason; an entry of decisions keeps nothing from it.
	k := withFindings(t)
	k.Passages[1].IfTaken = []keying.Found{{Rule: "fingers-out-of-order", Notes: []int{8}}}
	k.Passages[1].Findings = append(k.Passages[1].Findings, k.Passages[0].Findings...)
	all, err := keying.Line(k, decision.NewFinder(k.Score), "#7 ok: rolled")
	require.NoError(t, err)
	require.Len(t, all, 4)
	require.Equal(t, "fingers-out-of-order", all[3].Rule)
	all, err = keying.Line(k, decision.NewFinder(k.Score), "#7 stet: rolled")
	require.NoError(t, err)
	require.Len(t, all, 2, "nothing is taken, and the query is answered elsewhere")
	// What makes an error once it is taken is taken only with a reason.
	k.Passages[1].WantsReason = true
	_, err = keying.Line(k, decision.NewFinder(k.Score), "#7 ok")
	require.ErrorContains(t, err, "to take #7 as it is makes an error (fingers-out-of-order)\nhint: #7 ok: REASON, or other digits")
	all, err = keying.Line(k, decision.NewFinder(k.Score), "#7 ok: rolled")
	require.NoError(t, err)
	require.Len(t, all, 4)
	// What is found of digits of the text has the reason alone: the digits that are taken beside them were not asked about.
	k = withFindings(t)
	k.Passages[1].Findings = []keying.Found{{Rule: "return-differs", Hand: score.Right, Speaks: []int{7, 1}, Notes: []int{7}}}
	all, err = keying.Line(k, decision.NewFinder(k.Score), "#7 ok: so the edition")
	require.NoError(t, err)
	require.Equal(t, "take notes; 1+1 A5 4; 1+3/2 B5 5", inWords(&all[0]))
	require.Equal(t, "stet finding, return-differs, why so the edition; 1+0 B5", inWords(&all[1]))
	for line, want := range map[string]string{
		"#7 stet":                "2 findings there; a finding stands only with a reason (span-beyond-hand, passing)\nhint: #7 stet: REASON",
		"#7 stet so it is":       "hint: #7 stet: so it is",
		"#7 stet:":               "needs its reason",
		"#7 stet wide: so":       "no finding of wide speaks of that place\nhint: there is span-beyond-hand, passing",
		"#4 stet: so":            "cannot be let stand\nhint: answer it",
		"#9 stet: so":            "there is no passage #9",
		"2 l stet: so":           "no finding speaks of that place",
		"2 r 1 stet passing: so": "no finding of passing speaks of that place\nhint: there is span-beyond-hand, passing",
		"2 x stet: so":           `"x" is no hand`,
		"#4 ok: so":              "nothing is suggested there",
	} {
		k := withFindings(t)
		_, err := keying.Line(k, decision.NewFinder(k.Score), line)
		require.ErrorContains(t, err, want, line)
	}
}

// A passage of the text alone has no notes of a hand: a query about it names the notes by which it is told, or is refused; it is
// never dropped. A line without a hand means what is found of the text, whatever hand is named in it.
func TestWhatIsFoundOfTheTextIsAsked(t *testing.T) {
	k := withFindings(t)
	odd := keying.Found{Rule: "accidental-doubtful", Measure: 1, Hand: score.Right, Speaks: []int{8}, Notes: []int{8}, OfText: true}
	k.Found = append(k.Found, odd)
	k.Passages = append(k.Passages, keying.SheetPassage{Number: 9, Taken: []int{}, Findings: []keying.Found{odd}}, keying.SheetPassage{Number: 10, Taken: []int{}})
	f := decision.NewFinder(k.Score)
	for line, want := range map[string]string{
		"#9 ? is it sharp":               "query finding, accidental-doubtful, why is it sharp; 1+1 A5",
		"2 ? why stet: roll":             "query finding, accidental-doubtful, why why stet: roll; 1+1 A5",
		"#9 stet: so":                    "stet finding, accidental-doubtful, why so; 1+1 A5",
		"2 stet accidental-doubtful: so": "stet finding, accidental-doubtful, why so; 1+1 A5",
	} {
		all, err := keying.Line(k, f, line)
		require.NoError(t, err, line)
		require.Len(t, all, 1, line)
		require.Equal(t, want, inWords(&all[0]), line)
	}
	_, err := keying.Line(k, f, "#10 ? why")
	require.ErrorContains(t, err, "#10 names no note that ? could be about")
	bare := *k
	bare.Found = nil
	_, err = keying.Line(&bare, f, "1 ? why")
	require.ErrorContains(t, err, "nothing is found of the text in m. 1\nhint: name a note, as in: 1 r 1 ? why")
	all, err := keying.Line(k, f, "2 r ? is this stet: or roll")
	require.NoError(t, err)
	require.Equal(t, decision.Query, all[0].Verb, "what follows ? is the question")
	_, err = keying.Line(k, f, "#9 ok")
	require.ErrorContains(t, err, "#9 asks for no digit")
	_, err = keying.Line(k, f, "2 stet span-beyond-hand: so")
	require.Error(t, err, "what is said of a hand's fingering needs its hand")
}

// What was let stand gets another reason from a line that names its rule; no other line means it.
func TestAReasonIsGivenAnew(t *testing.T) {
	k := withFindings(t)
	stands := keying.Found{Rule: "voice-lost", Measure: 1, Hand: score.Right, Speaks: []int{8}, Notes: []int{8}, Stands: true}
	k.Found = append(k.Found, stands)
	f := decision.NewFinder(k.Score)
	all, err := keying.Line(k, f, "2 r stet voice-lost: as the autograph has it")
	require.NoError(t, err)
	require.Equal(t, "stet finding, voice-lost, why as the autograph has it; 1+1 A5", inWords(&all[0]))
	all, err = keying.Line(k, f, "2 r stet: so")
	require.NoError(t, err)
	require.Len(t, all, 2, "the open ones alone")
	_, err = keying.Line(k, f, "2 r ok: so")
	require.NoError(t, err)
	_, err = keying.Line(k, f, "1 r stet voice-lost: so")
	require.ErrorContains(t, err, "no finding of voice-lost")
}
