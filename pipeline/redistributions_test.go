package pipeline

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/14_redistribute/stagedtest"
	"fingerproof/policies"
	"fingerproof/rules/fingering"

	"github.com/stretchr/testify/require"
)

// stagedTrouble is a passage for the whole pipeline.
type stagedTrouble = stagedtest.Passage

func pitchXML(p score.Pitch) string {
	alter := ""
	if p.Alter != 0 {
		alter = fmt.Sprintf("<alter>%d</alter>", p.Alter)
	}
	return fmt.Sprintf("<pitch><step>%c</step>%s<octave>%d</octave></pitch>", p.Step, alter, p.Octave)
}

// stagedDivisions is how many divisions a quarter has in staged scores.
const stagedDivisions = 48

func divisionsOf(quarters score.Fraction) int64 {
	return quarters.Num() * stagedDivisions / quarters.Den()
}

// voiceXML writes a voice as notes.
func voiceXML(v *stagedtest.Voice) (xml string) {
	for i, e := range v.Events {
		switch {
		case e.Pedal:
			xml += fmt.Sprintf(`<direction><direction-type><pedal type="start" line="no"/></direction-type><staff>%d</staff></direction>`, v.Staff)
		case e.Sign != "":
			xml += fmt.Sprintf(`<direction><direction-type><words>%s</words></direction-type><staff>%d</staff></direction>`, e.Sign, v.Staff)
		case e.Rest:
			xml += fmt.Sprintf("<note><rest/><duration>%d</duration><voice>%d</voice><staff>%d</staff></note>", divisionsOf(e.Length), v.Number, v.Staff)
		}
		change := ""
		if e.Triplet {
			change = "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>"
		}
		on := i+1 < len(v.Events) && v.Events[i+1].Tied
		for k, key := range e.Keys {
			chord, ties, notations := "", "", ""
			if k > 0 {
				chord = "<chord/>"
			}
			if e.Tied {
				ties, notations = ties+`<tie type="stop"/>`, notations+`<tied type="stop"/>`
			}
			if on {
				ties, notations = ties+`<tie type="start"/>`, notations+`<tied type="start"/>`
			}
			if k == 0 && e.SlurStart {
				notations += `<slur type="start" number="1"/>`
			}
			if k == 0 && e.SlurStop {
				notations += `<slur type="stop" number="1"/>`
			}
			if key.Digit > 0 {
				notations += fmt.Sprintf("<technical><fingering>%d</fingering></technical>", key.Digit)
			}
			xml += fmt.Sprintf(
				"<note>%s%s<duration>%d</duration>%s<voice>%d</voice>%s<staff>%d</staff><notations>%s</notations></note>",
				chord, pitchXML(key.Pitch), divisionsOf(e.Length), ties, v.Number, change, v.Staff, notations)
		}
	}
	return xml
}

func stagedScore(t *testing.T, p stagedTrouble) []byte {
	t.Helper()
	voices, err := p.Voices()
	require.NoError(t, err)
	body, longest := "", int64(0)
	for i := range voices {
		if i > 0 {
			body += fmt.Sprintf("<backup><duration>%d</duration></backup>", divisionsOf(voices[i-1].Length))
		}
		body += voiceXML(&voices[i])
		longest = max(longest, divisionsOf(voices[i].Length))
	}
	return []byte(fmt.Sprintf(`<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>%d</divisions><time><beats>%d</beats><beat-type>4</beat-type></time><staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef></attributes>%s</measure></part></score-partwise>`, stagedDivisions, (longest+stagedDivisions-1)/stagedDivisions, body))
}

func stagedWay(t *testing.T, p stagedTrouble, edition string) *PieceRun {
	t.Helper()
	file := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte("extends: default\n"+strings.Join(p.Set, "\n")+"\n"), 0o644))
	policy, err := policies.Load(file)
	require.NoError(t, err)
	piece := &corpus.Piece{ID: "staged", Score: "staged.musicxml", Scoring: corpus.TwoHands}
	if p.Scoring != "" {
		piece.Scoring = corpus.Scoring(p.Scoring)
	}
	piece.Tempo.Low, piece.Tempo.High = p.Tempo, p.Tempo
	w := &PieceRun{Piece: piece, Data: stagedScore(t, p), Policy: policy, Weights: ShippedWeights(), Edition: edition}
	require.NoError(t, RunPiece(w), p.Name)
	return w
}

// offered spells what is offered, as Accept does.
func offered(w *PieceRun) string {
	var all []string
	for _, r := range w.Redistributions {
		text := r.To.String() + " " + r.Reason
		for _, n := range r.Notes {
			text += fmt.Sprintf(" %s@%s", w.Score.Notes[n].Pitch, w.Score.At(n))
		}
		all = append(all, text)
	}
	if len(all) == 0 {
		return "no"
	}
	return strings.Join(all, "; ")
}

func stagedTroubles(t *testing.T) []stagedTrouble {
	t.Helper()
	all, err := stagedtest.Read(filepath.Join("testdata", "redistributions.yaml"))
	require.NoError(t, err)
	return all
}

