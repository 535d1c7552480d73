package main

import (
	"fmt"
	"slices"

	"fingerproof/pipeline/3_records/decision"
)

// givenDigits are, by address, the digits that lines of one sitting give, each with its line.
type givenDigits map[string]struct {
	line   int
	digits string
}

// add refuses what gives a note other digits than an earlier line, or both decides and reopens it: on a sheet no line comes
// before another.
func (g givenDigits) add(line int, decided []decision.Decision) error {
	for i := range decided {
		if err := g.openOrDecided(line, &decided[i]); err != nil {
			return err
		}
		if decided[i].Verb != decision.Amend {
			continue
		}
		for k := range decided[i].Notes {
			n := &decided[i].Notes[k]
			at, digits := n.Address().String(), decision.Digits(n.Fingers)
			if was, known := g[at]; known && was.digits != digits {
				return fmt.Errorf("%s in m. %s gets %s here and %s in line %d\nhint: leave one of them out", n.Pitch,
					n.Printed, digits, was.digits, was.line)
			}
			g[at] = struct {
				line   int
				digits string
			}{line, digits}
		}
	}
	return nil
}

// openOrDecided refuses to reopen what another line decides, and the reverse.
func (g givenDigits) openOrDecided(line int, d *decision.Decision) error {
	mine, other := "decided ", "reopened "
	switch d.Verb {
	case decision.Reopen:
		mine, other = other, mine
	case decision.Take, decision.Amend:
	default:
		return nil
	}
	for k := range d.Notes {
		n := &d.Notes[k]
		at := n.Address().String()
		if was, known := g[other+at]; known {
			return fmt.Errorf("%s in m. %s is %shere and %sin line %d\nhint: leave one of them out", n.Pitch, n.Printed, mine, other, was.line)
		}
		is := g[mine+at]
		is.line = line
		g[mine+at] = is
	}
	return nil
}

// reach refuses digits that go to a like place to which another line brings other ones: neither line comes before the other.
func (g givenDigits) reach(line int, places []decision.Decision) error {
	for i := range places {
		for k := range places[i].Notes {
			n := &places[i].Notes[k]
			at, digits := n.Address().String(), decision.Digits(n.Fingers)
			if was, known := g[at]; known && was.digits != digits {
				return fmt.Errorf("alike brings %s to %s in m. %s, and that of line %d brings %s\n"+
					"hint: take \"alike\" out of one of them, or key m. %s in by itself", digits, n.Pitch, n.Printed, was.line, was.digits, n.Printed)
			}
			g[at] = struct {
				line   int
				digits string
			}{line, digits}
		}
	}
	return nil
}

// otherWords are what lines of one sitting say of notes, besides digits: by what is said and of which note, each with its line.
type otherWords map[string]struct {
	line, notes int
	said        string
}

// add refuses what two lines say of the same notes that cannot both be: the last one would hold, and nobody would see that the
// other is lost. Of a passage and a part of it both can be said: the part has its own word.
func (o otherWords) add(line int, decided []decision.Decision) error {
	for i := range decided {
		d := &decided[i]
		said := claimOf(d)
		if d.Verb == decision.Query || d.Verb == decision.Reopen {
			continue // both are asked; what is reopened is seen to with the digits
		}
		for k := range d.Notes {
			n := &d.Notes[k]
			at := n.Address().String()
			if d.On == decision.Notes && d.Verb == decision.Stet {
				if was, known := o["digits "+at]; known && was.line != line && was.notes >= len(d.Notes) && was.said != "take" {
					return fmt.Errorf("%s in m. %s keeps the text's digit here and gets %s in line %d\nhint: leave one of them out", n.Pitch, n.Printed, was.said, was.line)
				}
			}
			if d.On == decision.Notes && d.Verb == decision.Amend {
				if was, known := o["text "+at]; known && was.line != line && was.notes <= len(d.Notes) {
					return fmt.Errorf("%s in m. %s gets %s here and keeps the text's digit in line %d\nhint: leave one of them out", n.Pitch, n.Printed, decision.Digits(n.Fingers), was.line)
				}
				if was, known := o["redistribution "+at]; known && was.said == "goes to the other hand" {
					return fmt.Errorf("%s in m. %s gets %s here and goes to the other hand in line %d\n"+
						"hint: leave one of them out; 12 l 3 2 other hand gives a note to the other hand with its digit", n.Pitch, n.Printed, decision.Digits(n.Fingers), was.line)
				}
			}
			if d.On == decision.Redistribution && d.Verb == decision.Take && !n.Stays {
				if was, known := o["digits "+at]; known && was.said != "take" {
					return fmt.Errorf("%s in m. %s goes to the other hand here and gets %s in line %d\n"+
						"hint: leave one of them out; 12 l 3 2 other hand gives a note to the other hand with its digit", n.Pitch, n.Printed, was.said, was.line)
				}
			}
			about := string(d.On) + " "
			switch {
			case d.On == decision.Finding:
				about += d.Rule + " "
			case d.On == decision.Notes && d.Verb == decision.Stet:
				about = "text "
			case d.On == decision.Notes:
				about = "digits "
			case d.On == decision.Redistribution && n.Stays:
				continue
			}
			if was, known := o[about+at]; known && was.said != said && d.On != decision.Notes {
				return fmt.Errorf("%s in m. %s: %s here and %s in line %d\nhint: leave one of them out", n.Pitch, n.Printed, said, was.said, was.line)
			}
			word := said
			if d.On == decision.Notes && d.Verb == decision.Amend {
				word = decision.Digits(n.Fingers)
			}
			if was, known := o[about+at]; known && was.said != "take" && word == "take" {
				continue // digits that are given weigh more
			}
			o[about+at] = struct {
				line, notes int
				said        string
			}{line, len(d.Notes), word}
		}
	}
	return nil
}

// claimOf is what a decision says, in the words in which two of them are told apart.
func claimOf(d *decision.Decision) string {
	switch {
	case d.On == decision.Finding:
		return fmt.Sprintf("what %s says stands because %q", d.Rule, d.Why)
	case d.On == decision.Redistribution && d.Verb == decision.Take:
		return "goes to the other hand"
	case d.On == decision.Redistribution:
		return "stays with its hand"
	case d.On == decision.Roll && d.Verb == decision.Stet:
		return "is not rolled"
	case d.On == decision.Roll && d.Direction == decision.Down:
		return "is rolled down"
	case d.On == decision.Roll:
		return "is rolled"
	}
	return string(d.Verb)
}

// inOrderOfWeight puts decisions of one sitting so that the last word is the one meant: what goes to like places comes
// first, then what is taken, then what the text keeps, then the digits given, and questions last: what is decided on the same
// sheet is what they ask about, and no answer.
func inOrderOfWeight(carried, add []decision.Decision) []decision.Decision {
	weight := func(d *decision.Decision) int {
		switch {
		case d.Verb == decision.Query:
			return 4
		case d.On != decision.Notes: // as they are written: a redistribution is followed by digits for its hand
			return 3
		case d.Verb == decision.Take:
			return 1
		case d.Verb == decision.Stet:
			return 2
		}
		return 3
	}
	out := slices.Clone(add)
	slices.SortStableFunc(out, func(a, b decision.Decision) int { return weight(&a) - weight(&b) })
	return slices.Concat(carried, out)
}
