package main

import (
	"fmt"
	"io"
	"slices"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/finger-on-two-keys"
	"fingerproof/rules/lint/fingers-out-of-order"
)

// sayMade names what digits make that were keyed in otherwise than they are suggested: a slip of the key is seen at once, and not
// after the next run. Warnings and errors on the fingering are named that were not there before and speak of a measure keyed in.
func sayMade(out io.Writer, p *decidedPiece, f *decision.Finder, add []decision.Decision) error {
	measures := map[int]bool{}
	for i := range add {
		if add[i].Verb != decision.Amend {
			continue
		}
		for k := range add[i].Notes {
			if n, _, _ := f.Find(&add[i].Notes[k]); n >= 0 {
				measures[p.run.Score.Notes[n].Measure] = true
			}
		}
	}
	if len(measures) == 0 {
		return nil
	}
	in := pipeline.InputsOf(p.run)
	in.Decisions = slices.Concat(in.Decisions, add)
	then, err := pipeline.Again(p.run, in)
	if err != nil {
		// The decisions are written: this is no reason to say that they are not.
		fmt.Fprintf(out, "what these digits make was not looked at (%v); the next run does\n", err)
		return nil
	}
	known, chord := map[string]bool{}, false
	for i := range p.run.Result.Findings {
		known[p.run.Result.Findings[i].Fingerprint] = true
	}
	for i := range then.Result.Findings {
		found := &then.Result.Findings[i]
		rule := all.Rule(found.Rule)
		if known[found.Fingerprint] || found.Severity == lint.Note.String() || !measures[found.MeasureIndex] || rule == nil || rule.Text ||
			slices.Contains(all.OfDecisions(), rule) {
			continue
		}
		fmt.Fprintf(out, "with these digits: %s: %s [%s]\n", found.Severity, found.Sentence(), found.Rule)
		chord = chord || slices.Contains(ofOneChord, rule)
	}
	if chord {
		fmt.Fprintln(out, "digits of a chord are keyed from its lowest key, with + between them: 1+2")
	}
	return nil
}

// ofOneChord are the rules that speak of a chord whose digits were, mostly, keyed from the wrong end.
var ofOneChord = []*lint.Rule{fingersoutoforder.Rule, fingerontwokeys.Rule}
