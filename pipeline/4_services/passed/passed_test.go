package passed_test

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/files"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/passed"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func small() *passed.State {
	return &passed.State{
		Piece: "op7", By: "AB", When: "2026-03-01", Anyway: "first proof", Press: true, Draft: "ee", Engine: "0.0", Rules: "dd", Weights: "aa", Score: "scores/op7.musicxml", ScoreSum: "0123456789abcdef",
		Witnesses: []string{"cc"}, Settings: map[string]string{"scoring": `"two hands"`, "year": "1830"}, Heads: map[string]string{"title of the collection": "Études"}, Policy: map[string]string{"hand": "ninth", "digits": "every-note"},
		Decisions: []decision.Decision{{Verb: decision.Take, On: decision.Notes, By: "AB", When: "2026-02-01", Notes: []decision.NoteRef{{Printed: "2", Index: 1, Midi: 60, Pitch: "C4", Fingers: []int{5, 4}}}}},
		Snapshot: passed.Snapshot{
			Findings: []string{"f1 warning span: m. 1 <so>"}, Redistributions: []string{"r1 to L: 3=1"},
			Rolls: []string{"a up: C2 E3"}, Seconds: []string{"m. 2, left hand, 0 quarters into the measure, C4: 3"}, Rows: true,
			Notes: []passed.NoteState{
				{Measure: "1", Hand: score.Right, At: "0", Pitch: "C4", Fingers: "1", Printed: true},
				{Measure: "1", Hand: score.Right, At: "1/2.g1", Pitch: "F#4", Fingers: "2"},
				{Measure: "2", Hand: score.Left, At: "0", Pitch: "C4", Fingers: "5-4", Printed: true, Whose: "editor:AB"},
				{Measure: "X1", Hand: score.Left, At: "0", Pitch: "C2", Fingers: "-", Whose: "composer"},
			},
		},
	}
}

// Whatever a state holds comes back; a new field of it is set in small first.
func TestAStateReadsBackAsItWasWritten(t *testing.T) {
	for _, v := range []reflect.Value{reflect.ValueOf(*small()), reflect.ValueOf(small().Snapshot)} {
		for i := range v.NumField() {
			require.False(t, v.Field(i).IsZero(), "small sets no %s", v.Type().Field(i).Name)
		}
	}
	data, err := passed.Encode(small())
	require.NoError(t, err)
	back, err := passed.Decode("op7.json", data)
	require.NoError(t, err)
	require.Equal(t, small(), back)
	again, err := passed.Encode(back)
	require.NoError(t, err)
	require.Equal(t, string(data), string(again))
}

// A state of which older programs kept less says so when it is read back; one that has no second finger is no such state.
func TestWhatAnOlderProgramDidNotKeepIsNotTakenForNone(t *testing.T) {
	older, none := small(), small()
	older.Seconds, older.Heads, older.Rows = nil, nil, false
	none.Seconds = []string{}
	for _, s := range []*passed.State{older, none} {
		data, err := passed.Encode(s)
		require.NoError(t, err)
		back, err := passed.Decode("op7.json", data)
		require.NoError(t, err)
		require.Equal(t, s, back)
	}
}

