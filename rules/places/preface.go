package places

import (
	"cmp"
	"slices"
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
	Returns                    // within a measure a key keeps its finger; of two keys at once, or of more a fifth or more apart, all or none
	Grip                       // keys at once a fifth or more apart are taken by 1 and 5, two that are nearer lie in position
	Position                   // the hand keeps its position: a finger for each step of the scale
	Shown                      // what no sentence tells: two keys less than a fifth apart that do not lie under the hand, another accidental
)

// Sentences counts them.
const Sentences = int(Shown) + 1

// String says of a sentence what it is about.
func (s Sentence) String() string {
	return [...]string{"nothing", "struck again at once", "a figure that comes again", "a figure that goes on on other keys",
		"a key that returns", "keys at once", "the position of the hand", "what no sentence tells"}[s]
}

// Preface reads a line as the preface tells a player to, who knows nothing else: each sentence by itself and to the letter.
// It is no searching reader: what it tells of a note goes by the fingers of notes before, and is taken for read. A finger that
// is another one has to be shown.
type Preface struct {
	events []Event
	like   figures // what was repeated the last time that the same keys came so
	goes   figures // of a figure that comes again at once or goes on
	once   figures // of a figure that comes again at once on the same keys
}

// statement is how many events, at least, are a figure that comes again.
const statement = 4

// NewPreface looks at the music of a line. It asks for the fingers of an event only where later ones are read: who reads may
// put them in as it goes.
func NewPreface(events []Event) *Preface {
	return &Preface{events, again(events), sequences(events), repeats(events)}
}

// keys gives the keys of an event and their fingers, a key that two voices strike once.
func (p *Preface) keys(e int) (keys, fingers []int) {
	ev := &p.events[e]
	for k := 1; k < len(ev.Keys); k++ {
		if ev.Keys[k] != ev.Keys[k-1] {
			continue
		}
		for k, key := range ev.Keys {
			if k == 0 || key != ev.Keys[k-1] {
				keys, fingers = append(keys, key), append(fingers, ev.Fingers[k])
			}
		}
		return keys, fingers
	}
	return ev.Keys, ev.Fingers
}

// goingOn gives the event that an event repeats of a figure that goes on on other keys; of one or two events only from its third time
// on, with the same fingers; −1 for none.
func (p *Preface) goingOn(e int) int {
	goes := p.goes.at
	at := goes[e]
	switch n := e - at; {
	case at < 0:
	case n > 2:
		return at
	case goes[at] >= 0 && n == at-goes[at] && slices.Equal(p.events[at].Fingers, p.events[goes[at]].Fingers):
		return at
	}
	return -1
}

// Again gives for each event the one that it repeats of the last time that the same keys came in the same order and time, a
// statement of them or more; of two times that an event could repeat, in the one that goes on longer; −1 for none.
func Again(events []Event) []int { return again(events).at }

func again(events []Event) figures {
	out := newFigures(len(events))
	type run struct{ from, to, back int } // from an event up to another, each as the one so many events back
	var all []run
	open := map[int]int{} // by how many events back: the place in all
	before := map[string][]int{}
	for from := 0; from+statement <= len(events); from++ {
		name := named(events[from : from+statement])
		for _, at := range before[name] {
			back := from - at
			if k, some := open[back]; some && all[k].to == from+statement-1 {
				all[k].to++
			} else {
				open[back] = len(all)
				all = append(all, run{from, from + statement, back})
			}
		}
		before[name] = append(before[name], from)
		if len(before[name]) > times {
			before[name] = before[name][1:]
		}
	}
	slices.SortStableFunc(all, func(a, b run) int {
		return cmp.Or(cmp.Compare(b.to-b.from, a.to-a.from), cmp.Compare(a.back, b.back))
	})
	for _, r := range all {
		for e := r.from; e < r.to; e++ {
			if out.at[e] < 0 {
				out.at[e], out.run[e] = e-r.back, r.to-r.from
			}
		}
	}
	return out
}

// times is how many times back a player knows a figure.
const times = 8

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

