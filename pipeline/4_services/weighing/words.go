package weighing

import (
	"fmt"

	"fingerproof/corpus/wording"
)

// words says what the figures say of a passage, the weightiest first.
func (p *Passage) words(l *Limits) (out []string) {
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	a := &p.Full
	switch {
	case p.onlyAtTempo(l) && a.Sum() >= 0:
		say("costs less at the full tempo than played slowly, and still no less than the other")
	case p.onlyAtTempo(l):
		say("gains at the full tempo only: played slowly it is the less easy one")
	case p.atTempo() >= l.Gain && -p.Practice.Tempo >= l.Gain:
		say("is easier where notes are fast or repeated%s", p.atPrice(l))
	case p.atTempo() >= l.Gain:
		say("is easier at the tempo%s", p.atPrice(l))
	}
	if -a.Line >= l.Gain {
		say("%s%s", [...]string{
			"takes the leading voice with a stronger finger", "joins the notes under the slur better",
			"joins the notes under the slur better in the fingers, where the pedal joins them too",
		}[p.Slur], p.atPrice(l))
	}
	if -a.Memory >= l.Gain {
		say("keeps to what the passage does elsewhere, or to its pattern%s", p.atPrice(l))
	}
	switch {
	case len(out) > 0:
	case a.Sum() >= l.Gain && len(p.costs(l)) > 0:
		say("costs more in %s, and gains in nothing", wording.List(p.costs(l)))
	case a.Sum() >= l.Gain:
		say("costs a little more than the other")
	case a.Sum() <= -l.Gain && p.Share[0] < p.Share[1]:
		say("is easier than the other, and printed less often")
	case a.Sum() <= -l.Gain:
		say("is easier than the other")
	case p.Share[0] < l.Seldom && p.Share[0] < p.Share[1]:
		say("is about as good as the other, and editors seldom print it")
	default:
		say("is about as good as the other")
	}
	if p.Needs[0].Size > p.Needs[1].Size && p.Needs[0].Low >= 0 {
		if p.Verdict == Larger {
			out = append([]string{p.needs()}, out...)
		} else {
			out = append(out, p.needs())
		}
	}
	return out
}

// Finding says why a passage is personal, behind "the editor's 1-3-5 from C4 to G4".
func (p *Passage) Finding() string {
	if p.Verdict == Larger {
		return "asks for a larger hand: " + p.needs()
	}
	return p.Says[0]
}

// needs says from which hand on a grip of the passage is comfortable, which is more than reach, and which hand is enough
// for the other.
func (p *Passage) needs() string {
	n := &p.Needs[0]
	ease := "are comfortable from " + n.Words() + " up"
	if n.Size == len(sizes) {
		ease = "are comfortable for no hand that is weighed"
	}
	return fmt.Sprintf("%s with %d and %s with %d at once %s; with the other fingers %s is enough", n.LowPitch, n.LowFinger,
		n.HighPitch, n.HighFinger, ease, p.Needs[1].Words())
}

// atPrice says what a gain costs, "" where it costs nothing to speak of.
func (p *Passage) atPrice(l *Limits) string {
	costs := p.costs(l)
	if len(costs) == 0 {
		return ""
	}
	return ", at the price of " + wording.List(costs)
}

// costs names the aims in which the passage costs more.
func (p *Passage) costs(l *Limits) (out []string) {
	for _, c := range []struct {
		name string
		cost int
	}{
		{"comfort", p.Full.Comfort}, {"line", p.Full.Line}, {"memory", p.Full.Memory}, {"tempo", p.Full.Tempo},
		{"reach", p.Full.Reach},
	} {
		if c.cost >= l.Gain {
			out = append(out, c.name)
		}
	}
	return out
}
