// Package account writes why a measure is fingered as it is: as text, as a page, and the lattice behind it as a
// drawing.
package account

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/4_services/reasons"
)

// title of one hand, with the player where there are several.
func title(a *reasons.Account, h *reasons.Hand) string {
	for i := range a.Hands {
		if a.Hands[i].Player != a.Hands[0].Player {
			return fmt.Sprintf("player %d, %s", h.Player+1, h.Hand.Words())
		}
	}
	return h.Hand.Words()
}

// digit of a key as it is read: "3", "(3)" held, "3-1" with a change, "–" for none.
func digit(k reasons.Key) string {
	d := fmt.Sprint(k.Finger)
	if k.Finger == 0 {
		d = "–"
	}
	if k.Substitution > 0 {
		d += fmt.Sprintf("-%d", k.Substitution)
	}
	if k.Tied {
		d = "(" + d + ")"
	}
	return d
}

// amount gives a cost as pages give it.
func amount(milli int) string { return fmt.Sprintf("%.2f", float64(milli)/1000) }

// likelier is from what share of editors on, in percent, a finger is the one that they would sooner print.
const likelier = 50

// seen is the least cost, in milli-nats, that two decimals show.
const seen = 5

// rest says what of the sum no reason accounts for, where it shows.
func rest(d *reasons.Doubt) string {
	switch {
	case d.Rest >= smallThings:
		return fmt.Sprintf("smaller things for %d: %s", d.Finger, amount(d.Rest))
	case d.Rest <= -smallThings:
		return fmt.Sprintf("smaller things for %d: %s", d.Other, amount(-d.Rest))
	}
	return ""
}

// learned says what the network holds against each finger, where it is asked: "the network, taught from print: 1 +0.00,
// 2 +0.74, …".
func learned(d *reasons.Doubt) string {
	if d.Learned == [len(d.Learned)]int{} {
		return ""
	}
	said := make([]string, len(d.Learned))
	for f, cost := range d.Learned {
		said[f] = fmt.Sprintf("%d +%s", f+1, amount(cost))
	}
	return "the network, taught from print: " + strings.Join(said, ", ")
}

// smallThings in milli-nats, below which what is left untold does not matter.
const smallThings = 50

// headline of a doubt: "beat 2, E4: 3; next 2, 73 in 100 as likely", as the sheet says it. The effort that the reasons account for
// is another sum, and named as such: "its way takes 0.90 more effort".
func headline(d *reasons.Doubt) string {
	place := fmt.Sprintf("beat %s, %s: %d; next %d", d.Beat, d.Pitch, d.Finger, d.Other)
	place += ", " + wording.AsLikely(d.Regret)
	switch {
	case d.More <= -seen && d.Confidence < likelier:
		return fmt.Sprintf("%s; its way takes %s less effort, but %d goes better with the fingers that editors print about it", place, amount(-d.More), d.Finger)
	case d.More <= -seen:
		return fmt.Sprintf("%s; its way takes %s less effort, but editors would sooner print %d", place, amount(-d.More), d.Finger)
	case d.More >= seen:
		return fmt.Sprintf("%s; its way takes %s more effort", place, amount(d.More))
	}
	return place
}

// chosenTogether says why a finger may be chosen whose way takes more effort: the sums that are told compare one way with one, and
// the choice is made over all of them (lattice.MostAgreement).
const chosenTogether = "Fingers are chosen together, so that as many of them as can be are those that an editor would print, all ways weighed. The effort\n" +
	"told is that of the best way with each finger alone: where the other's takes less, the chosen fingers agree better all the same."

// follows: "beat 1 to beat 2, second eighth: fingered as the same figure in m. 10".
func follows(f reasons.Follows) string {
	place := "beat " + f.From
	if f.To != f.From {
		place += " to beat " + f.To
	}
	return fmt.Sprintf("%s: fingered as %s", place, f.Of)
}

func sentence(reasons []reasons.Reason) string {
	var said []string
	for _, r := range reasons {
		said = append(said, fmt.Sprintf("%s (%s)", r.Says, amount(max(r.Cost, -r.Cost))))
	}
	return strings.Join(said, "; ")
}

