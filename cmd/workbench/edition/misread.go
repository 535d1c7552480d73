package edition

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/rules/hand"
	"fingerproof/rules/places"
)

// misread counts where a player who takes the preface to the letter is led to another finger than the fingering has, and
// where a digit stands on the wrong note: on a later time of a figure that is bare the first time, on the second note
// after a leap, on a note by step while a move of the hand nearby is bare.
type misread struct {
	by            [places.Sentences]int // other fingers than each sentence tells, no digit showing it
	notes         int
	later         int // events with digits that come again and were bare each time before
	numberedAgain int // events with digits that come again and had digits
	second        int // digits on the second note after a leap whose first is bare
	moves, bare   int // moves of the hand between single notes that no sentence gives, and those without a digit
	easy          int // digits on notes by step in their order, which lie in the position
	confirming    int // digits on a key that had the same finger last within the measure, which the preface tells there
	former        int // moves that show a digit on the note before them alone
	thirds        int // lone digits in thirds and fourths of one voice
	unisons       int // keys of two voices with two digits
	places        []string
	title         string
	list          bool
}

func (c *misread) add(in *thin.Fingered, printed []bool) {
	shows := func(i int) bool { return printed[i] || in.Stands[i] }
	for l := range in.Playing.Lines {
		v := &printedLine{events: places.Events(in.Score, &in.Playing.Lines[l], in.Finger), score: in.Score, shows: shows}
		c.addLine(v, in.Profile, in.Playing.Lines[l].Hand.Words())
	}
}

func (c *misread) addLine(p *printedLine, profile hand.Profile, side string) {
	preface := places.NewPreface(p.events)
	note := func(e int, what string) {
		if c.list {
			n := &p.score.Notes[p.events[e].Notes[0]]
			c.places = append(c.places, fmt.Sprintf("%s, %s, m. %s, beat %s, %s %s: %s", c.title, side,
				p.score.Measures[n.Measure].Number, n.Onset.Add(score.Whole(1)), n.Pitch, joined(p.events[e].Fingers), what))
		}
	}
	for e := range p.events {
		c.notes += len(p.events[e].Notes)
		if at, by := preface.Departs(e, p.shows); len(at) > 0 {
			c.by[by] += len(at)
			note(e, by.String())
		}
		if len(p.events[e].Keys) == 1 && p.digits(e) > 0 && p.confirms(e) && told(preface, p.events, e) {
			c.confirming++
			note(e, "a digit that only confirms")
		}
		c.addChord(p, e, func(what string) { note(e, what) })
		if p.digits(e) > 0 {
			from, some := preface.From(e), false
			for at := from; at >= 0 && !some; at = preface.From(at) {
				some = p.digits(at) > 0 || preface.From(at) < 0 && len(p.events[at].Keys) == 1 && p.confirms(at)
			}
			switch {
			case from >= 0 && !some:
				c.later++
				note(e, "a digit here, none the first time")
			case from >= 0:
				c.numberedAgain++
			}
		}
		if e == 0 || len(p.events[e].Keys) > 1 || len(p.events[e-1].Keys) > 1 {
			continue
		}
		known := preface.AsLast(e) || p.confirms(e)
		interval := p.events[e].Keys[0] - p.events[e-1].Keys[0]
		finger := p.events[e].Fingers[0] - p.events[e-1].Fingers[0]
		switch {
		case p.moves(e, profile):
			if !known {
				c.moves++
				if p.digits(e) == 0 && p.digits(e-1) > 0 {
					c.former++
				}
				if !p.some(e-1, e) && !told(preface, p.events, e) {
					c.bare++
					note(e, "a move of the hand without a digit")
				}
			}
		case p.digits(e) > 0 && max(interval, -interval) <= 2 && max(finger, -finger) == 1:
			if preface.From(e) < 0 && (e+1 == len(p.events) || len(p.events[e+1].Keys) > 1 || !p.moves(e+1, profile)) {
				c.easy++
			}
			fallthrough
		case p.digits(e) > 0 && p.digits(e-1) == 0 && e > 1 && nearest(p.events[e-2].Keys, p.events[e-1].Keys) > 7:
			if p.digits(e-1) == 0 && e > 1 && nearest(p.events[e-2].Keys, p.events[e-1].Keys) > 7 && preface.From(e-1) < 0 && !p.confirms(e-1) {
				c.second++
				note(e, "a digit here, none on the first note after the leap")
			}
		}
	}
}

// confirms says that the key of a single note had the same finger last within the measure.
func (p *printedLine) confirms(e int) bool {
	now := &p.events[e]
	for at := e - 1; at >= 0 && p.events[at].Measure == now.Measure; at-- {
		if k := slices.Index(p.events[at].Keys, now.Keys[0]); k >= 0 {
			return p.events[at].Fingers[k] == now.Fingers[0]
		}
	}
	return false
}

// told says that the preface tells all fingers of an event as they are.
func told(preface *places.Preface, events []places.Event, e int) bool {
	said, _ := preface.Tells(e)
	return slices.Equal(said, events[e].Fingers)
}

// addChord looks for lone digits in thirds and fourths of one voice, and for two digits on one key.
func (c *misread) addChord(p *printedLine, e int, note func(what string)) {
	ev := &p.events[e]
	voices := map[string][]int{}
	for k, i := range ev.Notes {
		n := &p.score.Notes[i]
		voice := fmt.Sprint(n.Part, n.Staff, n.Voice)
		voices[voice] = append(voices[voice], k)
	}
	for _, v := range voices {
		if len(v) == 2 && ev.Keys[v[1]]-ev.Keys[v[0]] > 0 && ev.Keys[v[1]]-ev.Keys[v[0]] < 7 && p.shows(ev.Notes[v[0]]) != p.shows(ev.Notes[v[1]]) {
			c.thirds++
			note("a lone digit in a third or fourth")
		}
	}
	for k := 1; k < len(ev.Keys); k++ {
		if ev.Keys[k] == ev.Keys[k-1] && p.shows(ev.Notes[k]) && p.shows(ev.Notes[k-1]) {
			c.unisons++
			note("one key numbered twice")
		}
	}
}

func joined(fingers []int) string {
	var out []string
	for _, f := range fingers {
		out = append(out, fmt.Sprint(f))
	}
	return strings.Join(out, "+")
}

func (c *misread) String() string {
	sum := 0
	var by []string
	for s, n := range c.by {
		sum += n
		if s > 0 {
			by = append(by, fmt.Sprintf("%s %d", places.Sentence(s), n))
		}
	}
	slices.Sort(by)
	return fmt.Sprintf("read by the preface to another finger %d of %d (%s); a digit on a later time alone %d (numbered again %d); "+
		"on the second note after a leap alone %d; moves that no sentence gives without a digit %d of %d, with one on the note before alone %d, digits on easy steps %d; "+
		"digits that only confirm %d; "+
		"lone digits in thirds and fourths %d; one key numbered twice %d", sum, c.notes, strings.Join(by, ", "), c.later,
		c.numberedAgain, c.second, c.bare, c.moves, c.former, c.easy, c.confirming, c.thirds, c.unisons)
}
