package fix_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_services/fix"
	"fingerproof/rules/lint"

	"github.com/stretchr/testify/require"
)

const wrongOrder = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list>
<part id="P1">
<measure number="1"><attributes><divisions>1</divisions></attributes>
<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><notations><technical>
  <fingering placement="below">3</fingering><!-- kept --><fingering substitution="yes">1</fingering>
</technical></notations></note></measure></part></score-partwise>
`

// found is a score with findings that ask for these edits.
func found(t *testing.T, edits ...[]score.Mark) fix.Input {
	t.Helper()
	doc, err := source.Open("x.musicxml", []byte(wrongOrder), source.DefaultLimits())
	require.NoError(t, err)
	s, layout, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	in := fix.Input{File: "x.musicxml", Document: doc, Layout: layout, Score: s}
	for _, e := range edits {
		in.Findings = append(in.Findings, lint.Finding{Rule: "some-rule", Edit: e})
	}
	return in
}

func TestFixMovesAndReordersAndIsTakenBackByteForByte(t *testing.T) {
	in := found(t,
		[]score.Mark{{Note: 0, Restyles: []score.Restyle{{Ordinal: 0, Placement: score.Above}}}},
		[]score.Mark{{Note: 0, Order: []int{1, 0}}},
		nil)
	fixed, err := fix.Make(in)
	require.NoError(t, err)
	require.Len(t, fixed.Done, 2)
	want := strings.Replace(wrongOrder,
		`<fingering placement="below">3</fingering><!-- kept --><fingering substitution="yes">1</fingering>`,
		`<fingering substitution="yes">1</fingering><!-- kept --><fingering placement="above">3</fingering>`, 1)
	require.Equal(t, want, string(fixed.Data))
	back, err := source.TakeBack(fixed.Data, fixed.Record, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, wrongOrder, string(back))
}

func TestFixLeavesAloneWhatIsNotSafe(t *testing.T) {
	for name, edit := range map[string][]score.Mark{
		"adds a digit": {{Note: 0, Digits: []score.MarkDigit{{Text: "2"}}}},
		"adds a sign":  {{Note: 0, Directions: []score.MarkDirection{{Text: "m.s."}}}},
		"in words":     nil,
	} {
		fixed, err := fix.Make(found(t, edit))
		require.NoError(t, err, name)
		require.Nil(t, fixed, name)
	}
	_, err := fix.Make(found(t, []score.Mark{{Note: 0, Order: []int{1, 1}}}))
	require.ErrorContains(t, err, "is no order of 2 digits")

	// Two that ask for different things: the first counts, the other is left to people.
	fixed, err := fix.Make(found(t,
		[]score.Mark{{Note: 0, Restyles: []score.Restyle{{Ordinal: 0, Placement: score.Above}}}},
		[]score.Mark{{Note: 0, Restyles: []score.Restyle{{Ordinal: 0, Placement: score.Below}}}}))
	require.NoError(t, err)
	require.Len(t, fixed.Done, 1)
	require.Contains(t, string(fixed.Data), `placement="above">3<`)
}
