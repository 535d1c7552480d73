package main

import (
	"fmt"
	"strings"

	"fingerproof/policies"
	"fingerproof/rules/hand"
)

// idleKeys says which keys that a file of the house sets do nothing as its other keys stand, each with its place and why.
// Nothing is wrong with such a policy; but who set the key expects something of it.
func idleKeys(p *policies.Policy) (out []string) {
	say := func(key, why string) {
		if v, _ := p.Get(key); !strings.HasSuffix(v.Origin, "(shipped)") {
			out = append(out, fmt.Sprintf("%s: %s: %s does nothing: %s", v.Origin, key, v.Text, why))
		}
	}
	density, _ := p.Get("density")
	if density.Text != "0" && (p.Digits() == "every-note" || p.Digits() == "composer-only") {
		say("density", "of digits: "+p.Digits()+" none are chosen by it")
	}
	own, err := hand.Named(p.HandName())
	if mm := p.SpanMM(); mm > 0 {
		own, err = hand.Measured(mm)
	}
	if small, none := hand.Named(p.SmallerHand()); err == nil && none == nil && small.Span >= own.Span {
		say("smaller_hand", "the hand of the edition is no larger")
	}
	if p.SmallerHand() == "none" && p.PrintsSmallerHand() {
		say("marks.smaller_hand", "smaller_hand names none")
	}
	if prints, _ := p.Get("witness.prints"); prints.Text == "none" {
		say("witness.single", "witness.prints is none, so no digit of a witness is added")
	}
	return out
}
