package places

import (
	"slices"

	"fingerproof/rules/hand"
)

// Sentence is a sentence of the preface (corpus/printwords, "preface.needed") that tells a player the finger of a note
// which has no digit.
type Sentence uint8

// The sentences, those that rule others out first.
const (
	Silent     Sentence = iota // the preface says nothing of this note
	StruckOn                   // a key or a chord that is struck again at once keeps its fingers
	ComesAgain                 // a figure that comes again keeps the fingers that it had last
	GoesOn                     // likewise on other keys, where it goes on higher or lower
	Returns                    // within a measure a key keeps its finger, where no digit stands between
	Octave                     // an octave is taken by 1 and 5, on black keys by 1 and 4 as well
)

// Sentences counts them.
const Sentences = int(Octave) + 1

// String says of a sentence what it is about.
func (s Sentence) String() string {
	return [...]string{"nothing", "struck again at once", "a figure that comes again", "a figure that goes on on other keys",
		"a key that returns", "an octave"}[s]
}

// Preface reads a line as the preface tells a player to, who knows nothing else: each sentence by itself and to the letter.
// It is no searching reader: what it tells of a note is the finger of some note before, and taken for read. A finger that
// is another one has to be shown.
type Preface struct {
	events   []Event
	like     []int // by event: the one that it repeats of the figure's last time, −1 for none
	sequence []int // by event: likewise of a figure that goes on
}

// statement is how many events, at least, are a figure that comes again.
const statement = 4

// NewPreface looks at the music of a line.
func NewPreface(events []Event) *Preface {
	return &Preface{events, Again(events), goingOn(events)}
}

// goingOn gives for each event the one that it repeats of a figure that goes on with the same fingers, from its third time
// on: what comes twice goes on as yet nowhere.
func goingOn(events []Event) []int {
	s := Sequences(events)
	out := make([]int, len(s))
	for e, at := range s {
		out[e] = -1
		if at >= 0 && s[at] >= 0 && e-at == at-s[at] && slices.Equal(events[at].Fingers, events[s[at]].Fingers) {
			out[e] = at
		}
	}
	return out
}

// Again gives for each event the one that it repeats of the last time that the same keys came in the same order and time, a
// statement of them; −1 for none.
func Again(events []Event) []int {
	out := make([]int, len(events))
	for e := range out {
		out[e] = -1
	}
	last := map[string]int{}
	for from := 0; from+statement <= len(events); from++ {
		name := named(events[from : from+statement])
		if at, some := last[name]; some {
			for k := range statement {
				if out[from+k] < 0 {
					out[from+k] = at + k
				}
			}
		}
		last[name] = from
	}
	return out
}

// named names the keys of events and how long after one another they are struck.
func named(events []Event) string {
	var b []byte
	for k := range events {
		if k > 0 {
			gap := events[k].At - events[k-1].At
			b = append(b, 0, byte(gap), byte(gap>>8))
		}
		for _, key := range events[k].Keys {
			b = append(b, byte(key+1))
		}
	}
	return string(b)
}

// Tells gives the fingers that the preface tells a player of an event, 0 where it says nothing, and by which sentence.
// shows says which notes have a digit: of this event and of those before.
func (p *Preface) Tells(e int, shows func(note int) bool) ([]int, Sentence) {
	if p.AsLast(e) {
		return nil, Silent
	}
	now := &p.events[e]
	if fingers, some := p.struckOn(e, shows); some {
		return fingers, StruckOn
	}
	if p.From(e) >= 0 { // by one sentence or another it is as it was
		return nil, Silent
	}
	for k, at := range [...]int{p.like[e], p.sequence[e]} {
		if at >= 0 {
			if p.warned(e, at) {
				return nil, Silent
			}
			return p.events[at].Fingers, [...]Sentence{ComesAgain, GoesOn}[k]
		}
	}
	if p.shown(e, shows) {
		return nil, Silent
	}
	if len(now.Keys) == 1 {
		for at := e - 1; at >= 0 && p.events[at].Measure == now.Measure; at-- {
			if k := slices.Index(p.events[at].Keys, now.Keys[0]); k >= 0 {
				return []int{p.events[at].Fingers[k]}, Returns
			}
			if at < e-1 && p.shown(at, shows) {
				break
			}
		}
	}
	if len(now.Keys) == 2 && now.Keys[1]-now.Keys[0] == 12 {
		if now.Fingers[0] == 1 && now.Fingers[1] == 4 && hand.Black(now.Keys[1]) { // mirroring about D keeps black keys black
			return now.Fingers, Octave
		}
		return []int{1, 5}, Octave
	}
	return nil, Silent
}

// struckOn tells of keys that were just struck: of the same ones, of one of a chord, or of a chord about the key.
func (p *Preface) struckOn(e int, shows func(note int) bool) ([]int, bool) {
	if e == 0 || p.events[e].At-p.events[e-1].End > silence {
		return nil, false
	}
	before, now := &p.events[e-1], &p.events[e]
	if slices.Equal(before.Keys, now.Keys) {
		return before.Fingers, true
	}
	out, found := make([]int, len(now.Keys)), 0
	for k, key := range now.Keys {
		if at := slices.Index(before.Keys, key); at >= 0 {
			out[k] = before.Fingers[at]
			found++
		}
	}
	if found == 0 || found < min(len(now.Keys), len(before.Keys)) || p.shown(e, shows) {
		return nil, false
	}
	return out, true
}

// warned says that the fingers have departed already from those of the figure that an event belongs to: a digit shows it,
// and from there on the player goes by the position.
func (p *Preface) warned(e, at int) bool {
	return e > 0 && at > 0 && slices.Equal(p.events[e-1].Keys, p.events[at-1].Keys) &&
		!slices.Equal(p.events[e-1].Fingers, p.events[at-1].Fingers)
}

func (p *Preface) shown(e int, shows func(note int) bool) bool {
	return slices.ContainsFunc(p.events[e].Notes, shows)
}

// Departs gives the places of an event's keys whose finger is not the one that the preface tells, where no digit shows it.
func (p *Preface) Departs(e int, shows func(note int) bool) (at []int, by Sentence) {
	told, by := p.Tells(e, shows)
	for k, f := range told {
		note, finger := p.events[e].Notes[k], p.events[e].Fingers[k]
		if f == 0 || f == finger {
			continue
		}
		if shows(note) {
			return nil, Silent // it departs, and says so
		}
		at = append(at, k)
	}
	if len(at) == 0 {
		return nil, Silent
	}
	return at, by
}

// From gives the event from which an event has its fingers by the preface, all of them alike, −1 for none.
func (p *Preface) From(e int) int {
	for _, at := range [...]int{p.like[e], p.sequence[e]} {
		if at >= 0 && slices.Equal(p.events[at].Fingers, p.events[e].Fingers) {
			return at
		}
	}
	if e > 0 && p.events[e].At-p.events[e-1].End <= silence && slices.Equal(p.events[e-1].Keys, p.events[e].Keys) &&
		slices.Equal(p.events[e-1].Fingers, p.events[e].Fingers) {
		return e - 1
	}
	return -1
}

// AsLast says that the hand comes to an event as it did the last time, or as the figure goes on.
func (p *Preface) AsLast(e int) bool {
	for _, at := range [...]int{p.like[e], p.sequence[e]} {
		if at > 0 && slices.Equal(p.events[at].Fingers, p.events[e].Fingers) && slices.Equal(p.events[at-1].Fingers, p.events[e-1].Fingers) &&
			(at == p.sequence[e] || slices.Equal(p.events[at-1].Keys, p.events[e-1].Keys)) {
			return true
		}
	}
	return false
}
