package hands_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// pileOrder says how the digits of a note that has as many as its hand strikes keys, and calls them a change, lie beside the keys:
// "low" lowest first, "high" highest first, else "neither"; "" where there is no such note. near: they are two neighbours.
func pileOrder(s *score.Score, p *playing.Playing, st *playing.Stroke) (order string, near bool) {
	at := -1
	for k, n := range st.Notes {
		note := &s.Notes[n]
		if k > 0 && note.Midi == s.Notes[st.Notes[k-1]].Midi || len(note.Ornaments) > 0 {
			return "", false
		}
		if len(note.Indications) > 0 {
			if at >= 0 {
				return "", false
			}
			at = k
		}
	}
	if len(st.Notes) < 2 || at < 0 || len(s.Notes[st.Notes[at]].Indications) != len(st.Notes) {
		return "", false
	}
	var fingers []int
	for _, ind := range s.Notes[st.Notes[at]].Indications {
		fingers = append(fingers, ind.Finger())
	}
	up, down := true, true
	for k := 1; k < len(fingers); k++ {
		up, down = up && fingers[k] > fingers[k-1], down && fingers[k] < fingers[k-1]
	}
	if p.Lines[st.Line].Hand == score.Left {
		up, down = down, up
	}
	near = len(fingers) == 2 && max(fingers[0]-fingers[1], fingers[1]-fingers[0]) == 1
	switch {
	case up:
		return "low", near
	case down:
		return "high", near
	}
	return "neither", near
}

// What the reading of piles rests on: in the open fingered scores, whose files call all of these digits changes of finger, they
// lie in the order of the keys, where those of a change go either way.
func TestDigitsOfSeveralKeysAtOneNote(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(shared.Folder(t, "data/fingered"), "*.mxl"))
	require.NoError(t, err)
	policy := policies.Default()
	counts, read, sure := map[string]int{}, 0, 0
	for _, path := range files {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		doc, err := source.Open(path, data, source.DefaultLimits())
		require.NoError(t, err)
		s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
		require.NoError(t, err)
		out, err := hands.Find(hands.Input{Score: s, Scoring: hands.Scoring{Kind: "two hands"}, Policy: policy})
		if err != nil {
			continue
		}
		p := out.Playing
		for l := range p.Lines {
			for i := range p.Lines[l].Strokes {
				st := &p.Lines[l].Strokes[i]
				order, near := pileOrder(s, p, st)
				if order == "" {
					continue
				}
				counts[order]++
				if near {
					counts[order+" near"]++
				}
				if pile := p.Pile(st.Notes[0]); pile != nil {
					read++
					if pile.Sure {
						sure++
					}
				}
			}
		}
	}
	require.Equal(t, []int{384, 9, 0}, []int{counts["low"], counts["high"], counts["neither"]}, "lowest key first, highest first")
	require.Equal(t, []int{53, 4}, []int{counts["low near"], counts["high near"]}, "neighbouring fingers")
	require.Equal(t, []int{385, 167}, []int{read, sure}, "read as several keys' digits; where no hand could change so")
}

// piledAs reads what the digits of one stroke come to: pitch by pitch, lowest first; "" where they are no pile.
func piledAs(t *testing.T, whose score.Responsibility, given map[int][]int, music string) string {
	t.Helper()
	s := positionScore(t, music)
	in := hands.Input{Score: s, Scoring: hands.Scoring{Kind: "two hands"}, Policy: policies.Default(), Given: func(n int) []int { return given[n] }}
	for i := range s.Notes {
		in.Whose = append(in.Whose, slices.Repeat([]score.Responsibility{whose}, len(s.Notes[i].Indications)))
	}
	out, err := hands.Find(in)
	require.NoError(t, err)
	pile, said := out.Playing.Pile(0), ""
	if pile == nil {
		return ""
	}
	for k, n := range pile.Notes {
		said += fmt.Sprintf("%s=%d ", s.Notes[n].Pitch, out.Playing.Piled(n))
		require.Equal(t, pile.Fingers[k], out.Playing.Piled(n))
	}
	if pile.Sure {
		said += "sure"
	}
	return said
}

// changeOf puts digits beside a note that the file calls a change.
func changeOf(digits ...int) string {
	out := "<notations><technical>"
	for k, d := range digits {
		second := ""
		if k > 0 {
			second = ` substitution="yes"`
		}
		out += fmt.Sprintf("<fingering%s>%d</fingering>", second, d)
	}
	return out + "</technical></notations>"
}

func TestWhichDigitsAreReadAsThoseOfSeveralKeys(t *testing.T) {
	n := positionNote
	// two keys of the right hand, the digits at one of them
	right := func(low, high, atLow, atHigh string) string {
		return n(high, 4, 1, 1, atHigh) + back + n(low, 4, 2, 1, atLow) + back + n("C3", 4, 5, 2, "")
	}
	left := func(low, high, atLow, atHigh string) string {
		return n(low, 4, 5, 2, atLow) + back + n(high, 4, 6, 2, atHigh) + back + n("C6", 4, 1, 1, "")
	}
	as := func(music string) string { return piledAs(t, score.Composer, nil, music) }
	require.Equal(t, "A4=1 G5=5 sure", as(right("A4", "G5", "", changeOf(1, 5))), "no finger is left below 1")
	require.Equal(t, "A4=2 C5=4 ", as(right("A4", "C5", "", changeOf(2, 4))), "a hand could hold A4 with 1 and change from 2 to 4")
	require.Equal(t, "A4=4 C5=5 ", as(right("A4", "C5", "", changeOf(4, 5))))
	require.Equal(t, "", as(right("A4", "C5", "", changeOf(5, 4))), "against the order of the keys: a change")
	require.Equal(t, "", as(right("A4", "C6", "", changeOf(1, 2))), "no hand takes a tenth with 1 and 2")
	require.Equal(t, "", as(right("A4", "C5", digit(1), changeOf(2, 4))), "the lower key has its own digit")
	require.Equal(t, "", as(right("A4", "C5", "", changeOf(1, 2, 4))), "three digits for two keys")
	require.Equal(t, "C3=5 B3=1 sure", as(left("C3", "B3", "", changeOf(5, 1))))
	require.Equal(t, "C3=4 F3=2 ", as(left("C3", "F3", changeOf(2, 4), "")), "highest first, at the lowest key")
	require.Equal(t, "", as(left("C3", "F3", changeOf(2, 3), "")), "neighbours, highest first: a change")
	require.Equal(t, "A4=1 C5=3 sure", as(right("A4", "C5", "", strings.ReplaceAll(changeOf(3, 1), ` substitution="yes"`, ""))),
		"a column, which the file does not call a change")
	require.Equal(t, "", piledAs(t, score.Open, nil, right("A4", "G5", "", changeOf(1, 5))), "suggested before: it was meant as a change")
	require.Equal(t, "", piledAs(t, score.Composer, map[int][]int{0: {1, 5}}, right("A4", "G5", "", changeOf(1, 5))), "an editor read a change")
	require.Equal(t, "A4=1 G5=5 sure", piledAs(t, score.Composer, map[int][]int{1: {1}}, right("A4", "G5", "", changeOf(1, 5))), "decided as it is read")
}
