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
	Returns                    // within a measure a key keeps its finger
	Grip                       // two keys a fifth or more apart are taken by 1 and 5, or as those just before; others go on in position
)

// Sentences counts them.
const Sentences = int(Grip) + 1

// String says of a sentence what it is about.
func (s Sentence) String() string {
	return [...]string{"nothing", "struck again at once", "a figure that comes again", "a figure that goes on on other keys",
		"a key that returns", "two keys at once"}[s]
}

// Preface reads a line as the preface tells a player to, who knows nothing else: each sentence by itself and to the letter.
// It is no searching reader: what it tells of a note is the finger of some note before, and taken for read. A finger that
// is another one has to be shown.
type Preface struct {
	events   []Event
	like     []int // by event: the one that it repeats of the figure's last time, −1 for none
	sequence []int // by event: likewise of a figure that goes on
	copies   []int // by event: likewise of a figure that comes again at once with the same fingers
}

// statement is how many events, at least, are a figure that comes again.
const statement = 4

// NewPreface looks at the music of a line.
func NewPreface(events []Event) *Preface {
	return &Preface{events, Again(events), goingOn(events), Copies(events)}
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

// recently is within how many measures a figure that comes again, and had a digit here, excuses another finger on a key that
// is struck again at once or within the measure: of two sentences that gainsay each other a player would not know which to take.
const recently = 1

// Tells gives the fingers that the preface tells a player of an event, 0 where it says nothing, and by which sentence.
// shows says which notes have a digit: of this event and of those before.
func (p *Preface) Tells(e int, shows func(note int) bool) ([]int, Sentence) {
	now := &p.events[e]
	if p.copies[e] >= 0 { // the figure goes on at once as it began
		return nil, Silent
	}
	if fingers, some := p.struckOn(e, shows); some && !p.excused(e, shows) {
		return fingers, StruckOn
	}
	if fingers := p.returns(e); fingers != nil && (fingers[0] == now.Fingers[0] || !p.excused(e, shows)) {
		return fingers, Returns
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
	if width := p.width(e); width > 0 {
		return p.grip(e, width), Grip
	}
	return nil, Silent
}

// fifth is the interval, in semitones, from which on two keys are taken by 1 and 5 where nothing else is told.
const fifth = 7

// width is how far two keys that are struck together lie apart, in semitones; 0 where there are not two.
func (p *Preface) width(e int) int {
	if e < 0 || len(p.events[e].Keys) != 2 {
		return 0
	}
	return p.events[e].Keys[1] - p.events[e].Keys[0]
}

// grip tells of two keys at once: of a fifth or more as just before, or 1 and 5; of less, as the hand goes on in its position
// from two such keys a step or a third away.
func (p *Preface) grip(e, width int) []int {
	now, before := &p.events[e], p.width(e-1)
	switch {
	case width == 12 && now.Fingers[0] == 1 && (now.Fingers[1] == 5 || now.Fingers[1] == 4 && hand.Black(now.Keys[1])):
		return now.Fingers // mirroring about D keeps black keys black
	case width >= fifth && before >= fifth && before != 12:
		return p.events[e-1].Fingers
	case width >= fifth:
		return []int{1, 5}
	case before == 0 || before >= fifth:
		return nil
	}
	out := make([]int, 2)
	for k, key := range now.Keys {
		moved := key - p.events[e-1].Keys[k]
		step := (max(moved, -moved) + 1) / 2 // of the scale
		if moved < 0 {
			step = -step
		}
		if out[k] = p.events[e-1].Fingers[k] + step; step < -2 || step > 2 || out[k] < 1 || out[k] > 5 {
			return nil
		}
	}
	return out
}

// returns tells of a single key that comes again within the measure, whatever lies between.
func (p *Preface) returns(e int) []int {
	now := &p.events[e]
	if len(now.Keys) > 1 {
		return nil
	}
	for at := e - 1; at >= 0 && p.events[at].Measure == now.Measure; at-- {
		if k := slices.Index(p.events[at].Keys, now.Keys[0]); k >= 0 {
			return []int{p.events[at].Fingers[k]}
		}
	}
	return nil
}

// Moved says that between two single keys the hand moves: their fingers do not follow in the order of the keys.
func Moved(from, finger, to, other int) bool {
	return from != to && (finger == other || (from < to) != (finger < other))
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
			if by == Grip { // of two keys each says so for itself
				continue
			}
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
func (p *Preface) AsLast(e int) bool { return p.last(e) >= 0 }

// last gives the last time that the hand came to an event as it does now, −1 for none.
func (p *Preface) last(e int) int {
	for _, at := range [...]int{p.like[e], p.sequence[e]} {
		if at > 0 && slices.Equal(p.events[at].Fingers, p.events[e].Fingers) && slices.Equal(p.events[at-1].Fingers, p.events[e-1].Fingers) &&
			(at == p.sequence[e] || slices.Equal(p.events[at-1].Keys, p.events[e-1].Keys)) {
			return at
		}
	}
	return -1
}

func (p *Preface) excused(e int, shows func(note int) bool) bool {
	at := p.last(e)
	return at >= 0 && p.events[e].Measure-p.events[at].Measure <= recently && p.shown(at, shows)
}
