package redistribute

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

// input is a staged trouble as the stages before give it.
func (p staged) input(t *testing.T) Input {
	m := p.material(t)
	speed := tempo.Find(tempo.Input{
		Score: m.Score, Manifest: policies.Range{Low: p.Tempo, High: p.Tempo}, Policy: policies.Default(),
	})
	ask := suggest.Input{
		Score: m.Score, Playing: m.Playing, Whose: make([][]score.Responsibility, len(m.Score.Notes)),
		Policy: policies.Default(), Touch: "legato", Profile: m.Profile, Weights: m.Weights, Tempo: &speed,
	}
	for i := range m.Score.Notes {
		for range m.Score.Notes[i].Indications {
			ask.Whose[i] = append(ask.Whose[i], score.Composer)
		}
	}
	return Input{
		Suggest: ask, Suggestion: suggest.Suggest(ask),
		Decided: &decide.Placed{
			Hands: make([]score.Hand, len(m.Score.Notes)), Digits: make([]decide.Digit, len(m.Score.Notes)),
		},
		Scoring: corpus.TwoHands,
	}
}

// The stage takes from the suggestion where a hand is in trouble, from the text and the editors what stays where it
// is; what is decided stands with what is offered, in the order of the notes.
func TestWhatTheStageOffers(t *testing.T) {
	offered := func(p staged, change func(in *Input)) string {
		in := p.input(t)
		if change != nil {
			change(&in)
		}
		out := Offer(in)
		return spelled(Material{Score: in.Suggest.Score}, out.Redistributions)
	}
	tenth := stagedByName(t, "tenth in the right hand")
	require.Equal(t, "L reach C4@0", offered(tenth, nil))
	digits := stagedByName(t, "a digit of the text keeps its hand")
	require.Equal(t, "no", offered(digits, nil))
	require.Equal(t, "L reach C4@0", offered(digits, func(in *Input) {
		in.Suggest.Whose[0][0] = score.Open
		in.Suggestion = suggest.Suggest(in.Suggest)
	}), "a digit of our own offering binds nothing")
	require.Equal(t, "no", offered(tenth, func(in *Input) { in.Decided.Hands[0] = score.Right }),
		"an editor has decided who plays it")
	require.Equal(t, "no", offered(tenth, func(in *Input) {
		bound := make([]decide.Digit, len(in.Suggest.Score.Notes))
		bound[0] = decide.Digit{Verb: decision.Take, Fingers: []int{1}, Carried: true}
		in.Suggest.Decided = suggest.DecidedOf(bound)
	}), "an editor has given it a finger of the hand that has it")
	require.Equal(t, "L reach C4@0", offered(tenth, func(in *Input) {
		bound := make([]decide.Digit, len(in.Suggest.Score.Notes))
		bound[3] = decide.Digit{Verb: decision.Take, Fingers: []int{int(in.Suggestion.Notes[3].Finger)}}
		in.Suggest.Decided = suggest.DecidedOf(bound)
	}), "what is decided beside it keeps nothing")
	require.Equal(t, "no", offered(tenth, func(in *Input) { in.Decided.Declined = [][]int{{0}} }))
	require.Equal(t, "no", offered(tenth, func(in *Input) { in.Scoring = corpus.LeftHandAlone }))
	require.Equal(t, "no", offered(tenth, func(in *Input) { in.Scoring = corpus.RightHandAlone }))
	for _, p := range stagedFile(t) {
		if p.Set == nil && p.Scoring == "" && p.Tempo == 0 {
			if got := offered(p, nil); !slices.Contains(p.Accept, got) {
				t.Errorf("%s: %q, accepted are %q", p.Name, got, p.Accept)
			}
		}
	}
	decided := fingering.Redistribution{Notes: []int{3}, To: score.Left, Reason: "asked", Decided: true}
	in := staged{Right: "C5/2 C5 D4+A4+F5", Left: "C3/2 r D3"}.input(t)
	in.Decided.Redistributions = []fingering.Redistribution{
		{Notes: []int{1}, To: score.Left, Reason: "asked", Decided: true}, decided,
	}
	require.Equal(t, "L asked C5@2; L reach D4@4; L asked A4@4",
		spelled(Material{Score: in.Suggest.Score}, Offer(in).Redistributions))
	require.Len(t, Offer(in).InTrouble.Redistributions, 1, "what was found, without what is decided")
}

// Chances for the music have thresholds of their own in the house style.
func TestThresholdsOfTheHouseStyle(t *testing.T) {
	answer := staged{Right: "G4/1", Right2: "r/2 B5/4 D6", Left: "G2+D3/4 r r/2"}
	offered := func(settings map[string]string) string {
		in := answer.input(t)
		policy, err := policies.Default().Setting(settings)
		require.NoError(t, err)
		in.Suggest.Policy = policy
		return spelled(Material{Score: in.Suggest.Score}, Offer(in).Redistributions)
	}
	require.Equal(t, "L crossing B5@2 D6@3", offered(nil))
	require.Equal(t, "no", offered(map[string]string{"redistribute.crossing_threshold": "100000"}))
	require.Equal(t, "no", offered(map[string]string{"redistribute.crossing": "false"}))
	require.Equal(t, "no", staged{Left: "C3+G3+E4/2"}.answer(t), "a player with one hand alone")
}

