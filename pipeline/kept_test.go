package pipeline

import (
	"reflect"
	"testing"

	"fingerproof/pipeline/3_records/decision"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
)

// shelf keeps things in memory and counts what was asked for and found.
type shelf struct {
	data        map[string][]byte
	found, made int
}

func (s *shelf) kept() *Kept {
	return &Kept{
		Program: "p",
		Get: func(key string) []byte {
			if data := s.data[key]; data != nil {
				s.found++
				return data
			}
			return nil
		},
		Put: func(key string, data []byte) { s.data[key] = data; s.made++ },
	}
}

// What stages kept is to the last field what they worked out, whole or of an edition of ours.
func TestWhatStagesKeepIsWhatTheyGave(t *testing.T) {
	for _, name := range []string{"op7-nocturne", "op12-2-waltz", "op3-5-trills"} {
		s := &shelf{data: map[string][]byte{}}
		plain := demoRun(t, name)
		require.NoError(t, RunPiece(plain))
		for round := range 2 {
			w := demoRun(t, name)
			w.Kept = s.kept()
			require.NoError(t, RunPiece(w))
			require.GreaterOrEqual(t, s.made, len(keptStages))
			require.Equal(t, round*s.made, s.found, "all that was kept is found, and nothing else is asked for")
			for _, stage := range keptStages {
				for _, field := range stageGives[stage] {
					want := reflect.ValueOf(plain).Elem().FieldByName(field).Interface()
					got := reflect.ValueOf(w).Elem().FieldByName(field).Interface()
					require.Empty(t, cmp.Diff(want, got), "%s of %s, round %d", field, name, round)
				}
			}
			require.Equal(t, plain.EditionData, w.EditionData)
		}
		again, made := demoRun(t, name), s.made
		again.Data, again.Kept = plain.EditionData, s.kept()
		require.NoError(t, RunPiece(again))
		require.GreaterOrEqual(t, s.made, made+2*len(keptStages), "an edition, and the page that its reader sees")
	}
}

// A key that bears on no search searches nothing; one that does, a decision, a witness, a score make it search.
func TestOnlyWhatBearsOnASearchSearchesAgain(t *testing.T) {
	s := &shelf{data: map[string][]byte{}}
	run := func(change map[string]string, also func(*PieceRun)) int {
		w := demoRun(t, "op12-2-waltz")
		w.Kept = s.kept()
		var err error
		w.Policy, err = w.Policy.Setting(change)
		require.NoError(t, err)
		if also != nil {
			also(w)
		}
		s.made = 0
		require.NoError(t, RunPiece(w))
		return s.made
	}
	all := run(nil, nil)
	require.GreaterOrEqual(t, all, len(keptStages))
	require.Zero(t, run(nil, nil))
	require.Zero(t, run(map[string]string{"signs.changes": "none", "title": "Another", "fail_on": "note"}, nil))
	require.Equal(t, 1, run(map[string]string{"digits": "sparse"}, nil), "which digits are printed")
	require.Equal(t, 1, run(nil, func(w *PieceRun) { w.Press = true }))
	require.Equal(t, all, run(map[string]string{"aims.line": "50"}, nil))
	require.Equal(t, all, run(nil, func(w *PieceRun) { w.Piece.Year = 1770 }))
	require.Equal(t, all, run(nil, func(w *PieceRun) { w.Data = append(w.Data, '\n') }))
	require.Equal(t, all, run(nil, func(w *PieceRun) {
		w.Decisions = []decision.Decision{{By: "AB"}}
	}))
	for key, data := range s.data {
		s.data[key] = data[:len(data)/2]
	}
	require.Equal(t, all, run(nil, nil), "what is damaged is worked out again")
}
