package bind_test

import (
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision/decisiontest"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/10_bind"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// Short names for what many tests write.
var (
	parse       = scoretest.Read
	music       = scoretest.Letters
	decisionsOn = decisiontest.Of
)

const scale = scoretest.Scale

// oneHand has the right hand play everything.
func oneHand(s *score.Score) *playing.Playing {
	h := playing.Hands{
		Piano: make([]bool, len(s.Notes)), Hand: make([]score.Hand, len(s.Notes)), Player: make([]int, len(s.Notes)),
		Parts: []bool{true},
	}
	for i := range s.Notes {
		h.Piano[i], h.Hand[i] = s.Notes[i].Kind == score.Pitched, score.Right
	}
	return playing.New(s, h)
}

func TestDecisionsHoldForReturnsWhereAsked(t *testing.T) {
	s := music(t, scale)
	back := []parallel.Return{{First: []int{0, 1, 2, 3}, Later: []int{8, 9, 10, 11}}}
	d := decisionsOn(t, "AB", `  - {amend: notes, when: 2026-01-05, returns: true, notes: [{measure: 1, onset: 0, pitch: C4, finger: 2}]}
  - {amend: notes, when: 2026-01-05, notes: [{measure: 1, onset: 1, pitch: D4, finger: 3}]}
  - {amend: notes, when: 2026-01-05, returns: true, notes: [{measure: 1, onset: 2, pitch: E4, finger: 4}]}
  - {amend: notes, when: 2026-01-05, notes: [{measure: 3, onset: 2, pitch: E4, finger: 5}]}
`)
	digits := bind.Digits(bind.Input{Score: s, Playing: oneHand(s), Decided: decide.Place(decide.Input{Score: s, Decisions: d}), Returns: back, Apart: nil})
	require.Equal(t, 2, digits[8].Finger())
	require.True(t, digits[8].Carried)
	require.Equal(t, 0, digits[9].Finger(), "not asked for")
	require.Equal(t, 5, digits[10].Finger(), "a word of its own comes first")
	apart := make([]bool, len(s.Notes))
	apart[8] = true
	digits = bind.Digits(bind.Input{Score: s, Playing: oneHand(s), Decided: decide.Place(decide.Input{Score: s, Decisions: d}), Returns: back, Apart: apart})
	require.Equal(t, 0, digits[8].Finger(), "declared to be fingered for itself")
	s.Notes[0].Arpeggio.Rolled = true
	digits = bind.Digits(bind.Input{Score: s, Playing: oneHand(s), Decided: decide.Place(decide.Input{Score: s, Decisions: d}), Returns: back, Apart: nil})
	require.Equal(t, 0, digits[8].Finger(), "the fingers of a rolled chord may not lie in one that is struck at once")
	s.Notes[8].Arpeggio.Rolled = true
	digits = bind.Digits(bind.Input{Score: s, Playing: oneHand(s), Decided: decide.Place(decide.Input{Score: s, Decisions: d}), Returns: back, Apart: nil})
	require.Equal(t, 2, digits[8].Finger(), "rolled in both")
}

// A digit goes to no measure that its editor left out, to no key of the other colour with the thumb, and not against what the text
// has beside it there.
func TestDigitsStayOutOfSomeReturns(t *testing.T) {
	bound := func(s *score.Score, back []parallel.Return, entry string) []decide.Digit {
		d := decisionsOn(t, "AB", "  - {amend: notes, when: 2026-01-05, returns: true, "+entry+"}\n")
		return bind.Digits(bind.Input{Score: s, Playing: oneHand(s), Decided: decide.Place(decide.Input{Score: s, Decisions: d}), Returns: back})
	}
	s := music(t, scale)
	back := []parallel.Return{{First: []int{0, 1}, Later: []int{8, 9}, Given: [][][2]int{{{1, 9}}, nil}}}
	const both = "notes: [{measure: 1, onset: 0, pitch: C4, finger: 1}, {measure: 1, onset: 1, pitch: D4, finger: 3}]"
	require.Equal(t, []int{1, 3}, []int{bound(s, back, both)[8].Finger(), bound(s, back, both)[9].Finger()})
	require.Equal(t, 0, bound(s, back, `except: ["3"], `+both)[8].Finger(), "left out")
	require.Equal(t, 1, bound(s, back, `except: ["2"], `+both)[8].Finger(), "another measure")
	s.Notes[9].Indications = []score.Indication{{Fingers: []int{2}}}
	require.Equal(t, 0, bound(s, back, both)[8].Finger(), "the text has 2 beside it there, and 3 is decided here")
	s.Notes[9].Indications[0].Fingers[0] = 3
	require.Equal(t, 1, bound(s, back, both)[8].Finger())
	s.Notes[8].Midi++
	require.Equal(t, 0, bound(s, back, both)[8].Finger(), "no thumb goes on to a black key")
}

// The fingers of a sign go to where its passage returns with the same sign; to another sign only the finger of the note goes.
func TestTheRowOfASignGoesToTheSameSignAlone(t *testing.T) {
	s := music(t, scale)
	s.Notes[0].Ornaments, s.Notes[8].Ornaments = []score.Ornament{{Kind: "turn"}}, []score.Ornament{{Kind: "turn"}}
	s.Notes[1].Ornaments, s.Notes[9].Ornaments = []score.Ornament{{Kind: "mordent"}}, []score.Ornament{{Kind: "trill"}}
	s.Notes[2].Ornaments, s.Notes[10].Ornaments = []score.Ornament{{Kind: "turn"}}, []score.Ornament{{Kind: "inverted-turn"}}
	back := []parallel.Return{{First: []int{0, 1, 2, 3}, Later: []int{8, 9, 10, 11}}}
	d := decisionsOn(t, "AB", `  - {take: notes, when: 2026-01-05, returns: true, notes: [{measure: 1, onset: 0, pitch: C4, finger: 4-3-2-3}, {measure: 1, onset: 1, pitch: D4, finger: 3-2-3}, {measure: 1, onset: 2, pitch: E4, finger: 5-4-3-4}]}
`)
	digits := bind.Digits(bind.Input{Score: s, Playing: oneHand(s), Decided: decide.Place(decide.Input{Score: s, Decisions: d}), Returns: back})
	require.Equal(t, []int{4, 3, 2, 3}, digits[8].Written())
	require.Equal(t, 3, digits[8].Finger())
	require.Equal(t, []int{3}, digits[9].Written())
	require.Equal(t, []int{4}, digits[10].Written(), "the finger of the note itself")
}

// A note that a correction put in the place of one with a digit of its own is asked with that digit, though its passage was decided
// elsewhere: what is carried there would leave nothing to be taken, and the lost decision unanswered (trial 15b-41).
func TestNoDigitIsCarriedToACorrectedNote(t *testing.T) {
	s := music(t, scale)
	back := []parallel.Return{{First: []int{0, 1}, Later: []int{8, 9}}}
	placed := decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", "  - {amend: notes, when: 2026-01-05, returns: true, "+
		"notes: [{measure: 1, onset: 0, pitch: C4, finger: 1}, {measure: 1, onset: 1, pitch: D4, finger: 3}]}\n")})
	placed.Corrected = make([][]int, len(s.Notes))
	placed.Corrected[8] = []int{2}
	digits := bind.Digits(bind.Input{Score: s, Playing: oneHand(s), Decided: placed, Returns: back})
	require.Equal(t, []int{0, 3}, []int{digits[8].Finger(), digits[9].Finger()})
}