// Tells gives the fingers that the preface tells a player of an event, from the fingers of those before, 0 where it says
// nothing, and by which sentence. Where two sentences would differ the one that the preface names first holds.
func (p *Preface) Tells(e int) ([]int, Sentence) {
	said, by := p.tells(e)
	if keys := p.events[e].Keys; said != nil && len(said) < len(keys) { // a key of two voices
		all := make([]int, len(keys))
		for k, at := 0, 0; k < len(keys); k++ {
			if k > 0 && keys[k] != keys[k-1] {
				at++
			}
			all[k] = said[at]
		}
		return all, by
	}
	return said, by
}

func (p *Preface) tells(e int) ([]int, Sentence) {
	if at, by := p.figure(e); at >= 0 {
		_, fingers := p.keys(at)
		return fingers, by
	}
	if fingers := p.struckOn(e); fingers != nil {
		return fingers, StruckOn
	}
	if finger := p.returns(e); finger > 0 {
		return []int{finger}, Returns
	}
	if fingers := p.kept(e); fingers != nil {
		return fingers, Returns
	}
	if fingers := p.grip(e); fingers != nil {
		return fingers, Grip
	}
	if p.shown(e) {
		return nil, Shown
	}
	return p.position(e), Position
}

// shown says what the preface leaves to its digits: two keys less than a fifth apart after others, from which they do not lie
// under the hand, and a key that is the one before with another accidental, for which the steps of the scale tell no finger.
func (p *Preface) shown(e int) bool {
	now, _ := p.keys(e)
	if len(now) == 1 {
		return p.inflected(e)
	}
	return len(now) == 2 && !p.wide(e) && e > 0 && p.events[e].At-p.events[e-1].End <= silence
}

// inflected says that a single key is the single one before with another accidental.
func (p *Preface) inflected(e int) bool {
	if e == 0 || p.events[e].At-p.events[e-1].End > silence {
		return false
	}
	now, _ := p.keys(e)
	before, _ := p.keys(e - 1)
	return len(before) == 1 && before[0] != now[0] && p.events[e].Steps != nil && p.events[e-1].Steps != nil &&
		p.events[e].Steps[0] == p.events[e-1].Steps[0]
}

// figure gives the event that an event repeats of a figure that comes again or goes on, and by which of the two; of several that
// it could be, of the longest; −1 where it is none, or the fingers have departed from it already.
func (p *Preface) figure(e int) (at int, by Sentence) {
	at, longest := -1, 0
	now, _ := p.keys(e)
	look := func(of, run int, sentence Sentence, atOnce bool) {
		if of < 0 || run <= longest || p.warned(e, of) || !atOnce && p.begins(e, of) {
			return
		}
		if keys, _ := p.keys(of); len(keys) == len(now) {
			at, by, longest = of, sentence, run
		}
	}
	if n := e - p.once.at[e]; n > 2 || p.struckOn(e) == nil { // two notes that come again are no figure where one is struck on
		look(p.once.at[e], p.once.run[e], ComesAgain, true)
	}
	look(p.like.at[e], p.like.run[e], ComesAgain, false)
	look(p.goingOn(e), p.goes.run[e], GoesOn, false)
	return at, by
}

// begins says that a single key is the first of what comes again not at once, or goes on: nobody knows yet that it does, and the hand
// has a finger for it.
func (p *Preface) begins(e, of int) bool {
	if p.Lies(e) == 0 {
		return false
	}
	return of == 0 || !slices.Contains([]int{p.goes.at[e-1], p.like.at[e-1], p.once.at[e-1]}, of-1)
}

// Begins gives the event that an event, the first of a passage that comes again, repeats, where the preface leaves it to the hand;
// −1 for none.
func (p *Preface) Begins(e int) int {
	if of := p.like.at[e]; of >= 0 && p.begins(e, of) {
		return of
	}
	return -1
}

// position tells of a single key: as the hand lies over the keys of the scale, from the nearest key before it; nil where it
// says nothing.
func (p *Preface) position(e int) []int {
	if e == 0 || p.events[e].At-p.events[e-1].End > silence {
		return nil
	}
	now, _ := p.keys(e)
	if len(now) > 1 {
		return nil
	}
	f := p.lies(e, now[0])
	if f == 0 {
		return nil
	}
	return []int{f}
}

// Lies gives the finger that lies on the key of an event from the one before, whatever the other sentences say; 0 for none.
func (p *Preface) Lies(e int) int {
	if said := p.position(e); said != nil {
		return said[0]
	}
	return 0
}