// Any notes come back, whatever measures are called.
func TestNotesReadBack(t *testing.T) {
	note := rapid.Custom(func(t *rapid.T) passed.NoteState {
		return passed.NoteState{
			Measure: rapid.SampledFrom([]string{"1", "2", "2", "12a", "X \"1\"", "é"}).Draw(t, "measure"), Hand: rapid.SampledFrom([]score.Hand{score.Right, score.Left}).Draw(t, "hand"),
			At: rapid.SampledFrom([]string{"0", "7/12", "3.g2"}).Draw(t, "at"), Pitch: rapid.SampledFrom([]string{"C4", "Bbb-1", "F##7"}).Draw(t, "pitch"),
			Fingers: rapid.SampledFrom([]string{"-", "3", "5-4-3"}).Draw(t, "fingers"), Printed: rapid.Bool().Draw(t, "printed"),
			Whose: rapid.SampledFrom([]string{"", "composer", "earlier", "editor:AB"}).Draw(t, "whose"),
			Row:   rapid.SampledFrom([]string{"", "3-2-3-1", "4"}).Draw(t, "row"),
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		s := small()
		s.Notes = rapid.SliceOfN(note, 1, 30).Draw(t, "notes")
		data, err := passed.Encode(s)
		require.NoError(t, err)
		back, err := passed.Decode("x", data)
		require.NoError(t, err)
		require.Equal(t, s.Notes, back.Notes)
	})
}

// What git shows of one digit, one key of the policy or a measure put in is that line and no other.
func TestOneChangeIsOneLineOfTheDiff(t *testing.T) {
	lines := func(s *passed.State) []string {
		data, err := passed.Encode(s)
		require.NoError(t, err)
		return strings.Split(string(data), "\n")
	}
	before := lines(small())
	require.True(t, slices.IsSortedFunc(before[slices.Index(before, ` "policy": {`)+1:][:2], strings.Compare), "keys are sorted")
	digit := small()
	digit.Notes[2].Fingers = "4"
	require.Len(t, differing(before, lines(digit)), 1)
	key := small()
	key.Policy["hand"] = "tenth"
	require.Equal(t, []string{`   "hand": "tenth"`}, differing(before, lines(key)))
	measure := small()
	measure.Notes = slices.Insert(measure.Notes, 2, passed.NoteState{Measure: "1a", Hand: score.Right, At: "0", Pitch: "D4", Fingers: "2"})
	after := lines(measure)
	require.Len(t, after, len(before)+1)
	for _, l := range before {
		require.Contains(t, after, l)
	}
}

func differing(a, b []string) (out []string) {
	for i := range b {
		if i >= len(a) || a[i] != b[i] {
			out = append(out, b[i])
		}
	}
	return out
}

func TestWhatIsDamagedIsRefusedAndNamed(t *testing.T) {
	data, err := passed.Encode(small())
	require.NoError(t, err)
	for from, to := range map[string]string{
		`"version": 1`:       `"version": 9`,
		`"measures"`:         `"measurs"`,
		"0 R C4 1":           "0 R C4",
		`"0 R C4 1 printed"`: `"0 R C4"`,
		`C2 - composer"`:     `C2 - composer row:-"`,
		`C4 5-4 printed`:     `C4 5-4 printed row:7`,
		"0 R C4 1 printed":   "0 Q C4 1 printed",
		"\n}\n":              "\n",
		`"verb":"take"`:      `"verb":"take","vreb":"x"`,
		`"year": 1830`:       `"year": 18 30`,
		"\n ]\n}\n":          "\n ]\n}\n{}",
		`"piece": "op7",`:    `"piece": 7,`,
		`0 L C4 5-4`:         `0 L C4 5-4 a b c`,
		`"findings": [`:      `"findings": [7,`,
		`"scoring": "two h`:  `"scoring": two h`,
	} {
		require.Contains(t, string(data), from)
		_, err := passed.Decode("passed/op7.json", []byte(strings.Replace(string(data), from, to, 1)))
		require.ErrorContains(t, err, "passed/op7.json", "%s → %s", from, to)
	}
}

func TestTheStoreKeepsEachPieceWithItsText(t *testing.T) {
	root := t.TempDir()
	store := passed.In(root)
	require.False(t, store.There())
	none, err := store.Read("op7")
	require.NoError(t, err)
	require.Nil(t, none)
	s := small()
	s.ScoreSum = source.Sum([]byte("old text"))
	require.NoError(t, store.Write(s, nil, []byte("old text")))
	require.True(t, store.There())
	require.Equal(t, "old text", textOf(t, store, s))

	other := small()
	other.Piece = "op7.2" // whose name begins like the first one's
	other.ScoreSum = source.Sum([]byte("its own"))
	require.NoError(t, store.Write(other, nil, []byte("its own")))
	next := small()
	next.ScoreSum = source.Sum([]byte("new text"))
	require.NoError(t, store.Write(next, s, []byte("new text")))
	require.Equal(t, "new text", textOf(t, store, next))
	require.Empty(t, textOf(t, store, s), "the text of an earlier state is taken out")
	require.Equal(t, "its own", textOf(t, store, other))

	pieces, err := store.Pieces()
	require.NoError(t, err)
	require.Equal(t, []string{"op7", "op7.2"}, pieces)
	gone, err := store.Prune([]string{"op7.2"})
	require.NoError(t, err)
	require.Equal(t, []string{"op7"}, gone)
	left, err := filepath.Glob(filepath.Join(root, "passed", "text", "*"))
	require.NoError(t, err)
	require.Len(t, left, 1)
	back, err := store.Read("op7.2")
	require.NoError(t, err)
	require.Equal(t, other, back)

	require.NoError(t, os.Rename(filepath.Join(root, "passed", "op7.2.json"), filepath.Join(root, "passed", "op9.json")))
	_, err = store.Read("op9")
	require.ErrorContains(t, err, `of the piece "op7.2"`)
}

// Nothing in a file names where the collection lies.
func TestFilesHoldRelativePathsOnly(t *testing.T) {
	root := t.TempDir()
	require.NoError(t, passed.In(root).Write(small(), nil, []byte("x")))
	data, err := os.ReadFile(filepath.Join(root, "passed", "op7.json"))
	require.NoError(t, err)
	require.NotContains(t, string(data), root)
	require.Contains(t, string(data), `"score": "scores/op7.musicxml"`)
}

func textOf(t *testing.T, store passed.Store, s *passed.State) string {
	t.Helper()
	text, err := store.Text(s)
	require.NoError(t, err)
	return string(text)
}

// What somebody else passed meanwhile, a newer program wrote, or nobody can read is not written over.
func TestOnlyTheStateThatWasReadIsWrittenOver(t *testing.T) {
	root, file := t.TempDir(), ""
	store := passed.In(root)
	mine, theirs := small(), small()
	theirs.By = "CD"
	require.NoError(t, store.Write(theirs, nil, []byte("x")))
	require.ErrorAs(t, store.Write(mine, nil, []byte("x")), new(files.Changed), "there was none when it was looked at")
	require.ErrorAs(t, store.Write(mine, mine, []byte("x")), new(files.Changed))
	require.NoError(t, store.Write(mine, theirs, []byte("x")))
	require.NoError(t, filepath.WalkDir(root, func(path string, _ os.DirEntry, err error) error {
		if filepath.Base(path) == "op7.json" {
			file = path
		}
		return err
	}))
	whole, err := os.ReadFile(file)
	require.NoError(t, err)
	for _, text := range []string{strings.Replace(string(whole), `"version": 1`, `"version": 2`, 1), string(whole[:40]), ""} {
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		require.Error(t, store.Write(mine, mine, []byte("x")))
		_, err := store.Read("op7")
		require.ErrorContains(t, err, "passed/op7.json", "nobody takes it for a piece that was never passed")
		now, err := os.ReadFile(file)
		require.NoError(t, err)
		require.Equal(t, text, string(now))
	}
	require.NoError(t, os.Remove(file))
	require.ErrorAs(t, store.Write(mine, mine, []byte("x")), new(files.Changed), "it was taken away")
}

func TestAKeptTextThatIsAnotherOneIsNamed(t *testing.T) {
	root := t.TempDir()
	store, s := passed.In(root), small()
	s.ScoreSum = source.Sum([]byte("the text"))
	require.NoError(t, store.Write(s, nil, []byte("the text")))
	kept, err := filepath.Glob(filepath.Join(root, "passed", "text", "*"))
	require.NoError(t, err)
	require.Len(t, kept, 1)
	require.NoError(t, os.WriteFile(kept[0], []byte("the Text"), 0o600))
	_, err = store.Text(s)
	require.ErrorContains(t, err, "is not the score that was passed")

	require.NoError(t, store.Write(s, s, []byte("the text")))
	require.Equal(t, "the text", textOf(t, store, s), "who passes the piece again has its text beside it")
}
