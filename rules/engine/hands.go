package engine

import (
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// StrokeMore is what one stroke of the line, as it is fingered, costs other hands more.
type StrokeMore struct {
	IDs  []int   // of the notes struck
	More []int64 // for each of Options.OtherHands, in 1/4096 nat; less than 0 where it costs less
}

// moreForHands gives what the strokes of the way delivered cost other hands more, by the table and the aims. The keys that
// are held are those that the hand of the call holds.
func (w *Worker) moreForHands(a *answer, model *effort.Model, hands []hand.Profile) []StrokeMore {
	if len(hands) == 0 {
		return nil
	}
	l := a.lattice
	others, aims := make([]*effort.Model, len(hands)), w.aims
	aims.NoLearned = true // what the network says does not depend on the hand
	for i, other := range hands {
		others[i] = model.For(effort.NewPricerFor(w.weights, other, aims))
	}
	out, ids := make([]StrokeMore, l.Events()), make([]int, 0, len(l.Line.Strikes))
	costs := make([]int64, l.Events()*len(hands))
	var two, one, here fingering.Grip
	for e := range out {
		from := len(ids)
		for _, k := range l.Line.Events[e].Keys {
			if k.Struck {
				ids = append(ids, l.Line.Strikes[k.Strike].IDs...)
			}
		}
		two, one, here = one, here, a.grip(e)
		more := costs[e*len(hands):][:len(hands):len(hands)]
		own := l.BeyondFor(l.Profile, e, here)
		for i, other := range others {
			more[i] = int64(model.MoreFor(other, e, two, one, here)) + int64(l.BeyondFor(hands[i], e, here)-own)
		}
		out[e] = StrokeMore{IDs: ids[from:len(ids):len(ids)], More: more}
	}
	return out
}
