package lattice

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Prices of a rolled chord that is beyond the hand and struck key after key: its fingers lie in the order of its keys, each
// once, as on a chord (common practice, no source), and no two of them beside each other, without the thumb, open far
// beyond what they span. Digits that stand may ask for either.
const (
	acrossRoll = 25 * Nat // two keys in a row whose fingers lie the other way, or are one
	tornInRoll = 15 * Nat // two fingers without the thumb by more than tornShare farther apart than they span
	tornShare  = 60       // percent; lint tells such a pair from there on
)

// RolledInto says that events e-1 and e are keys of one rolled chord, and that the hand has a finger for each of its keys.
func (l *Lattice) RolledInto(e int) bool {
	events := l.Line.Events
	if e < 1 || !events[e-1].Rank.IsRolled() || events[e-1].Onset.Compare(events[e].Onset) != 0 {
		return false
	}
	keys := 0
	for from := e; from >= 0 && events[from].Onset.Compare(events[e].Onset) == 0 && !events[from].Rank.IsGrace(); from-- {
		keys += struckKeys(&events[from])
	}
	for to := e + 1; to < len(events) && events[to].Onset.Compare(events[e].Onset) == 0; to++ {
		keys += struckKeys(&events[to])
	}
	return keys <= fingering.MaxKeys
}

func struckKeys(e *fingering.Event) (n int) {
	for _, k := range e.Keys {
		if k.Struck {
			n++
		}
	}
	return n
}

// RollPrice is what two grips in a row cost on keys of one rolled chord (RolledInto).
func (l *Lattice) RollPrice(e int, was, is fingering.Grip) (price int32) {
	for i, a := range l.Line.Events[e-1].Keys {
		for j, b := range l.Line.Events[e].Keys {
			if !a.Struck || !b.Struck || a.Key == b.Key {
				continue
			}
			f, g := was.Fingers[i], is.Fingers[j]
			if f == g || (a.Key < b.Key) != (f < g) {
				price += acrossRoll
				continue
			}
			far := hand.Distance(int(min(a.Key, b.Key)), int(max(a.Key, b.Key)))
			if f, g = min(f, g), max(f, g); f > 1 && 100*far >= (100+tornShare)*l.Profile.Practical(int(f), int(g)) {
				price += tornInRoll
			}
		}
	}
	return price
}

// AddRolls adds what two grips in a row cost on keys of one rolled chord to out, as Model.Pair lays it out.
func (l *Lattice) AddRolls(e int, out []int32) {
	if !l.RolledInto(e) {
		return
	}
	at := 0
	for _, was := range l.Grips(e - 1) {
		for _, is := range l.Grips(e) {
			out[at] += l.RollPrice(e, was, is)
			at++
		}
	}
}
