package suggest

import (
	"fingerproof/rules/engine"
)

// drafted says that the draft has a finger for a note that binds: a digit that stands in the text goes before it, and
// where digits are left unbound so is the draft.
func (in *Input) drafted(i int) bool {
	return !in.Free && in.Draft != nil && len(in.Draft[i]) > 0 && GivenFinger(&in.Score.Notes[i], in.Whose[i]) == 0
}

// openDraft says of the notes whose finger is the draft's what the engine says of them without it: how likely editors
// print that finger, and what else could be done. They are judged like suggestions, and are no given digits.
func openDraft(in Input, out *Suggestion) {
	var bound []int
	for i := range out.Notes {
		if in.drafted(i) && in.settled(i).Finger == 0 && !in.settled(i).Stands && out.Notes[i].Finger > 0 {
			bound = append(bound, i)
		}
	}
	if len(bound) == 0 {
		return
	}
	if in.Bare || in.AsRead {
		for _, i := range bound {
			out.Notes[i].Given, out.Notes[i].Constrained = 0, false
		}
		return
	}
	ask := in
	ask.Draft = nil
	free := Suggest(ask)
	for _, i := range bound {
		n, f := &out.Notes[i], &free.Notes[i]
		n.Given, n.Constrained = 0, false
		if n.Tied {
			continue
		}
		if n.Finger == f.Finger {
			n.Confidence, n.Shares, n.Choices, n.CostsMore = f.Confidence, f.Shares, f.Choices, f.CostsMore
			continue
		}
		n.Confidence, n.Shares = f.Shares[n.Finger-1], f.Shares
		n.Choices, n.CostsMore = []engine.Choice{choiceBeside(in, out, free, i)}, 0
	}
}

// choiceBeside is what would be done without the draft at a note: the notes around it that are fingered otherwise then,
// and what they cost less than the best way with the draft's finger there, at least (a regret below 0).
func choiceBeside(in Input, out, free *Suggestion, i int) engine.Choice {
	c := engine.Choice{Finger: free.Notes[i].Finger}
	for k := range free.Notes[i].Choices {
		o := &free.Notes[i].Choices[k]
		c.Regret = -o.Regret // the dearest one that is known, where the draft's is none of them
		if o.Finger == out.Notes[i].Finger {
			break
		}
	}
	line := in.Playing.LineOf(i)
	var notes []int
	at := 0
	for k := range line.Strokes {
		for _, n := range line.Strokes[k].Notes {
			if n == i {
				at = len(notes)
			}
			notes = append(notes, n)
		}
	}
	differs := func(k int) bool {
		return k >= 0 && k < len(notes) && free.Notes[notes[k]].Finger > 0 &&
			free.Notes[notes[k]].Finger != out.Notes[notes[k]].Finger
	}
	from, to := at, at
	for differs(from - 1) {
		from--
	}
	for differs(to + 1) {
		to++
	}
	for k := from; k <= to; k++ {
		c.Passage = append(c.Passage, engine.Step{ID: notes[k], Finger: free.Notes[notes[k]].Finger})
	}
	return c
}