// A witness whose hand sign gives the notes so is named beside the offer.
func TestWitnessesThatGiveItSo(t *testing.T) {
	tenth := stagedByName(t, "tenth in the right hand").material(t)
	tenth.Score.Parts = []score.Part{{ID: "P1", Name: "Piano", Staves: 2, Keyboard: true}}
	why := func(witness staged, hand score.Hand) string {
		w := witness.material(t).Score
		w.Parts = tenth.Score.Parts
		for i := range w.Directions {
			w.Directions[i].Hand, w.Directions[i].Voice = hand, "3"
		}
		offers := Find(tenth).Redistributions
		nameWitnesses(tenth.Score, []witnesses.Witness{{Siglum: "K", Score: w}}, hands.Scoring{}, offers)
		return offers[0].Why
	}
	said := why(staged{Right: "G4+E5/2", Right2: "!m.s. C4/2", Left: "C3/2"}, score.Left)
	t.Log(said)
	require.Contains(t, said, ` Witness K gives it so, by its sign "m.s.".`)
	require.NotContains(t, why(staged{Right: "C4+G4+E5/2", Left: "C3/2"}, score.Left), "Witness")
	require.NotContains(t, why(staged{Right: "G4+E5/2", Right2: "!m.d. C4/2", Left: "C3/2"}, score.Right), "Witness")
}

// A tenth that comes again with the same keys in both hands is one question: the second names the first, a decline for like
// places holds for both, and one for its place alone leaves the other; with another key in the other hand nothing is alike.
func TestLikePlacesAreOneQuestion(t *testing.T) {
	same := staged{Right: "C4+G4+E5/2 E5 F5 G5 A5 G5 F5 C4+G4+E5", Left: "C3/2 r r r r r r C3"}
	find := func(p staged, change func(in *Material)) []fingering.Redistribution {
		in := p.material(t)
		in.Rules.PerPage = 1
		change(&in)
		return Find(in).Redistributions
	}
	found := find(same, func(*Material) {})
	require.Len(t, found, 2, "they count once on a page")
	require.Empty(t, found[0].Like)
	require.Equal(t, found[0].ID, found[1].Like)
	var f finder
	f.in = same.material(t)
	f.load(0)
	require.Equal(t, [][]int{found[1].Notes}, f.likePlaces(found[0].Notes))
	f.in.DeclinedAlike = [][]int{found[0].Notes}
	f.declinedToo()
	require.False(t, f.mayMove(map[int]bool{found[1].Notes[0]: true}), "declined for like places")
	require.Empty(t, find(same, func(in *Material) {
		in.Decided, in.Said[found[1].Notes[0]].Given = found[1:], true
	}), "what was taken keeps its place on the page")
	other := staged{Right: same.Right, Left: "C3/2 r r r r r r D3"}
	for _, r := range find(other, func(in *Material) { in.Rules.PerPage = 0 }) {
		require.Empty(t, r.Like)
	}
}

// A finger has one key: a note that goes to a hand whose finger holds another beside it is not offered with that finger.
func TestAFingerThatHoldsAKeyTakesNoOther(t *testing.T) {
	for _, p := range stagedFile(t) {
		in := p.material(t)
		for _, r := range Find(in).Redistributions {
			for k, n := range r.Notes {
				for j, o := range r.Notes {
					a, b := in.Score.At(n), in.Score.At(o)
					end := a.Add(in.Score.Notes[n].Duration)
					held := a.Less(b) && b.Less(end) && in.Score.Notes[n].Midi != in.Score.Notes[o].Midi
					require.False(t, held && r.Fingers[k] == r.Fingers[j] && !strings.Contains(r.Why, "let go"), "%s: %s", p.Name, r.Why)
				}
			}
		}
	}
}

// What is found of a grip is let stand: the chord is struck as it is written, and no roll is offered.
func TestAGripThatIsLetStandIsNotRolled(t *testing.T) {
	st := decide.FindingStet{Decision: &decision.Decision{Verb: decision.Stet, On: decision.Finding, Rule: "grip-out-of-reach"}, Notes: []int{4}}
	in := Input{Decided: &decide.Placed{Stets: []decide.FindingStet{st}}}
	require.True(t, letStand(in, []int{3, 4}))
	require.False(t, letStand(in, []int{5, 6}))
	in.Decided.Stets[0].Expired = true
	require.False(t, letStand(in, []int{3, 4}))
	in.Decided.Stets[0].Expired, st.Decision.Rule = false, "same-finger"
	require.False(t, letStand(in, []int{3, 4}))
}