// nearestOf is the place of the key nearest to one, the lower of two as near.
func nearestOf(keys []int, key int) (at int) {
	for k, from := range keys {
		if abs(from-key) < abs(keys[at]-key) {
			at = k
		}
	}
	return at
}

// lies gives the finger that lies on a key after an event's predecessor, by the nearest key of that; 0 where none does, or
// where two could.
func (p *Preface) lies(e, key int) int {
	before, was := p.keys(e - 1)
	at := nearestOf(before, key)
	if was[at] == 0 {
		return 0
	}
	said := inPosition(was[at], key-before[at], p.steps(e, key, before[at]))
	if len(said) > 1 || Moved(before[at], was[at], key, said[0]) {
		return 0
	}
	return said[0]
}

// unsure says that two keys would be taken otherwise as the hand lay on another key of the chord before.
func (p *Preface) unsure(e int, fingers []int) bool {
	before, was := p.keys(e - 1)
	now, _ := p.keys(e)
	for at, from := range before {
		for k, key := range now {
			if !slices.Contains(inPosition(was[at], key-from, p.steps(e, key, from)), fingers[k]) {
				return true
			}
		}
	}
	return false
}

// steps gives how many steps of the scale a key of an event lies above one of the event before, 0 where it is not known.
func (p *Preface) steps(e, key, from int) int {
	a, b := &p.events[e-1], &p.events[e]
	if a.Steps == nil || b.Steps == nil {
		return 0
	}
	return b.Steps[slices.Index(b.Keys, key)] - a.Steps[slices.Index(a.Keys, from)]
}

// inPosition gives the fingers that can be read on a key so many semitones and steps above one that has a finger: a finger for
// each step of the scale, and beyond the hand the outermost. Where the steps are not known, a tritone has two.
func inPosition(finger, semitones, steps int) []int {
	up, distance := 1, semitones
	if distance < 0 {
		up, distance, steps = -1, -distance, -steps
	}
	least, most := (distance+1)/2, (distance+1)/2
	switch {
	case steps > 0:
		least, most = steps, steps
	case distance == 6:
		most = 4
	case distance > 7:
		least, most = 4, 5
	}
	var out []int
	for s := least; s <= most; s++ {
		out = append(out, min(max(finger+up*s, 1), 5))
	}
	return slices.Compact(out)
}

// fifth is the interval, in semitones, from which on two keys are taken by 1 and 5 where nothing else is said.
const fifth = 7

// steps of a fifth, which may be diminished.
const fifthSteps = 4

// wide says that the outer keys of an event lie a fifth or more apart, as they are written or as they sound.
func (p *Preface) wide(e int) bool {
	ev := &p.events[e]
	last := len(ev.Keys) - 1
	return ev.Keys[last]-ev.Keys[0] >= fifth || ev.Steps != nil && ev.Steps[last]-ev.Steps[0] >= fifthSteps
}

// grip tells of keys at once, the outer ones. A fifth or more apart they are taken by 1 and 5, octaves on black keys by 4 as well, of
// which none is said; two that are nearer lie as the hand does. (That two a sixth apart do so was tried: a reader took 1 and 5.)
func (p *Preface) grip(e int) []int {
	now, _ := p.keys(e)
	if len(now) < 2 {
		return nil
	}
	last := len(now) - 1
	out := make([]int, len(now))
	if leavesFour(now) {
		out[0] = 1
		return out
	}
	if p.wide(e) {
		out[0], out[last] = 1, 5
		return out
	}
	if last > 1 || e == 0 || p.events[e].At-p.events[e-1].End > silence {
		return nil
	}
	if out[0], out[1] = p.lies(e, now[0]), p.lies(e, now[1]); out[0] == 0 || out[0] >= out[1] || p.unsure(e, out) {
		return nil
	}
	return out
}

// returns tells of a single key that comes again within the measure, whatever lies between; 0 for none.
func (p *Preface) returns(e int) int {
	now, _ := p.keys(e)
	if len(now) > 1 {
		return 0
	}
	for at := e - 1; at >= 0 && p.events[at].Measure == p.events[e].Measure; at-- {
		if k := slices.Index(p.events[at].Keys, now[0]); k >= 0 {
			return p.events[at].Fingers[k]
		}
	}
	return 0
}

