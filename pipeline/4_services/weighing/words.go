package weighing

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
)

// words says what the figures say of a passage, the weightiest first. Figures count as they are shown, to a tenth, so that
// of two passages with the same figures the same is said.
func (p *Passage) words(l *Limits) (out []string) {
	if p.Impossible {
		return []string{"no hand takes these digits as they are read here: look whether two were exchanged, or one stands a note off"}
	}
	a, gains := p.Full.shown(), p.gainWords(l)
	if len(gains) > 0 {
		p.Gain = gains[0].says
	}
	plain := slices.ContainsFunc(gains, func(g gain) bool { return dear*g.by >= a.Sum() })
	switch costs := p.costs(l); {
	case len(gains) > 0 && plain:
		for _, g := range gains {
			out = append(out, g.says+p.atPrice(l))
		}
	case len(gains) > 0 && len(costs) > 0:
		out = append(out, "costs the hands of this edition more in "+wording.List(costs))
		for _, g := range gains {
			out = append(out, g.says+", which is little beside that")
		}
	case a.Sum() >= l.Gain && len(costs) > 0:
		says := "costs the hands of this edition more in " + wording.List(costs)
		if p.onlyAtTempo(l) {
			says += ", played slowly still more"
		}
		if p.gainsNothing() {
			says += ", and gains them nothing"
		}
		out = append(out, says)
	case a.Sum() >= l.Gain:
		out = append(out, "costs the hands of this edition a little more than the other")
	case a.Sum() <= -l.Gain:
		out = append(out, "is easier than the other for the hands of this edition")
	default:
		out = append(out, "is about as good as the other for the hands of this edition")
	}
	if d := p.Reach[0] - p.Reach[1]; max(d, -d) >= moreReach {
		out = append([]string{fmt.Sprintf("is within reach of %d in 100 pianists, the other of %d", p.Reach[0]/100, p.Reach[1]/100)}, out...)
	}
	if p.Slip {
		out = append([]string{"looks like a slip: two digits exchanged, or one a note off"}, out...)
	}
	if says := p.elsewhere(l); says != "" {
		out = append(out, says)
	}
	switch dearer := a.Sum() >= l.Gain; {
	case dearer && p.Share[0] > p.Share[1]:
		out = append(out, "is printed more often than the other all the same")
	case !dearer && p.Share[0] < l.Seldom && p.Share[0] < p.Share[1]:
		out = append(out, "is printed more seldom than the other")
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

// shortestPattern is how many notes make a pattern.
const shortestPattern = 3

// gain is what a passage gains in an aim, in milli-nats, in words.
type gain struct {
	by   int
	says string
}

// gainWords says what a passage gains, aim by aim.
func (p *Passage) gainWords(l *Limits) (out []gain) {
	a, practice := p.Full.shown(), p.Practice.shown()
	switch by := -a.Tempo; {
	case p.onlyAtTempo(l) && a.Sum() >= l.Gain: // no gain, but less of a cost
	case p.onlyAtTempo(l) && a.Sum() > -l.Gain:
		out = append(out, gain{by, "is the less easy one played slowly; at the full tempo the two cost about the same"})
	case p.onlyAtTempo(l):
		out = append(out, gain{by, "gains at the full tempo only: played slowly it is the less easy one"})
	case by >= l.Gain && -practice.Tempo >= l.Gain:
		out = append(out, gain{by, "is easier where notes are fast or repeated"})
	case by >= l.Gain:
		out = append(out, gain{by, "is easier at the full tempo"})
	}
	if -a.Line >= l.Gain {
		out = append(out, gain{-a.Line, [...]string{
			"takes the leading voice with a stronger finger", "joins the notes under the slur better",
			"joins the notes under the slur better in the fingers, where the pedal joins them too",
		}[p.Slur] + p.where(l)})
	}
	if -a.Memory >= l.Gain {
		switch {
		case 2*p.Returns <= p.Full.Memory && p.Like != "":
			out = append(out, gain{-a.Memory, "takes the notes as they are taken in m. " + p.Like})
		case len(p.Notes) >= shortestPattern:
			out = append(out, gain{-a.Memory, "goes with the pattern that the keys suggest"})
		default:
			out = append(out, gain{-a.Memory, "fits the fingers around it"})
		}
	}
	return out
}

// where says in which measures the line gains, where it does not in all of the passage.
func (p *Passage) where(l *Limits) string {
	var better, worse []string
	for _, m := range p.LineIn {
		switch {
		case -m.Effort >= l.Gain:
			better = append(better, "m. "+m.Measure)
		case m.Effort >= l.Gain:
			worse = append(worse, "m. "+m.Measure)
		}
	}
	if len(p.LineIn) < 2 || len(better) == 0 || len(better) == len(p.LineIn) {
		return ""
	}
	says := " in " + wording.List(better)
	if len(worse) > 0 {
		says += ", less well in " + wording.List(worse)
	}
	return says
}

// gainsNothing says that in no aim the passage costs less, for no hand that was weighed, at full tempo.
func (p *Passage) gainsNothing() bool {
	none := func(a Aims) bool {
		a = a.shown()
		return min(a.Comfort, a.Line, a.Memory, a.Tempo, a.Reach) >= 0
	}
	return none(p.Full) && !slices.ContainsFunc(p.For, func(h For) bool { return !none(h.Full) })
}

// elsewhere says for which other hands it is the other way round, "" for none.
func (p *Passage) elsewhere(l *Limits) string {
	dearer := p.Full.shown().Sum() >= l.Gain
	if !dearer && p.Full.shown().Sum() > -l.Gain {
		return ""
	}
	var hands []string
	for i := range p.For {
		h := &p.For[i]
		sum := h.Full.shown().Sum()
		if h.Share > 0 || (!dearer || sum > -l.Gain) && (dearer || sum < l.Gain) {
			continue
		}
		hands = append(hands, strings.TrimSpace(h.Supple+" "+h.Name))
	}
	switch {
	case len(hands) == 0:
		return ""
	case dearer:
		return "is the easier one for " + handWords(hands)
	}
	return "costs more for " + handWords(hands)
}

// handWords names hands; a size that is there both supple and stiff is named once.
func handWords(hands []string) string {
	var out []string
	for _, name := range []string{"octave", "ninth", "tenth"} {
		both := slices.Contains(hands, "supple "+name) && slices.Contains(hands, "stiff "+name)
		if both || slices.Contains(hands, name) {
			out = append(out, name)
			continue
		}
		for _, h := range hands {
			if strings.HasSuffix(h, " "+name) {
				out = append(out, h)
			}
		}
	}
	return wording.List(out) + " hands"
}

// shown rounds as figures are shown: to a tenth.
func (a Aims) shown() Aims {
	r := func(v int) int {
		if v < 0 {
			return -((50 - v) / 100 * 100)
		}
		return (v + 50) / 100 * 100
	}
	return Aims{r(a.Comfort), r(a.Line), r(a.Memory), r(a.Tempo), r(a.Reach)}
}

// Finding says why a passage is personal, behind "the editor's 1-3-5 from C4 to G4".
func (p *Passage) Finding() string {
	if p.Verdict == Larger {
		return "asks for a larger hand: " + p.needs()
	}
	if p.Slip {
		return p.Says[0] + "; it " + p.Says[1]
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
	a, comfort := p.Full.shown(), "comfort"
	if p.Dearest.What != "" {
		comfort += " (most by " + p.Dearest.What + " at " + p.Dearest.Pitch + ")"
	}
	for _, c := range []struct {
		name string
		cost int
	}{
		{comfort, a.Comfort}, {"line", a.Line}, {"memory", a.Memory}, {"tempo", a.Tempo}, {"reach", a.Reach},
	} {
		if c.cost >= l.Gain {
			out = append(out, c.name)
		}
	}
	return out
}
