package keying

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
)

// Roll is a chord of a passage that may be rolled.
type Roll struct {
	Notes  []int
	Reason string // why it is offered
}

// rollWord is what a line says of a chord that is rolled.
const rollWord = "roll"

// rolled reads what is said of rolled chords: of a chord on a beat, for one hand or for both, or of those that a passage
// offers. What follows the direction is the reason.
func (k *Keying) rolled(f *decision.Finder, words []string, at int) ([]decision.Decision, error) {
	d := decision.Decision{Verb: decision.Take, On: decision.Roll, By: k.By, When: k.When, Direction: decision.Up}
	rest := words[at+1:]
	if len(rest) > 0 {
		switch strings.TrimSuffix(rest[0], ":") {
		case decision.Up:
			rest = rest[1:]
		case decision.Down:
			d.Direction, rest = decision.Down, rest[1:]
		case "no":
			d.Verb, d.Direction, rest = decision.Stet, "", rest[1:]
		}
	}
	d.Why = strings.TrimSpace(strings.TrimPrefix(strings.Join(rest, " "), ":"))
	chords, err := k.chordsOf(words[:at])
	if err != nil {
		return nil, err
	}
	var out []decision.Decision
	for _, c := range chords {
		one := d
		if d.Verb == decision.Take {
			one.Reason = c.Reason
		}
		for _, n := range c.Notes {
			one.Notes = append(one.Notes, f.Ref(n, nil))
		}
		out = append(out, one)
	}
	return out, nil
}

// okAndRoll reads #7 ok roll: the digits of a passage are taken, and its chords that may be rolled are.
func (k *Keying) okAndRoll(f *decision.Finder, words []string) ([]decision.Decision, error) {
	digits, err := read(k, f, strings.Join(words[:2], " "))
	if err != nil {
		return nil, err
	}
	chords, err := k.rolled(f, slices.Delete(slices.Clone(words), 1, 2), 1)
	return append(digits, chords...), err
}

// beyond lists the chords of a passage that its findings call beyond the hand: they may be rolled, though nobody offers it.
func (k *Keying) beyond(p *SheetPassage) (out []Roll) {
	for _, found := range slices.Concat(p.Findings, p.IfTaken) {
		if !found.Grip || len(found.Speaks) < 2 {
			continue
		}
		stroke := k.Playing.Stroke(found.Speaks[0])
		if stroke == nil || slices.ContainsFunc(found.Speaks, func(n int) bool { return k.Playing.Stroke(n) != stroke }) {
			continue // a key that is held is not rolled with those that are struck
		}
		if !slices.ContainsFunc(out, func(r Roll) bool { return slices.Contains(r.Notes, found.Speaks[0]) }) {
			out = append(out, Roll{Notes: slices.Clone(stroke.Notes)})
		}
	}
	return out
}

// chordsOf finds the chords that a line speaks of.
func (k *Keying) chordsOf(words []string) ([]Roll, error) {
	if strings.HasPrefix(words[0], "#") {
		p, err := k.passage(words[0])
		switch {
		case err != nil:
			return nil, err
		case len(words) > 1:
			return nil, fmt.Errorf("%q stands between %s and roll\nhint: %s roll", words[1], words[0], words[0])
		case len(p.Rolls) > 0:
			return p.Rolls, nil
		}
		if chords := k.beyond(p); len(chords) > 0 {
			return chords, nil
		}
		return nil, fmt.Errorf("no chord of passage %s is offered to be rolled, and none of its chords is found beyond the hand\n"+
			"hint: name the chord, as in: 12 l 3 roll", words[0])
	}
	if len(words) != 3 {
		return nil, fmt.Errorf("a roll needs measure, hand and beat\nhint: 12 l 3 roll")
	}
	hands := []score.Hand{score.Right, score.Left}
	if words[1] != "b" && words[1] != "B" {
		h, err := handOf(words[1])
		if err != nil {
			return nil, fmt.Errorf("%w, or b for both", err)
		}
		hands = []score.Hand{h}
	}
	from, to, err := k.measures(words[0])
	if err != nil {
		return nil, err
	}
	onsets, ok := k.Score.Keyed(from, words[2])
	if !ok || from != to {
		return nil, fmt.Errorf("%q is no beat of m. %s", words[2], words[0])
	}
	var chord []int
	for _, h := range hands {
		chord = append(chord, k.line(h, func(n *score.Note) bool {
			return n.Measure == from && n.Grace == 0 && slices.Contains(onsets, n.Onset)
		})...)
	}
	if len(chord) < 2 {
		return nil, fmt.Errorf("no chord is struck on beat %s of m. %s by that hand\nhint: b speaks of both hands", words[2], words[0])
	}
	reason := ""
	for i := range k.Passages {
		for _, r := range k.Passages[i].Rolls {
			if slices.Equal(slices.Sorted(slices.Values(r.Notes)), slices.Sorted(slices.Values(chord))) {
				reason = r.Reason
			}
		}
	}
	return []Roll{{chord, reason}}, nil
}
