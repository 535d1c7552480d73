package dynamicscontradict

import (
	"fmt"
	"regexp"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

const (
	wrongBy   = 2 // steps that a hairpin leads the other way, at least
	fewWrong  = 1 // places of a piece; more are how its composer writes
	soonAfter = 1 // quarters from the end of a hairpin to the level to which it leads
)

var subito = regexp.MustCompile(`(?i)\bsub(ito)?\b`)

// wrongWay reports the one hairpin of a piece that leads from one level to another on the other side of it: it opens from f to p,
// or closes from p to f. A level that comes suddenly after a hairpin is usual; where a piece has it once, and never says
// subito, the hairpin may have been turned.
func wrongWay(p *lint.Inspection, printed map[int]bool) {
	s := p.Score
	var found []*score.Item
	var says []string
	for k := range s.Items {
		i := &s.Items[k]
		if (i.Kind == score.ItemWords || i.Kind == score.ItemTempo) && subito.MatchString(i.Reading) {
			return
		}
		if i.Kind != score.ItemHairpin || i.Part < 0 || !printed[i.Part] || i.End == nil || swell(i) == 0 {
			continue
		}
		from, to := levelsAt(s, k)
		if from == nil || to == nil {
			continue
		}
		if up := steps[to.Reading] - steps[from.Reading]; up*swell(i) <= -wrongBy {
			found = append(found, i)
			says = append(says, fmt.Sprintf("the %s leads from %s to %s", i.Reading, from.Reading, to.Reading))
		}
	}
	if len(found) > fewWrong {
		return
	}
	for k, i := range found {
		p.ReportItem(i, lint.Finding{Severity: lint.Note, Message: says[k], Fix: "turn it round, if no sudden change is meant"})
	}
}

// levelsAt gives the level at which a hairpin begins and that to which it leads: the last before it on its staff and the first
// at its end or just after it, with no other hairpin or word of growing or fading between; nil where there is none.
func levelsAt(s *score.Score, hairpin int) (from, to *score.Item) {
	h := &s.Items[hairpin]
	at := func(i *score.Item) score.Fraction { return s.Measures[i.Measure].Start.Add(i.Onset) }
	begins, ends := at(h), s.Measures[h.End.Measure].Start.Add(h.End.Onset)
	last := ends.Add(score.Whole(soonAfter))
	var before, after *score.Item
	for k := range s.Items {
		i := &s.Items[k]
		if k == hairpin || i.Part != h.Part || max(i.Staff, 1) != max(h.Staff, 1) {
			continue
		}
		_, level := steps[i.Reading]
		level = level && i.Kind == score.ItemDynamics
		if !level && swell(i) == 0 && i.Kind != score.ItemDynamics {
			continue
		}
		when := at(i)
		switch {
		case when.Cmp(begins) <= 0 && (before == nil || at(before).Cmp(when) <= 0):
			before = i
		case when.Cmp(begins) > 0 && when.Less(ends):
			return nil, nil
		case ends.Cmp(when) <= 0 && when.Cmp(last) <= 0 && (after == nil || when.Less(at(after))):
			after = i
		}
	}
	isLevel := func(i *score.Item) bool {
		_, is := steps[i.Reading]
		return is && i.Kind == score.ItemDynamics
	}
	if before == nil || after == nil || !isLevel(before) || !isLevel(after) || before.Measure < h.Measure-1 {
		return nil, nil
	}
	return before, after
}
