package check

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/lint"
)

// The names under which code hosts and CI systems show what check found.
const (
	changedFingering = "changed-fingering"
	changedText      = "changed-text"
	changedFindings  = "changed-findings"
	changedOffers    = "changed-redistribution"
	neverPassed      = "never-passed"
	noLonger         = "no-longer-in-collection"
)

// Rules says what check can report, in the form in which reports take rules; none of them runs.
func Rules() []*lint.Rule {
	rule := func(name, title, checks, why, before, after string) *lint.Rule {
		return &lint.Rule{
			Name: name, Title: title, Checks: checks, Why: why, Before: before, After: after, Severity: lint.Warning, Since: "0.10",
		}
	}
	const passed = "What was passed for press has been read by people; what changed since has not."
	const again = "Review it and pass the piece again, or put back what caused the change."
	return []*lint.Rule{
		rule(changedFingering, "The fingering is not as it was passed",
			"Finger, hand, whose it is and whether it is printed, note by note, and the digits of the text, against passed/.", passed,
			"A key of the house style was changed, and another digit is printed.", again),
		rule(changedText, "The text is not as it was passed",
			"Notes that came, went or moved, and every sign and word of the text that `diff` compares, against the score that was passed; titles and texts that the manifest gives.", passed,
			"A note was put right in the score after the piece was passed.", again),
		rule(changedFindings, "Lint finds something else than when the piece was passed",
			"Findings that are new, findings that are gone, and those that an editor has let stand since.", passed,
			"A fault was put into the score after the piece was passed.", again),
		rule(changedOffers, "Other notes are offered to the other hand than when the piece was passed",
			"Redistributions that came or went.", passed, "The house style offers more than before.", again),
		rule(neverPassed, "The piece was never passed for press", "Whether passed/ holds a state of the piece.",
			"Nothing is known of whether somebody has reviewed it.", "A new piece of the collection.",
			"Run, review, then `fingerproof pass`."),
		rule(noLonger, "A piece that was passed is no longer in the collection",
			"Whether the collection has each piece of which passed/ holds a state.",
			"It may have been renamed, or left out by mistake.", "The piece's id was changed in the manifest.",
			"Put it back, or take its state out with `fingerproof pass --prune`."),
	}
}

// ruleOf says under which name a change is reported.
func (c *Change) ruleOf() string {
	switch c.Kind {
	case Text, NoteAdded, NoteMissing, Heading:
		return changedText
	case Sign:
		if c.digits {
			return changedFingering
		}
		return changedText
	case FindingNew, FindingGone, FindingLetStand:
		return changedFindings
	case Redistribution:
		return changedOffers
	}
	return changedFingering
}

// mostSaid is how many changes of one measure are said one by one.
const mostSaid = 4

// Outcome gives what check says of a piece in the form in which reports take findings: changes of one measure and hand
// that have one cause are one finding. file is the score's name as reports have it.
func (p *Piece) Outcome(file string) state.Outcome {
	out := state.Outcome{Piece: p.ID, File: file, Problem: p.Problem}
	whole := func(rule, message string) {
		out.Findings = append(out.Findings, finding(p.ID, rule, &Change{}, message))
	}
	out.Notices = slices.Clone(p.Notices)
	if len(p.Changes) == 0 && len(p.Inputs) > 0 && p.Problem == "" {
		out.Notices = append(out.Notices, p.words())
	}
	switch {
	case p.Problem != "":
	case p.Gone:
		whole(noLonger, "the piece was passed, and the collection has no such piece any more")
	case p.Never:
		whole(neverPassed, "the piece was never passed for press")
	}
	type group struct {
		rule, hand, cause string
		measure           int
		placed            bool
	}
	var order []group
	of := map[group][]Change{}
	for i := range p.Changes {
		c := &p.Changes[i]
		g := group{c.ruleOf(), c.Hand, c.Cause, c.Index, c.Measure != ""}
		if of[g] == nil {
			order = append(order, g)
		}
		of[g] = append(of[g], *c)
	}
	for _, g := range order {
		changes := of[g]
		message := fmt.Sprintf("%s, cause %s: %s", wording.Count(len(changes), "change"), g.cause, said(changes))
		out.Findings = append(out.Findings, finding(p.ID, g.rule, &changes[0], message))
	}
	return out
}

// said tells the changes of one measure, the first ones where there are many.
func said(changes []Change) string {
	var lines []string
	for i := range changes[:min(len(changes), mostSaid)] {
		c := &changes[i]
		place := score.Spot{Measure: c.Measure, Hand: handOf(c)}.Words() // stands before all of them
		sentence := c.Sentence()
		if rest, behind := strings.CutPrefix(sentence, place); behind && place != "" {
			sentence = strings.TrimLeft(rest, ",: ")
		}
		lines = append(lines, sentence)
	}
	if more := len(changes) - len(lines); more > 0 {
		lines = append(lines, fmt.Sprintf("and %d more", more))
	}
	return strings.Join(lines, "; ")
}

func handOf(c *Change) score.Hand {
	return map[string]score.Hand{"R": score.Right, "L": score.Left}[c.Hand]
}

func finding(piece, rule string, at *Change, message string) state.Finding {
	sum := source.Sum(fmt.Appendf(nil, "%s %s %d %s %s", piece, rule, at.Index, at.Hand, message))
	place := source.Sum(fmt.Appendf(nil, "%s %s %s %s %s", piece, rule, at.Measure, at.Hand, at.Cause))
	return state.Finding{
		Rule: rule, Severity: lint.Warning.String(), Message: message, Measure: at.Measure, MeasureIndex: at.Index,
		Hand: handOf(at), Line: at.Line, Column: at.Column, Fingerprint: sum, Address: place,
	}
}
