package alteration

import (
	"github.com/beevik/etree"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

func (d *Draft) inRun(kind string, change func(r *state.Result, n *state.Note)) bool {
	e := d.pick(func(_ *etree.Element, n *score.Note) bool { return loneStroke(n) })
	if e == nil {
		return false
	}
	d.runs = append(d.runs, func(r *state.Result, now map[*etree.Element]int) {
		for k := range r.Notes {
			if i, ok := now[e]; ok && r.Notes[k].N == i {
				change(r, &r.Notes[k])
				return
			}
		}
	})
	d.plant(kind, e)
	return true
}

func otherHand(d *Draft) bool {
	return d.inRun("hand", func(_ *state.Result, n *state.Note) { n.Hand = n.Hand.Other() })
}

func otherSuggestion(d *Draft) bool {
	return d.inRun("suggestion", func(_ *state.Result, n *state.Note) { n.Finger = n.Finger%5 + 1 })
}

func addRedistribution(d *Draft) bool {
	return d.inRun("redistribution", func(r *state.Result, n *state.Note) {
		notes := []state.RedistributedNote{{N: n.N, Finger: 1}}
		r.Redistributions = append(r.Redistributions, state.Redistribution{ID: "r", To: n.Hand.Other(), Notes: notes})
	})
}

func addRoll(d *Draft) bool {
	return d.inRun("rolled chord", func(r *state.Result, n *state.Note) {
		r.Rolls = append(r.Rolls, state.Roll{ID: "r", Hand: n.Hand, Direction: "up", Notes: []int{n.N}})
	})
}