func TestStagedTroublesAreAnsweredAsAnEditorWould(t *testing.T) {
	all := stagedTroubles(t)
	require.GreaterOrEqual(t, len(all), 40)
	refused, to := 0, map[string]bool{}
	for _, p := range all {
		got := offered(stagedWay(t, p, ""))
		if !contains(p.Accept, got) {
			t.Errorf("%s: %q, accepted are %q", p.Name, got, p.Accept)
		}
		if got == "no" {
			refused++
		} else {
			to[strings.Join(strings.Fields(got)[:2], " ")] = true
		}
	}
	require.GreaterOrEqual(t, refused, 10)
	for _, reason := range []string{"reach", "speed", "line", "rhythm", "held", "collision", "clarity", "evenness", "turns"} {
		require.True(t, to["L "+reason] && to["R "+reason], "%s both ways: %v", reason, to)
	}
	require.True(t, to["L crossing"] && !to["R crossing"], "the left hand crosses over the right: %v", to)
}

func contains(all []string, one string) bool {
	for _, a := range all {
		if a == one {
			return true
		}
	}
	return false
}

// The text as written keeps its hands and a finger for every note.
func TestAsWrittenKeepsItsCompleteFingering(t *testing.T) {
	for _, p := range stagedTroubles(t) {
		w := stagedWay(t, p, "")
		for _, n := range w.Result.Notes {
			home := score.Right
			if n.Staff == 2 {
				home = score.Left
			}
			if len(w.Redistributions) > 0 && p.Scoring == "" {
				require.Equal(t, home, n.Hand, p.Name)
			}
			require.True(t, n.Finger > 0 || n.OutOfReach != "", p.Name)
		}
		for _, r := range w.Result.Redistributions {
			require.NotEmpty(t, r.Why, p.Name)
			require.Greater(t, r.Gain, 0, p.Name)
		}
	}
}

// What an edition offers is marked beside the text, is taken for no hand sign, and reading the edition back offers
// the same.
func TestReadingTheEditionBackOffersTheSame(t *testing.T) {
	for _, marks := range []string{"bracket", "sign", "none"} {
		for i, p := range stagedTroubles(t) {
			if i%(map[string]int{"bracket": 3, "sign": 8, "none": 20}[marks]) != 0 {
				continue // a sample: each is read twice
			}
			p.Set = append(append([]string(nil), p.Set...), "")
			if len(p.Set[0]) > 12 && p.Set[0][:12] == "redistribute" {
				continue // the key may stand once
			}
			p.Set[len(p.Set)-1] = "redistribute: {marks: " + marks + "}"
			w := stagedWay(t, p, "staged.musicxml")
			text := string(w.EditionData)
			if want := offered(w); want != "no" {
				several := slices.ContainsFunc(w.Redistributions, func(r fingering.Redistribution) bool {
					return slices.ContainsFunc(r.Notes, func(n int) bool { return w.Score.At(n) != w.Score.At(r.Notes[0]) })
				})
				require.Equal(t, marks == "bracket" && several, strings.Contains(text, "<bracket"), p.Name)
				require.Equal(t, marks != "none", strings.Contains(text, ">(m."), p.Name)
			} else {
				require.NotContains(t, text, "<bracket", p.Name)
			}
			again := &PieceRun{
				Piece: w.Piece, Data: w.EditionData, Policy: w.Policy, Weights: w.Weights, Edition: w.Edition,
			}
			require.NoError(t, RunPiece(again), p.Name)
			require.Equal(t, offered(w), offered(again), "%s, %s", p.Name, marks)
			require.Equal(t, w.Redistributions, again.Redistributions, p.Name)
			require.Equal(t, text, string(again.EditionData), "marked once: %s", p.Name)
		}
	}
}

// A passage keeps its redistribution, by the same name, whatever stands further on; and a passage that returns gets
// the same.
func TestWhatStandsElsewhereMovesNothing(t *testing.T) {
	const right, left = "C4+G4+E5/4 D4+A4+F5 E5/8 F5 G5 A5 G5 F5 E5 D5 C5/4 r", "C3/4 D3 C3/2 G3 C3/2"
	more := stagedTrouble{Right: right + " C5/2 G5 A5 G5", Left: left + " E3/2 C3 F3 E3"}
	other := stagedTrouble{Right: right + " G5/8 F5 E5 D5 C5/1 F5/2", Left: left + " G3/2 E3 C3/1"}
	again := stagedTrouble{Right: right + " " + right, Left: left + " " + left}
	want := offered(stagedWay(t, stagedTrouble{Right: right, Left: left}, ""))
	require.Equal(t, "L reach C4@0 D4@1", want)
	require.Equal(t, want, offered(stagedWay(t, more, "")))
	require.Equal(t, want, offered(stagedWay(t, other, "")))
	require.Equal(t, stagedWay(t, more, "").Redistributions[0].ID, stagedWay(t, other, "").Redistributions[0].ID)
	require.Equal(t, want+"; L reach C4@8 D4@9", offered(stagedWay(t, again, "")))
}
