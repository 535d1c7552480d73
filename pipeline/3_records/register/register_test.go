package register_test

import (
	"testing"

	"fingerproof/pipeline/3_records/register"

	"github.com/stretchr/testify/require"
)

func volume() *register.Register {
	return &register.Register{
		Approved: "approved", Proofs: []register.Proof{
			{Name: "proof1", Pieces: map[string]string{"op7": "a", "op9": "x"}}, {Name: "proof2", Pieces: map[string]string{"op7": "b"}},
		},
		Entries: []register.Entry{
			{ID: "1a", Piece: "op7", At: "m. 12, l.h., beat 3", What: "pitch", Reads: "F4", Want: "F#4", State: register.Open, First: 2},
			{ID: "2b", Piece: "op7", At: "m. 13, r.h., beat 1", What: "slur", Want: "to m. 14: beat 1", State: register.Missed, First: 1, By: "AB"},
			{ID: "3c", Piece: "op9", At: "m. 1", What: "tempo", Reads: "Allegro", State: register.Done, First: 1, Done: 2},
		},
	}
}

func TestARegisterIsReadAsItWasWritten(t *testing.T) {
	data, err := register.Write(volume())
	require.NoError(t, err)
	again, err := register.Read("r.yaml", data)
	require.NoError(t, err)
	require.Equal(t, volume(), again)
	require.Contains(t, string(data), "\n    should: F#4\n", "a line for each field")
}

// A volume is read piece by piece: each piece has its own first proof.
func TestProofsAreCountedByPiece(t *testing.T) {
	r := volume()
	proof := func(name string, pieces ...string) register.Proof {
		p := register.Proof{Name: name, Pieces: map[string]string{}}
		for i := 0; i < len(pieces); i += 2 {
			p.Pieces[pieces[i]] = pieces[i+1]
		}
		return p
	}
	number := func(p register.Proof, piece string) int { return r.Number(p, piece) }
	require.Equal(t, 1, number(proof("proof1", "op7", "a"), "op7"), "read again")
	require.Equal(t, 2, number(proof("proof2", "op7", "b"), "op7"))
	require.Equal(t, 3, number(proof("proof2", "op7", "c"), "op7"), "the folder was filled anew")
	require.Equal(t, 3, number(proof("proof3", "op7", "b"), "op7"), "it came back untouched")
	require.Equal(t, 3, number(proof("proof3", "op7", "a"), "op7"), "an old text was sent again")
	require.Equal(t, 1, number(proof("proof1/op7.xml", "op7", "a"), "op7"), "one score of the folder")
	require.Equal(t, 2, number(proof("proof2", "op9", "x"), "op9"), "the rest of the proof")
	require.Equal(t, 1, number(proof("proof2", "op3", "z"), "op3"))
	require.Equal(t, []int{2, 1, 0}, []int{r.Latest("op7"), r.Latest("op9"), r.Latest("op3")})
	r.Add(proof("proof2", "op7", "b", "op9", "x"))
	require.Len(t, r.Proofs, 2, "the rest of the same proof")
	require.Equal(t, 2, r.Latest("op9"))
	r.Add(proof("proof2", "op7", "b"))
	require.Len(t, r.Proofs, 2, "nothing new")
	r.Add(proof("proof2", "op7", "c"))
	require.Len(t, r.Proofs, 3, "the same name, another text")
	r.Add(proof("proof3", "op7", "c"))
	require.Len(t, r.Proofs, 4, "another name, the same text")
}

// What became of corrections since is not taken back by a look at an old proof.
func TestAnOldProofIsNotReadAgain(t *testing.T) {
	r := volume()
	require.Equal(t, []string{"op7"}, r.Later(register.Proof{Name: "proof1", Pieces: map[string]string{"op7": "a", "op9": "x"}}))
	require.Empty(t, r.Later(register.Proof{Name: "proof1", Pieces: map[string]string{"op9": "x"}}))
	require.Empty(t, r.Later(register.Proof{Name: "proof2", Pieces: map[string]string{"op7": "b"}}))
	require.Empty(t, r.Later(register.Proof{Name: "proof3", Pieces: map[string]string{"op7": "a"}}), "it was sent once more")
}

// A piece that came back as it was is named where something was asked for in it.
func TestWhatCameBackUntouchedIsNamed(t *testing.T) {
	r := volume()
	require.Equal(t, []string{"op7"}, r.Untouched(register.Proof{Name: "proof3", Pieces: map[string]string{"op7": "b", "op9": "x"}}))
	require.Empty(t, r.Untouched(register.Proof{Name: "proof2", Pieces: map[string]string{"op7": "b"}}))
	require.Empty(t, r.Untouched(register.Proof{Name: "proof3", Pieces: map[string]string{"op7": "c"}}))
}