// kept tells of the keys of a chord that were struck just before or within the measure, 0 for the others; nil where none was, or
// where one was not of two, or of keys a fifth or more apart.
func (p *Preface) kept(e int) []int {
	now, _ := p.keys(e)
	if len(now) < 2 {
		return nil
	}
	out, some := make([]int, len(now)), false
	for k, key := range now {
		for at := e - 1; at >= 0 && out[k] == 0; at-- {
			atOnce := at == e-1 && p.events[e].At-p.events[at].End <= silence
			if p.events[at].Measure != p.events[e].Measure && !atOnce {
				break
			}
			if j := slices.Index(p.events[at].Keys, key); j >= 0 {
				out[k], some = p.events[at].Fingers[j], true
			}
		}
	}
	if !some || (p.wide(e) || len(now) == 2) && slices.Contains(out, 0) {
		return nil
	}
	return out
}

// Moved says that between two single keys the hand moves: their fingers do not follow in the order of the keys.
func Moved(from, finger, to, other int) bool {
	return from != to && (finger == other || (from < to) != (finger < other))
}

// struckOn tells of keys that were just struck: of the same ones, of one of a chord, or of a chord about the key; nil for none.
func (p *Preface) struckOn(e int) []int {
	if e == 0 || p.events[e].At-p.events[e-1].End > silence {
		return nil
	}
	before, was := p.keys(e - 1)
	now, _ := p.keys(e)
	if slices.Equal(before, now) {
		return was
	}
	out, found := make([]int, len(now)), 0
	for k, key := range now {
		if at := slices.Index(before, key); at >= 0 {
			out[k] = was[at]
			found++
		}
	}
	if found == 0 || found < min(len(now), len(before)) {
		return nil
	}
	return out
}

// warned says that the fingers have departed already, in the measure or just before, from those of the figure that an event belongs to:
// a digit shows it, and from there on the player goes by the position.
func (p *Preface) warned(e, at int) bool {
	departed := func(k int) bool {
		if e < k || at < k {
			return false
		}
		now, was := &p.events[e-k], &p.events[at-k]
		return (p.goes.at[e-k] == at-k || slices.Equal(now.Keys, was.Keys)) && !slices.Equal(now.Fingers, was.Fingers)
	}
	if departed(1) || e > 1 && slices.Equal(p.events[e].Keys, p.events[e-2].Keys) && departed(2) {
		return true
	}
	for k := 2; k <= e && p.events[e-k].Measure == p.events[e].Measure; k++ {
		if departed(k) {
			return true
		}
	}
	return false
}

// Departs gives the places of an event's keys whose finger is not the one that the preface tells, where no digit shows it.
func (p *Preface) Departs(e int, shows func(note int) bool) (at []int, by Sentence) {
	said, by := p.Tells(e)
	ev := &p.events[e]
	if by == Shown && !slices.ContainsFunc(ev.Notes, shows) {
		return []int{0}, by
	}
	// A key of two voices is shown by the digit of either.
	shown := func(k int) bool {
		for j, key := range ev.Keys {
			if key == ev.Keys[k] && shows(ev.Notes[j]) {
				return true
			}
		}
		return false
	}
	for k, f := range said {
		if f == 0 || f == ev.Fingers[k] {
			continue
		}
		if shown(k) {
			if by == Grip || by == Returns { // of keys at once each says so for itself
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
	for _, at := range p.figures(e) {
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
func (p *Preface) AsLast(e int) bool { return p.Last(e) >= 0 }

// Last gives the last time that the hand came to an event as it does now, in a figure that comes again or goes on; −1 for none.
func (p *Preface) Last(e int) int {
	goes := p.goingOn(e)
	for _, at := range p.figures(e) {
		if at > 0 && slices.Equal(p.events[at].Fingers, p.events[e].Fingers) && slices.Equal(p.events[at-1].Fingers, p.events[e-1].Fingers) &&
			(at == goes || slices.Equal(p.events[at-1].Keys, p.events[e-1].Keys)) {
			return at
		}
	}
	return -1
}

// figures lists the events that an event could repeat, the one that the preface tells first; −1 for none.
func (p *Preface) figures(e int) [4]int {
	at, _ := p.figure(e)
	return [4]int{at, p.once.at[e], p.like.at[e], p.goingOn(e)}
}