// passage as it would be read: "m. 2, beat 1: E4 2 (now 3), F4 3 (now 4)".
func passage(steps []reasons.Step) string {
	var b strings.Builder
	last := ""
	for i, s := range steps {
		switch {
		case s.Place != last && i > 0:
			b.WriteString("; " + s.Place + ": ")
		case s.Place != last:
			b.WriteString(s.Place + ": ")
		default:
			b.WriteString(", ")
		}
		last = s.Place
		fmt.Fprintf(&b, "%s %d (now %d)", s.Pitch, s.Then, s.Now)
	}
	return b.String()
}

// marks say why fingers are given.
var marks = [...]struct{ sign, words string }{
	reasons.InText:    {"*", "stands in the text"},
	reasons.Decided:   {"=", "decided by an editor"},
	reasons.Elsewhere: {"^", "given by a witness, or carried from where the passage stands elsewhere"},
}

func said(a *reasons.Account, of func(reasons.Key) bool) bool {
	for i := range a.Hands {
		for _, g := range a.Hands[i].Grips {
			if slices.ContainsFunc(g.Keys, of) {
				return true
			}
		}
	}
	return false
}

// Text writes an account for the terminal.
func Text(a *reasons.Account) string {
	var b strings.Builder
	fmt.Fprintf(&b, "m. %s\n", a.Measure)
	if len(a.Hands) == 0 {
		b.WriteString("  no notes of the piano here\n")
	}
	for i := range a.Hands {
		h := &a.Hands[i]
		fmt.Fprintf(&b, "\n%s\n ", title(a, h))
		for _, g := range h.Grips {
			b.WriteString(" ")
			for k, key := range g.Keys {
				if k > 0 {
					b.WriteString("+")
				}
				b.WriteString(key.Pitch + ":" + digit(key))
				b.WriteString(marks[key.Given].sign)
				if key.Reason != "" {
					b.WriteString("!")
				}
			}
		}
		b.WriteString("\n")
		switch beyond := slices.ContainsFunc(h.Grips, func(g reasons.Grip) bool {
			return slices.ContainsFunc(g.Keys, func(k reasons.Key) bool { return k.Reason != "" })
		}); {
		case len(h.Doubts) == 0 && beyond:
			b.WriteString("  no other finger is nearly as likely; how likely one is says nothing of a grip that is beyond the hand\n")
		case len(h.Doubts) == 0:
			b.WriteString("  no other finger is nearly as likely\n")
		}
		for _, f := range h.Follows {
			fmt.Fprintf(&b, "  %s\n", follows(f))
		}
		for _, p := range h.Printed {
			fmt.Fprintf(&b, "  printed, beat %s, %s: %d (%s)\n", p.Beat, p.Pitch, p.Finger, p.Why)
		}
		for k := range h.Doubts {
			d := &h.Doubts[k]
			fmt.Fprintf(&b, "  %s\n", headline(d))
			if len(d.Against) > 0 {
				fmt.Fprintf(&b, "      with %d: %s\n", d.Other, sentence(d.Against))
			}
			if len(d.For) > 0 {
				fmt.Fprintf(&b, "      for %d speaks: %s\n", d.Other, sentence(d.For))
			}
			if l := learned(d); l != "" {
				fmt.Fprintf(&b, "      %s\n", l)
			}
			if r := rest(d); r != "" {
				fmt.Fprintf(&b, "      %s\n", r)
			}
			if len(d.Passage) > 1 {
				fmt.Fprintf(&b, "      brings %s\n", passage(d.Passage))
			}
		}
	}
	for k, said := range a.Rolls {
		if k == 0 {
			b.WriteString("\n")
		}
		fmt.Fprintf(&b, "  %s\n", said)
	}
	if slices.ContainsFunc(a.Hands, func(h reasons.Hand) bool { return len(h.Doubts) > 0 }) {
		b.WriteString("\nNumbers are effort: what costs 1.00 more is about a third as likely by that alone. The network's: the more, the less editors print it.\n")
	}
	if slices.ContainsFunc(a.Hands, func(h reasons.Hand) bool {
		return slices.ContainsFunc(h.Doubts, func(d reasons.Doubt) bool { return d.More <= -seen })
	}) {
		b.WriteString("\n" + chosenTogether + "\n")
	}
	for given, m := range marks {
		if said(a, func(k reasons.Key) bool { return k.Given == reasons.Given(given) && m.sign != "" }) {
			fmt.Fprintf(&b, "\n%s %s\n", m.sign, m.words)
		}
	}
	if said(a, func(k reasons.Key) bool { return k.Reason != "" }) {
		b.WriteString("\n! beyond the hand\n")
	}
	return b.String()
}
