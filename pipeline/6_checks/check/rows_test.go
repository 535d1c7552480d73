package check_test

import (
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/6_checks/check"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// A digit of a mordent that is another than was passed is told, though its first finger is the same; of a state that kept no such
// rows it is said that they were not compared.
func TestARowOfDigitsIsCompared(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1"><measure number="1">` +
		`<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef>` +
		`<clef number="2"><sign>F</sign><line>4</line></clef></attributes>`)
	for k, step := range []string{"C", "D", "E", "F"} {
		sign := ""
		if k == 2 {
			sign = "<notations><ornaments><mordent/></ornaments></notations>"
		}
		b.WriteString(`<note><pitch><step>` + step + `</step><octave>5</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type><staff>1</staff>` + sign + `</note>`)
	}
	b.WriteString(`</measure></part></score-partwise>`)
	in := inputs{data: []byte(b.String()), policy: policies.Default(), piece: corpus.Piece{ID: "m", Score: "m.musicxml", Scoring: corpus.TwoHands}}
	first := work(t, in)
	row := func(fingers ...int) decision.Decision {
		ref := decision.NewFinder(first.Score).Ref(2, fingers)
		return decision.Decision{Verb: decision.Amend, On: decision.Notes, By: "AB", When: today, Notes: []decision.NoteRef{ref}}
	}
	in.decisions = []decision.Decision{row(3, 2, 3)}
	was := stateOf(work(t, in))
	require.Equal(t, "3-2-3", was.Notes[2].Row)
	require.Empty(t, check.Compare(work(t, in), was, in.data).Changes)
	in.decisions = []decision.Decision{row(3, 1, 3)}
	now := work(t, in)
	changes := check.Compare(now, was, in.data).Changes
	said := func(c check.Change) string { return c.Sentence() }
	require.True(t, slices.ContainsFunc(changes, func(c check.Change) bool {
		return said(c) == "m. 1, right hand, beat 3, E5: row of digits was 3-2-3, is 3-1-3" && c.Cause != ""
	}), "%+v", changes)
	older := *was
	older.Rows = false
	older.Notes = slices.Clone(was.Notes)
	older.Notes[2].Row = ""
	p := check.Compare(now, &older, in.data)
	require.NotContains(t, strings.Join(p.Notices, "\n"), "row of digits")
	require.Contains(t, strings.Join(p.Notices, "\n"), "did not keep the digits at trills, turns and mordents but the first")
}
