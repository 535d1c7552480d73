package compare

import (
	"fmt"
	"slices"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
)

// rolls compares which chords are rolled that the text does not roll, or may be.
func (c *comparison) rolls() {
	words := func(r *state.Roll) string {
		said := wording.Count(len(r.Notes), "note") + " rolled " + r.Direction + ", suggested"
		if r.Decided {
			said = wording.Count(len(r.Notes), "note") + " rolled " + r.Direction + ", decided"
		}
		return said
	}
	there := map[string]*state.Roll{}
	key := func(notes []int) string { return fmt.Sprint(slices.Sorted(slices.Values(notes))) }
	for i := range c.b.side.Result.Rolls {
		there[key(c.b.side.Result.Rolls[i].Notes)] = &c.b.side.Result.Rolls[i]
	}
	for i := range c.a.side.Result.Rolls {
		old := &c.a.side.Result.Rolls[i]
		notes := make([]int, len(old.Notes))
		for k, n := range old.Notes {
			notes[k] = c.al.ToB[n]
		}
		first := old.Notes[0]
		switch now := there[key(notes)]; {
		case now == nil:
			c.at(Roll, first, c.al.ToB[first], words(old), "")
		case words(now) != words(old):
			c.at(Roll, first, now.Notes[0], words(old), words(now))
		}
		delete(there, key(notes))
	}
	for i := range c.b.side.Result.Rolls {
		if now := &c.b.side.Result.Rolls[i]; there[key(now.Notes)] != nil {
			c.at(Roll, c.al.ToA[now.Notes[0]], now.Notes[0], "", words(now))
		}
	}
}
