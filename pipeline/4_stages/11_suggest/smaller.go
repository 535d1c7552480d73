package suggest

import (
	"slices"

	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// SmallerPassage is what a smaller hand does where the fingering goes beyond it.
type SmallerPassage struct {
	Hand fingering.Hand
	// Notes that it fingers otherwise, as indices into Score.Notes in the order of playing, and their fingers.
	Notes   []int
	Fingers []fingering.Finger
	// Beyond lists notes whose grip no fingering brings within the smaller hand: to be rolled, or taken by the
	// other hand.
	Beyond []int
}

// smallerHand gives the profile of the policy's smaller hand; ok is false where there is none or it is not smaller.
func smallerHand(in Input) (p hand.Profile, ok bool) {
	name := in.Policy.SmallerHand()
	if name == "none" {
		return p, false
	}
	p, err := hand.Named(name)
	return p, err == nil && p.Span < in.Profile.Span
}

// forSmallerHand lists the passages in which the line as fingered exceeds the smaller hand, with what that hand
// does instead. The fingering itself is not bent to it.
func forSmallerHand(
	worker *engine.Worker, in Input, h fingering.Hand, line []fingering.Note, result engine.Result,
	added func(id int) bool,
) []SmallerPassage {
	small, ok := smallerHand(in)
	if !ok {
		return nil
	}
	too := tooWide(small, h, line, result)
	if !slices.Contains(too, true) {
		return nil
	}
	other := worker.Finger(h, small, in.Weights, line,
		engine.Options{Decode: engine.MostAgreement, Aims: AimsIn(in)})
	order := playingOrder(line)
	var out []SmallerPassage
	for at := 0; at < len(order); at++ {
		if !too[order[at]] {
			continue
		}
		from, to := at, at // as far as the two fingerings differ on either side
		differs := func(i int) bool {
			return other.Notes[order[i]].Finger != result.Notes[order[i]].Finger
		}
		for from > 0 && differs(from-1) {
			from--
		}
		for to+1 < len(order) && (differs(to+1) || too[order[to+1]]) {
			to++
		}
		p := SmallerPassage{Hand: h}
		for _, k := range order[from : to+1] {
			id := line[k].ID
			if added(id) || line[k].Tied {
				continue
			}
			if n := &other.Notes[k]; n.OutOfReach != "" {
				p.Beyond = append(p.Beyond, id)
			} else if n.Finger != result.Notes[k].Finger {
				p.Notes, p.Fingers = append(p.Notes, id), append(p.Fingers, n.Finger)
			}
		}
		if len(p.Notes)+len(p.Beyond) > 0 {
			out = append(out, p)
		}
		at = to
	}
	return out
}

// tooWide marks the notes of grips that go beyond a hand, as fingered.
func tooWide(p hand.Profile, h fingering.Hand, line []fingering.Note, result engine.Result) []bool {
	out := make([]bool, len(line))
	order := playingOrder(line)
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && fingering.Before(&line[order[from]], &line[order[to]]) == 0 {
			to++
		}
		for i := from; i < to; i++ {
			for j := i + 1; j < to; j++ {
				a, b := order[i], order[j]
				low, high := h.Mirror(line[a].Key), h.Mirror(line[b].Key)
				f, g := int(result.Notes[a].Finger), int(result.Notes[b].Finger)
				if low > high {
					low, high, f, g = high, low, g, f
				}
				if f > 0 && g > f && p.Excess(f, g, hand.Distance(low, high)) > 0 {
					out[a], out[b] = true, true
				}
			}
		}
		from = to
	}
	return out
}

// playingOrder lists a line's notes by time; grace notes before the notes they lean on.
func playingOrder(line []fingering.Note) []int {
	order := make([]int, len(line))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return fingering.Before(&line[a], &line[b]) })
	return order
}
