package commentary

import (
	"strings"

	"fingerproof/corpus/printwords"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
)

// rolls lists the chords that the edition rolls and the text does not, and those that may be rolled, with the reason.
func (p *pieceRemarks) rolls() (out []string) {
	for i := range p.result.Rolls {
		r := &p.result.Rolls[i]
		first := p.byN[r.Notes[0]]
		if first == nil || !r.Decided && (p.result.Summary.Press || r.OtherHand) {
			continue
		}
		keys := make([]string, 0, len(r.Notes))
		for _, n := range r.Notes {
			if note := p.byN[n]; note != nil {
				keys = append(keys, pitch(note.Pitch))
			}
		}
		hand := p.Say("roll.both")
		if r.Hand != score.NoHand {
			hand = p.taker(first.Part, r.Hand)
		}
		verb := "roll.offered"
		if r.Decided {
			verb = "roll.decided"
		}
		where := p.Say("measure", first.Measure) + p.beatOf(first) + p.Say("colon")
		line := p.Say(verb, where, strings.Join(keys, ", "), hand)
		if r.Direction == decision.Down {
			line += p.Say("roll.down")
		}
		why := ""
		if known := printwords.Has("reason." + r.Reason); known && r.Hand != score.NoHand {
			why = p.Say("reason."+r.Reason, p.Say("of.hand."+r.Hand.String()))
		}
		switch {
		case r.Decided && r.Why != "" && why != "":
			why += p.Say("semicolon") + r.Why
		case r.Decided && r.Why != "":
			why = r.Why
		case why == "":
			why = p.Say("reason.decided")
		}
		out = append(out, line+p.Say("reason", strings.TrimSuffix(why, ".")))
	}
	return out
}
