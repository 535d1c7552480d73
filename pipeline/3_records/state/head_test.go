package state_test

import (
	"bytes"
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/state"

	"github.com/stretchr/testify/require"
)

func TestTheHeadIsTheResultWithoutItsNotes(t *testing.T) {
	r := &state.Result{
		Version: state.Version,
		Piece:   "a",
		Findings: []state.Finding{
			{Rule: "r", Severity: "note", Message: `says "notes":[`, Measure: "1", Fingerprint: "1"},
		},
		Notes: []state.Note{{N: 1, Measure: "1"}, {N: 2, Measure: strings.Repeat("9", 1<<17)}},
	}
	r.Summary.Title = strings.Repeat("long ", 1<<16) // longer than a reader's buffer
	data, err := state.Encode(r)
	require.NoError(t, err)
	whole, err := state.Decode(data)
	require.NoError(t, err)
	head, err := state.DecodeHead(bytes.NewReader(data))
	require.NoError(t, err)
	require.Empty(t, head.Notes)
	whole.Notes = head.Notes
	require.Equal(t, whole, head)

	for _, broken := range []string{"", "{", "{\n\"version\":2,\n", strings.Replace(string(data), `"version":2`, `"version":99`, 1)} {
		_, err := state.DecodeHead(strings.NewReader(broken))
		require.Error(t, err)
	}
}

func TestPlacesAndStetsInWords(t *testing.T) {
	f := state.Finding{Measure: "42", Beat: "3", Message: "two\nlines", Fix: "mend\nit"}
	require.Equal(t, "m. 42, beat 3: two lines; mend it", f.Advice())
	s := state.Stet{Finding: f, By: "AB", When: "2026-01-02", Until: "2026-02-01", Why: "meant\nso"}
	require.Equal(t, "meant so (AB, 2026-01-02, until 2026-02-01)", s.Words())
	total := state.TotalOf([]state.Outcome{
		{Findings: []state.Finding{{Severity: "error"}, {Severity: "note"}}, Stets: []state.Stet{s}},
		{Problem: "gone"},
	})
	require.Equal(t, "1 error, 1 note; 1 let stand", total.String())
	require.Equal(t, 1, total.Failed)
}