func TestARegisterThatCannotBeRead(t *testing.T) {
	for text, want := range map[string]string{
		"":                             "r.yaml: it is empty",
		"approved: [":                  "r.yaml: line 1",
		"approved: x\nstrange: y\n":    "line 2: field strange not found",
		"corrections:\n  - piece: x\n": "correction 1 names no id",
		"corrections:\n  - {id: a, piece: x, state: gone}\n":                                     `correction a cannot be "gone"; it is open, missed, done or kept`,
		"corrections:\n  - {id: a, piece: x, state: open}\n  - {id: a, piece: x, state: open}\n": "correction a stands there twice",
	} {
		_, err := register.Read("r.yaml", []byte(text))
		require.ErrorContains(t, err, want, text)
		require.ErrorContains(t, err, "hint: ")
	}
}

// Two readers' marks come together; what they differ on is named and stays to be made.
func TestMarksAreMerged(t *testing.T) {
	r := volume()
	mark := func(id string, s register.State, by, comment string) *register.Register {
		return &register.Register{Entries: []register.Entry{{ID: id, Piece: "op7", State: s, By: by, Comment: comment}}}
	}
	unknown, contradicted, _ := r.Merge(mark("1a", register.Kept, "CD", "as in the autograph"))
	require.Empty(t, unknown)
	require.Empty(t, contradicted)
	require.Equal(t, register.Kept, r.Entries[0].State)
	require.Equal(t, "as in the autograph", r.Entries[0].Comment)
	r.Merge(mark("1a", register.Kept, "CD", "as in the autograph"))
	require.Equal(t, "as in the autograph", r.Entries[0].Comment, "the same marks twice change nothing")

	_, contradicted, _ = r.Merge(mark("1a", register.Open, "EF", "no: see m. 20"))
	require.Len(t, contradicted, 1)
	require.Equal(t, register.Open, r.Entries[0].State)
	require.Equal(t, "as in the autograph; no: see m. 20", r.Entries[0].Comment)

	_, contradicted, _ = r.Merge(mark("2b", register.Kept, "CD", ""))
	require.Len(t, contradicted, 1, "AB has asked for it")
	require.Equal(t, register.Missed, r.Entries[1].State)

	r.Merge(mark("3c", register.Kept, "CD", ""))
	require.Equal(t, register.Done, r.Entries[2].State, "what is done is done")
	unknown, _, _ = r.Merge(mark("9z", register.Kept, "CD", ""))
	require.Len(t, unknown, 1)
}

func TestARegisterIsOfOneApprovedText(t *testing.T) {
	r := volume()
	require.Empty(t, r.Approve(map[string]string{"op7": "1"}))
	require.Empty(t, r.Approve(map[string]string{"op7": "1", "op9": "2"}), "a volume is read piece by piece")
	require.Equal(t, []string{"op7", "op9"}, r.Approve(map[string]string{"op9": "3", "op7": "2", "op3": "1"}))
	require.Equal(t, map[string]string{"op7": "1", "op9": "2"}, r.Texts)
}

// A mark is one on a reading: where another stands in the register it is left out and named, and what has come in the
// stead of a kept reading waits for a decision of its own.
func TestAMarkOnAnotherReadingIsLeftOut(t *testing.T) {
	mark := func(s register.State, reads string) *register.Register {
		return &register.Register{Entries: []register.Entry{{ID: "1a", Piece: "op7", What: "pitch", Reads: reads, State: s, By: "CD"}}}
	}
	r := volume()
	for _, reads := range []string{"G4", ""} {
		_, _, outdated := r.Merge(mark(register.Kept, reads))
		require.Len(t, outdated, 1)
		require.Equal(t, volume(), r)
	}
	_, _, outdated := r.Merge(mark(register.Kept, "F4"))
	require.Empty(t, outdated)
	require.Equal(t, register.Kept, r.Entries[0].State)

	now := "G4"
	r.Entries[0].Now = &now
	_, _, outdated = r.Merge(mark(register.Kept, "A4"))
	require.Len(t, outdated, 1)
	r.Merge(mark(register.Kept, "G4"))
	require.Equal(t, "G4", r.Entries[0].Reads)
	require.Nil(t, r.Entries[0].Now)
	r.Entries[0].Reads, r.Entries[0].Now = "F4", &now
	r.Merge(mark(register.Open, "G4"))
	require.Equal(t, register.Open, r.Entries[0].State)
}
