package pipeline_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// fuzzScore is a short score for two hands with the composer's digits.
const fuzzScore = `<?xml version="1.0"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list>` +
	`<part id="P1"><measure number="1"><attributes><divisions>2</divisions><time><beats>2</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>` +
	`<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><voice>1</voice><staff>1</staff><notations><technical><fingering>3</fingering></technical></notations></note>` +
	`<note><chord/><pitch><step>E</step><octave>5</octave></pitch><duration>1</duration><voice>1</voice><staff>1</staff></note>` +
	`<note><grace/><pitch><step>D</step><octave>5</octave></pitch><voice>1</voice><staff>1</staff></note>` +
	`<note><pitch><step>F</step><octave>5</octave></pitch><duration>3</duration><voice>1</voice><staff>1</staff></note>` +
	`<backup><duration>4</duration></backup><note><pitch><step>C</step><octave>3</octave></pitch><duration>4</duration><voice>5</voice><staff>2</staff></note>` +
	`</measure></part></score-partwise>`

func fuzzRun(data []byte, decisions []decision.Decision) *pipeline.PieceRun {
	piece := &corpus.Piece{ID: "a", Score: "a.musicxml", Scoring: corpus.TwoHands}
	return &pipeline.PieceRun{
		Piece: piece, Data: data, Policy: policies.Default(), Weights: pipeline.ShippedWeights(), Decisions: decisions,
		Edition: "a.musicxml", Today: "2026-03-01",
	}
}

// mustHold lets a run fail with an error, but for one that a fault of the program makes; what comes out is taken back.
func mustHold(t *testing.T, w *pipeline.PieceRun) {
	t.Helper()
	if err := pipeline.RunPiece(w); err != nil {
		require.NotContains(t, err.Error(), "a fault of this program")
		return
	}
	back, err := source.TakeBack(w.EditionData, w.Record, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, string(w.Data), string(back))
}

// FuzzPiece: whatever a score says, it is worked out to the end, or refused with an error of its own.
func FuzzPiece(f *testing.F) {
	f.Add([]byte(fuzzScore))
	for _, name := range []string{"op9-2-sequence", "op12-4-country-dance"} {
		data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", name+".musicxml"))
		require.NoError(f, err)
		if len(data) < 40_000 {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 60_000 {
			return // a crowd of notes takes its time, and is measured elsewhere
		}
		mustHold(t, fuzzRun(data, nil))
	})
}

// FuzzRecordInAnEdition: whatever an edition carries in its head, the score is worked out, or refused.
func FuzzRecordInAnEdition(f *testing.F) {
	decided := []decision.Decision{{
		Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-02-01",
		Notes: []decision.NoteRef{{Printed: "1", Index: -1, Midi: 72, Pitch: "C5", Fingers: []int{2}}},
	}}
	first := fuzzRun([]byte(fuzzScore), decided)
	require.NoError(f, pipeline.RunPiece(first))
	second := fuzzRun(first.EditionData, nil)
	require.NoError(f, pipeline.RunPiece(second))
	require.NotNil(f, second.Embedded, "the edition carries its record")
	whole, err := json.Marshal(second.Embedded)
	require.NoError(f, err)
	f.Add(whole)
	f.Add([]byte(`{"whose":"cceo","digits":[{"n":-1,"finger":9,"then":[0,7],"who":"editor"}],"decided":[{"n":99,"verb":"x","fingers":[-3],"by":""}],` +
		`"redistributions":[{"id":"r","to":"L","notes":[0,1,1,77],"fingers":[1]}],"declined":[[],[99]]}`))
	const before, after = `<miscellaneous-field name="fingerproof-record">`, `</miscellaneous-field>`
	head := `<identification><miscellaneous>` + before + after + `</miscellaneous></identification>`
	f.Fuzz(func(t *testing.T, data []byte) {
		if !json.Valid(data) {
			return
		}
		at := strings.Index(fuzzScore, "<part-list>")
		edits, err := source.Pack(fuzzScore, []source.Edit{{Offset: at, New: head}}, before+after, before+"%s"+after, json.RawMessage(data))
		require.NoError(t, err)
		text, err := source.Apply(fuzzScore, edits)
		require.NoError(t, err)
		w := fuzzRun([]byte(text), nil)
		mustHold(t, w)
		if string(data) == string(whole) {
			require.NotNil(t, w.Embedded, "what is packed here is found again")
		}
	})
}
