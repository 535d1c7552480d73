package pipeline_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// brokenRun is a run of wide broken chords in sixteenths at a tempo, with the digits given (0 for none).
func brokenRun(perMinute int, digits map[int]int) []byte {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`)
	keys := strings.Fields("F5 D4 C6 C5 G4 C4 C4 E4 G4 G5 B4 D5 D5 C5 G4 C6")
	n := 0
	for m := 1; m <= 4; m++ {
		fmt.Fprintf(&b, "\n"+`<measure number="%d">`, m)
		if m == 1 {
			fmt.Fprintf(&b, `<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes><direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>%d</per-minute></metronome></direction-type></direction>`, perMinute)
		}
		for k := range 16 {
			key := keys[(k+3*m)%16]
			fmt.Fprintf(&b, "\n"+`<note><pitch><step>%c</step><octave>%c</octave></pitch><duration>1</duration><voice>1</voice>`, key[0], key[1])
			if f := digits[n]; f > 0 {
				fmt.Fprintf(&b, `<notations><technical><fingering>%d</fingering></technical></notations>`, f)
			}
			b.WriteString(`</note>`)
			n++
		}
		b.WriteString(`</measure>`)
	}
	b.WriteString(`</part></score-partwise>`)
	return []byte(b.String())
}

func worked(t *testing.T, data []byte) *pipeline.Way {
	w := &pipeline.Way{Piece: &corpus.Piece{ID: "p", Score: "p.musicxml", Scoring: corpus.RightHandAlone}, Data: data, Policy: policies.Default(), Weights: pipeline.ShippedWeights()}
	require.NoError(t, pipeline.RunPiece(w))
	return w
}

// Digits that were found at half the tempo, which is that of practice, and
// collapse at the tempo are told; the same digits at the tempo they were found
// at are not, and neither are those found at the tempo.
func TestDigitsFoundInPracticeAreTriedAtTheTempo(t *testing.T) {
	const tempo = 176
	digits := func(w *pipeline.Way) map[int]int {
		out := map[int]int{}
		for n := range w.Suggestion.Notes {
			out[n] = int(w.Suggestion.Notes[n].Finger)
		}
		return out
	}
	tells := func(perMinute int, digits map[int]int) (out []string) {
		w := worked(t, brokenRun(perMinute, digits))
		for _, f := range w.Findings {
			if f.Rule == "collapses-at-tempo" && strings.Contains(f.Message, "the digits serve in practice") {
				out = append(out, f.Message+"; "+f.Fix)
				for _, n := range f.Notes {
					require.Positive(t, w.Suggestion.Notes[n].Given, "a passage of digits")
				}
			}
		}
		return out
	}
	slow := digits(worked(t, brokenRun(tempo/2, nil)))
	fast := digits(worked(t, brokenRun(tempo, nil)))
	require.NotEqual(t, slow, fast, "the tempo changes nothing here: the test would mean nothing")
	told := tells(tempo, slow)
	require.NotEmpty(t, told)
	require.Regexp(t, `try what is worked out for the tempo: \d on `, told[0])
	require.Empty(t, tells(tempo/2, slow))
	require.Empty(t, tells(tempo, fast))
}
