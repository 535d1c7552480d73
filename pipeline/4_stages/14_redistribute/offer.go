package redistribute

import (
	"slices"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
)

// Input is everything the stage looks at.
type Input struct {
	Suggest    suggest.Input // what the suggestion was made from
	Suggestion *suggest.Suggestion
	Decided    *decide.Placed
	Scoring    corpus.Scoring
	Witnesses  []witnesses.Witness
}

// Output is what the other hand may take, and takes.
type Output struct {
	// Redistributions are those offered and those decided, in order of their first note.
	Redistributions []fingering.Redistribution
	InTrouble       Found
	// Rolls are the chords that may be rolled, and those that editors decided to roll, in order of their first note.
	Rolls []fingering.Roll
}

// aimsOf are the aims by which the hands are weighed against each other: without the network of the weights, which says
// of one hand's line as it stands what is printed, not what a line costs that gains or loses notes.
func aimsOf(p *policies.Policy) effort.Aims {
	a := suggest.AimsOf(p)
	a.NoLearned = true
	return a
}

// Offer looks for notes that the other hand might take. What is decided stands
// beside what is offered.
func Offer(in Input) (out Output) {
	ask := in.Suggest
	m := Material{
		Score: ask.Score, Playing: ask.Playing, Said: make([]Said, len(ask.Score.Notes)),
		Line:        linesOf(ask),
		MarkedTempo: ask.Tempo.Marked, Profile: ask.Profile, Weights: ask.Weights, Aims: aimsOf(ask.Policy),
		Returns: ask.Returns,
		OneHand: in.Scoring == corpus.LeftHandAlone || in.Scoring == corpus.RightHandAlone,
		Rules: Rules{
			On: map[string]bool{}, Threshold: ask.Policy.RedistributeThreshold(), Thresholds: map[string]int{},
			PerPage: ask.Policy.RedistributePerPage(),
		},
	}
	for i := range m.Said {
		n := &in.Suggestion.Notes[i]
		m.Said[i] = Said{Finger: n.Finger, OutOfReach: n.OutOfReach, Pedal: n.Pedal}
		for _, whose := range ask.Whose[i] {
			m.Said[i].Given = m.Said[i].Given || whose != score.Open
		}
		// Who decided a digit for the hand that has the note has decided that the note stays there, for its returns too.
		kept := in.Decided.Hands[i] != score.NoHand || ask.Decided != nil && ask.Decided[i].Finger > 0
		// So has a sign of the text that goes on past its measure.
		kept = kept || ask.Playing.By(i) == playing.BySign
		m.Said[i].Given = m.Said[i].Given || kept || ask.Score.Notes[i].BySign
	}
	for _, reason := range Reasons {
		m.Rules.On[reason] = ask.Policy.Redistributes(reason)
	}
	for _, reason := range WithThreshold {
		m.Rules.Thresholds[reason] = ask.Policy.RedistributeThresholdOf(reason)
	}
	m.Declined = slices.Clone(in.Decided.Declined)
	m.Decided = in.Decided.Redistributions
	for _, d := range in.Decided.DeclinedAs {
		if d.Alike {
			m.DeclinedAlike = append(m.DeclinedAlike, d.Notes)
		}
		if d.Reason != "" {
			m.AlsoDeclined = append(m.AlsoDeclined, fingering.Redistribution{Notes: d.Notes, Reason: d.Reason, To: d.To})
		}
	}
	out.InTrouble = Find(m)
	nameWitnesses(ask.Score, in.Witnesses, hands.Scoring{Kind: string(in.Scoring)}, out.InTrouble.Redistributions)
	out.Redistributions = out.InTrouble.Redistributions
	out.Redistributions = append(slices.Clone(out.Redistributions), in.Decided.Redistributions...)
	slices.SortStableFunc(out.Redistributions,
		func(a, b fingering.Redistribution) int { return a.Notes[0] - b.Notes[0] })
	out.Rolls = rolls(in, out.Redistributions)
	return out
}

// linesOf gives the notes of one hand of a player as the engine is asked about them. All lines are made at once, and each is
// to be asked for once.
func linesOf(ask suggest.Input) func(player int, h score.Hand) []fingering.Note {
	type line struct {
		player int
		hand   score.Hand
	}
	var all map[line][]fingering.Note
	return func(player int, h score.Hand) []fingering.Note {
		if all == nil {
			all = map[line][]fingering.Note{}
			suggest.EachLine(ask, func(player int, h score.Hand, notes []fingering.Note) { all[line{player, h}] = notes })
		}
		return all[line{player, h}]
	}
}
