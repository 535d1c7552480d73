package redistribute

import (
	"fmt"
	"slices"

	"fingerproof/corpus/wording"
	"fingerproof/rules/fingering"
)

// What a hand holds while it takes a key over counts in its grip as what it strikes: a finger has one key, and the grip is
// within the hand, or the key that is let go is named.

// clashes says that, with notes changed over, a key is held that its hand cannot hold beside one of them: both ask for one
// finger, or they lie farther apart than the hand takes in playing.
func (f *finder) clashes(w *way, moved map[int]bool) (clash bool) {
	f.heldBeside(w, moved, func(held, struck int, h int) {
		n, o := &w.notes[h][held], &w.notes[h][struck]
		if w.result[h].Notes[held].Pedal {
			return // it is let go, and that is said
		}
		clash = clash || f.holdingFinger(w, h, held, o) == w.result[h].Notes[struck].Finger ||
			!f.in.Profile.Fits(min(n.Key, o.Key), max(n.Key, o.Key))
	})
	return clash || oneFingerStrikesTwo(w, moved)
}

// oneFingerStrikesTwo says that a note that changed over is struck together with another key by the same finger.
func oneFingerStrikesTwo(w *way, moved map[int]bool) bool {
	for h := range 2 {
		for i := range w.notes[h] {
			n := &w.notes[h][i]
			if !moved[n.ID] || n.Tied {
				continue
			}
			for k := range w.notes[h] {
				o := &w.notes[h][k]
				if !o.Tied && o.Key != n.Key && o.Rank == n.Rank && o.Onset.Compare(n.Onset) == 0 && w.result[h].Notes[k].Finger == w.result[h].Notes[i].Finger {
					return true
				}
			}
		}
	}
	return false
}

// heldBeside tells of each key that a hand holds while it strikes another, one of the two a note that changed over: places
// in the notes of a hand.
func (f *finder) heldBeside(w *way, moved map[int]bool, tell func(held, struck, h int)) {
	for h := range 2 {
		if !slices.ContainsFunc(w.notes[h], func(n fingering.Note) bool { return moved[n.ID] }) {
			continue
		}
		for i := range w.notes[h] {
			n := &w.notes[h][i]
			if n.Tied && f.has(w, h, f.tiedFrom(n.ID)) || n.Detached || f.isGrace(n.ID) || f.in.Playing.Rolled(min(n.ID, len(f.in.Said)-1)) {
				continue
			}
			end := f.heldTo(n.ID)
			for k := range w.notes[h] {
				o := &w.notes[h][k]
				if o.Tied || o.Key == n.Key || !moved[n.ID] && !moved[o.ID] || f.isGrace(o.ID) || o.ID >= len(f.in.Said) || f.in.Playing.Rolled(o.ID) {
					continue
				}
				if n.Onset.Compare(o.Onset) < 0 && o.Onset.Compare(end) < 0 {
					tell(i, k, h)
				}
			}
		}
	}
}

// holdingFinger is the finger that holds a key when another is struck, after a change on the held key.
func (f *finder) holdingFinger(w *way, h, held int, struck *fingering.Note) fingering.Finger {
	finger := w.result[h].Notes[held].Finger
	if then := w.notes[h][held].Then; then > 0 { // given
		finger = then
	} else if then := w.result[h].Notes[held].Substitution; then > 0 {
		finger = then
	}
	tied := f.tied(w.notes[h][held].ID)
	for k := range w.notes[h] {
		n := &w.notes[h][k]
		if n.Tied && slices.Contains(tied, n.ID) && n.Onset.Compare(struck.Onset) <= 0 && w.result[h].Notes[k].Finger > 0 {
			finger = w.result[h].Notes[k].Finger
		}
	}
	return finger
}

// tiedFrom is the note that a note is tied to from before, -1 for none.
func (f *finder) tiedFrom(id int) int {
	if id >= len(f.in.Score.Notes) {
		return -1
	}
	return f.in.Score.Notes[id].TiedFrom
}

func (f *finder) has(w *way, h, id int) bool {
	return id >= 0 && slices.ContainsFunc(w.notes[h], func(n fingering.Note) bool { return n.ID == id })
}

// letGo lists the keys that have to be let go early once notes change over, and need not be as written, in order.
func (f *finder) letGo(was, now *way, moved map[int]bool) (out []int) {
	before := map[int]bool{}
	for h := range 2 {
		for i := range was.notes[h] {
			if was.result[h].Notes[i].Pedal {
				before[was.notes[h][i].ID] = true
			}
		}
	}
	f.heldBeside(now, moved, func(held, _, h int) {
		if id := now.notes[h][held].ID; now.result[h].Notes[held].Pedal && !before[id] && !slices.Contains(out, id) {
			out = append(out, id)
		}
	})
	slices.Sort(out)
	return out
}

// letGoWords says which keys a hand lets go of with it.
func (f *finder) letGoWords(was, now *way, moved map[int]bool) string {
	var names []string
	for _, id := range f.letGo(was, now, moved) {
		if id < len(f.in.Score.Notes) {
			names = append(names, f.in.Score.Notes[id].Pitch.String())
		}
	}
	if len(names) == 0 {
		return ""
	}
	if len(names) == 1 {
		return fmt.Sprintf(" With it %s is let go before its end and left to the pedal.", names[0])
	}
	return fmt.Sprintf(" With it %s are let go before their ends and left to the pedal.", wording.List(names))
}
