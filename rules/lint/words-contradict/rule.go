// Package wordscontradict checks words that stand at one place.
package wordscontradict

import (
	"fmt"
	"regexp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: two words at one place contradict each other.
var Rule = &lint.Rule{
	Name:  "words-contradict",
	Title: "two words at one place contradict each other",
	Checks: "Words at one moment of which one asks for the opposite of the other: a slow and a fast tempo (Adagio, Allegro), slower and faster " +
		"(rit., accel.), più mosso and meno mosso, una corda and tre corde, with and without mute; and, on one side of one staff, legato and staccato. " +
		"Words that name both, as Allegro ma adagio, are left alone, and so is what a piece has at more than two places.",
	Why:      "Nobody can play both. One of them was left from an earlier state, or belongs elsewhere.",
	Before:   "rit. and accel. over the first beat",
	After:    "the one that is meant",
	Severity: lint.Warning,
	Since:    "0.22",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// few is at how many places of a piece words that contradict each other are slips.
const few = 2

// An opposite is two families of words of which no place has both (common practice).
type opposite struct {
	one, other *regexp.Regexp
	oneStaff   bool // two staves or sides may have one each
}

var opposites = []opposite{
	{words(`largo|larghetto|lento|grave|adagio|langsam|lent|lentement`), words(`allegro|allegretto|presto|prestissimo|vivace|vivo|schnell|lebhaft|vif`), false},
	{words(`rit|riten|ritard|ritenuto|ritardando|rall|rallent|rallentando|slentando`), words(`accel|accelerando|string|stringendo|affrettando`), false},
	{words(`pi[uùú]'? mosso|pi[uùú] vivo|pi[uùú] allegro`), words(`meno mosso|meno vivo|meno allegro|pi[uùú] lento`), false},
	{words(`una corda|u\. ?c\.`), words(`tre corde|t\. ?c\.`), false},
	{words(`con sord|con sordin[oi]`), words(`senza sord|senza sordin[oi]`), false},
	{words(`legato|legatissimo`), words(`staccato|staccatissimo|stacc`), true},
}

// words matches a text that begins with one of some words, in any case.
func words(any string) *regexp.Regexp {
	return regexp.MustCompile(`(?i)^\W*((un )?poco |molto |sempre )?(` + any + `)([\s.,]|$)`)
}

func run(p *lint.Inspection) {
	s := p.Score
	type place struct {
		measure int
		onset   score.Fraction
	}
	at := map[place][]*score.Item{}
	var order []place
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemWords && i.Kind != score.ItemTempo || i.Part < 0 || i.Reading == "" {
			continue
		}
		here := place{i.Measure, i.Onset}
		if at[here] == nil {
			order = append(order, here)
		}
		at[here] = append(at[here], i)
	}
	var found []lint.Finding
	var of []*score.Item
	for _, here := range order {
		if one, other := contradict(at[here]); one != nil {
			of = append(of, other)
			found = append(found, lint.Finding{
				Message: fmt.Sprintf("%q and %q stand at one place", one.Reading, other.Reading), Fix: "leave the one that is meant",
			})
		}
	}
	if len(found) > few {
		return
	}
	for k, f := range found {
		p.ReportItem(of[k], f)
	}
}

// contradict gives the first two items of a place of which one is the opposite of the other, in written order.
func contradict(items []*score.Item) (one, other *score.Item) {
	for k, b := range items {
		for _, a := range items[:k] {
			if slices.ContainsFunc(opposites, func(o opposite) bool {
				both := o.one.MatchString(a.Reading) && o.other.MatchString(b.Reading) || o.other.MatchString(a.Reading) && o.one.MatchString(b.Reading)
				return both && (!o.oneStaff || a.Part == b.Part && a.Staff == b.Staff && a.Side == b.Side)
			}) {
				return a, b
			}
		}
	}
	return nil, nil
}
