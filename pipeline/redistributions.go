package pipeline

import (
	"slices"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/rules/fingering"
)

// redistributeNotes looks for notes that the other hand might take. What is
// decided stands beside what is offered.
func redistributeNotes(w *PieceRun) error {
	in := redistribute.Input{
		Score: w.Score, Piano: w.Hands.Piano, Hand: w.Hands.Hand, Player: w.Hands.Player, Said: make([]redistribute.Said, len(w.Score.Notes)),
		Line:        func(player int, h score.Hand) []fingering.Note { return suggest.NotesOf(w.SuggestInput(), player, h) },
		MarkedTempo: w.Tempo.Marked, Profile: w.Profile, Weights: w.Weights.Table, Aims: suggest.AimsOf(w.Policy), Returns: w.Returns,
		OneHand: w.Piece.Scoring == corpus.LeftHandAlone || w.Piece.Scoring == corpus.RightHandAlone,
		Rules:   redistribute.Rules{On: map[string]bool{}, Threshold: w.Policy.RedistributeThreshold(), PerPage: w.Policy.RedistributePerPage()},
	}
	for i := range in.Said {
		n := &w.Suggestion.Notes[i]
		in.Said[i] = redistribute.Said{Finger: n.Finger, OutOfReach: n.OutOfReach, Pedal: n.Pedal}
		for _, whose := range w.Whose[i] {
			in.Said[i].Given = in.Said[i].Given || whose != score.Open
		}
		if w.Decided != nil {
			in.Said[i].Given = in.Said[i].Given || w.Decided.Hands[i] != score.NoHand
		}
	}
	for _, reason := range redistribute.Reasons {
		in.Rules.On[reason] = w.Policy.Redistributes(reason)
	}
	if w.Decided != nil {
		in.Declined = w.Decided.Declined
	}
	w.InTrouble = redistribute.Find(in)
	w.Redistributions = w.InTrouble.Redistributions
	if w.Decided != nil {
		w.Redistributions = append(slices.Clone(w.Redistributions), w.Decided.Redistributions...)
	}
	slices.SortStableFunc(w.Redistributions, func(a, b fingering.Redistribution) int { return a.Notes[0] - b.Notes[0] })
	return nil
}

// redistributionsInPrint leaves out what is only offered where nothing open is marked.
func redistributionsInPrint(w *PieceRun) []fingering.Redistribution {
	if !settledOnly(w) {
		return w.Redistributions
	}
	return slices.DeleteFunc(slices.Clone(w.Redistributions), func(r fingering.Redistribution) bool { return !r.Decided })
}

// tellRedistributions lays down what is offered to the other hand. The text as
// written keeps its hands and fingers.
func tellRedistributions(w *PieceRun) (out []state.Redistribution) {
	for i := range w.Redistributions {
		r := &w.Redistributions[i]
		told := state.Redistribution{ID: r.ID, To: r.To, Reason: r.Reason, Decided: r.Decided, Gain: r.Gain, Why: r.Why}
		for k, n := range r.Notes {
			finger := int(r.Fingers[k])
			if finger == 0 { // decided without a digit: the hand has it already
				finger = int(w.Suggestion.Notes[n].Finger)
			}
			if finger > 0 {
				told.Notes = append(told.Notes, state.RedistributedNote{N: n, Finger: finger})
			}
		}
		for k, n := range r.Around {
			if r.AroundFingers[k] == 0 {
				continue
			}
			told.Around = append(told.Around, state.RedistributedNote{N: n, Finger: int(r.AroundFingers[k])})
		}
		out = append(out, told)
	}
	return out
}
