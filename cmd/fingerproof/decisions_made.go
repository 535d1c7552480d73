package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/finger-on-two-keys"
	"fingerproof/rules/lint/fingers-out-of-order"
)

// madeByDigits are warnings and errors on the fingering that were not there before digits were keyed in, and speak of a measure
// in which they were, or to which they go. unseen says why nobody looked, nil where somebody did.
func madeByDigits(after *withDecisions, f *decision.Finder) (out []state.Finding, unseen error) {
	p, add := after.p, after.add
	measures := map[int]bool{}
	for i := range add {
		if add[i].Verb != decision.Amend && add[i].On != decision.Redistribution {
			continue
		}
		for k := range add[i].Notes {
			if n, _, _ := f.Find(&add[i].Notes[k]); n >= 0 {
				measures[p.run.Score.Notes[n].Measure] = true
			}
		}
	}
	if len(measures) == 0 {
		return nil, nil
	}
	then, err := after.run()
	if err != nil {
		return nil, err
	}
	for n := range then.Bound { // where the music comes again
		if d := &then.Bound[n]; d.Verb == decision.Amend && !slices.Equal(d.Fingers, p.run.Bound[n].Fingers) {
			measures[then.Score.Notes[n].Measure] = true
		}
	}
	known := map[string]bool{}
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
		out = append(out, *found)
	}
	return out, nil
}

// sayMade names what digits make that were keyed in otherwise than they are suggested: a slip of the key is seen at once, and not
// after the next run.
func sayMade(out io.Writer, made []state.Finding, unseen error) {
	if unseen != nil {
		// The decisions are written: this is no reason to say that they are not.
		fmt.Fprintf(out, "what these digits make was not looked at (%v); the next run does\n", unseen)
		return
	}
	chord := false
	for i := range made {
		fmt.Fprintf(out, "with these digits: %s: %s [%s]\n", made[i].Severity, made[i].Sentence(), made[i].Rule)
		chord = chord || slices.Contains(ofOneChord, all.Rule(made[i].Rule))
	}
	if chord {
		fmt.Fprintln(out, "digits of a chord are keyed from its lowest key, with + between them: 1+2")
	}
}

// refuseSlips refuses digits with which one finger takes two keys at once, as no hand does, or which lie against the keys: mostly a
// key of the keyboard that slipped. The page asks for such digits twice.
func refuseSlips(made []state.Finding) error {
	var said []string
	for i := range made {
		if made[i].Severity == lint.Error.String() && slices.Contains(ofOneChord, all.Rule(made[i].Rule)) {
			said = append(said, made[i].Sentence())
		}
	}
	if len(said) == 0 {
		return nil
	}
	return fmt.Errorf("nothing was added: with these digits %s\nhint: digits of a chord are keyed from its lowest key, with + between "+
		"them: 1+2; --anyway adds them as they are", strings.Join(said, "; "))
}

// ofOneChord are the rules that speak of a chord whose digits were, mostly, keyed from the wrong end.
var ofOneChord = []*lint.Rule{fingersoutoforder.Rule, fingerontwokeys.Rule}
