package playing

import "slices"

// Pile is the digits of keys that one hand strikes together, where all of them stand at one of the notes: so many sources write
// the fingers of a third or of a chord, and in their files they look like changes of finger.
type Pile struct {
	At      int   // the note at which they stand
	Notes   []int // what is struck, lowest key first
	Fingers []int // of these notes
	// AsChange says that the file calls some of them second fingers of a change.
	AsChange bool
	// Sure says that a change of finger could not be played there: no finger is left for one of the other keys.
	Sure bool
}

// WithPiles is the same playing, with digits that are read as those of several notes. No note is in two of them.
func (p *Playing) WithPiles(piles []Pile) *Playing {
	if len(piles) == 0 {
		return p
	}
	out := *p
	out.piles, out.piled = piles, map[int]int{}
	for k := range piles {
		for _, n := range piles[k].Notes {
			out.piled[n] = k
		}
	}
	return &out
}

// Pile gives the pile that has the digit of a note, nil where none has.
func (p *Playing) Pile(n int) *Pile {
	if len(p.piles) == 0 {
		return nil
	}
	if k, in := p.piled[n]; in {
		return &p.piles[k]
	}
	return nil
}

// Piled is the finger that a pile gives a note, 0 where none does.
func (p *Playing) Piled(n int) int {
	if pile := p.Pile(n); pile != nil {
		return pile.Fingers[slices.Index(pile.Notes, n)]
	}
	return 0
}
