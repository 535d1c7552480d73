package effort

import "fingerproof/rules/fingering"

// Kind says over which fingers a factor ranges, and with that the number of its combinations.
type Kind uint8

// The kinds of factor. The combination of one is numbered with the earliest or lowest finger first, base five
// (finger−1); shapes by Rank; doubles by 10·Rank + Rank.
const (
	NoteFactor   Kind = iota // key At[0] of the event: 5
	ChordFactor              // keys At[0] < At[1] of the event: 25
	LinkFactor               // key At[0] of the event before, At[1] of the event: 25
	RowFactor                // keys At[0], At[1], At[2] of the last three events: 125
	ShapeFactor              // the grip of the event: 10
	DoubleFactor             // the grips of the event and the one before: 100
)

// Sizes is how many combinations a kind has.
var Sizes = [...]int{NoteFactor: 5, ChordFactor: 25, LinkFactor: 25, RowFactor: 125, ShapeFactor: 10, DoubleFactor: 100}

// Factor is one piece of the price of an event: it depends on a few fingers, through terms and contexts.
type Factor struct {
	Kind     Kind
	At       [3]int8
	Entries  []Entry
	Contexts []Context
}

// Factors lists the factors of event e, with those that join it to the events before. The price of a path is the
// sum of its factors and of what the lattice charges; Unary, Pair and Triple price the same.
func (m *Model) Factors(e int) []Factor {
	var out []Factor
	keys := m.line.Events[e].Keys
	for i, k := range keys {
		if !k.Struck {
			continue
		}
		f := Factor{Kind: NoteFactor, At: [3]int8{int8(i)}, Contexts: m.noteContexts(e, i, nil)}
		m.noteEntries(e, i, 0, fingering.Fingers, func(c int, t Term, v int) {
			if v != 0 {
				f.Entries = append(f.Entries, Entry{int32(c), t, int32(v)})
			}
		})
		out = append(out, f)
	}
	for i := range keys {
		for j := i + 1; j < len(keys); j++ {
			if t := m.chordTable(e, i, j); t != nil {
				out = append(out, Factor{Kind: ChordFactor, At: [3]int8{int8(i), int8(j)}, Entries: m.pricer.entries(t)})
			}
		}
	}
	if len(keys) > 1 {
		out = append(out, Factor{Kind: ShapeFactor, Contexts: m.shapeContexts(e, nil)})
	}
	if e >= 1 {
		leaps := m.leaps(e)
		for i, a := range m.line.Events[e-1].Keys {
			for j, b := range keys {
				class, ok := m.linkClass(e, i, j)
				if !ok {
					continue
				}
				step, then := m.stepTable(e, leaps, class, int(a.Key), int(b.Key)), m.then(e-1, i)
				if then != 0 {
					step = step.leftBy(then)
				}
				f := Factor{Kind: LinkFactor, At: [3]int8{int8(i), int8(j)}, Entries: m.pricer.entries(step)}
				if class != InnerVoice && then == 0 {
					f.Contexts = m.linkContexts(e, i, j, nil)
				}
				out = append(out, f)
			}
		}
		if c := m.doubleContexts(e, nil); len(c) > 0 {
			out = append(out, Factor{Kind: DoubleFactor, Contexts: c})
		}
	}
	if e >= 2 {
		for line := range 2 {
			i, j, k, single, ok := m.rowKeys(e, line)
			if !ok {
				continue
			}
			events := m.line.Events
			apart := m.leaps(e-1) || m.leaps(e) || m.then(e-2, i) != 0 || m.then(e-1, j) != 0
			a, b, c := events[e-2].Keys[i], events[e-1].Keys[j], events[e].Keys[k]
			t := m.rowTable(apart, single, int(a.Key), int(b.Key), int(c.Key))
			out = append(out, Factor{Kind: RowFactor, At: [3]int8{int8(i), int8(j), int8(k)}, Entries: m.pricer.entries(t),
				Contexts: m.rowContexts(e, i, j, k, single, nil)})
		}
	}
	return out
}

// Combination gives the number of the combination that the grips a, b, c of the last three events lay on the factor,
// or −1 where it has none. Grips that the kind does not look at may be zero.
func (f *Factor) Combination(keysBefore, keys int, a, b, c fingering.Grip) int {
	switch f.Kind {
	case NoteFactor:
		return int(c.Fingers[f.At[0]] - 1)
	case ChordFactor:
		return combo2(c.Fingers[f.At[0]], c.Fingers[f.At[1]])
	case LinkFactor:
		return combo2(b.Fingers[f.At[0]], c.Fingers[f.At[1]])
	case RowFactor:
		return int(a.Fingers[f.At[0]]-1)*25 + combo2(b.Fingers[f.At[1]], c.Fingers[f.At[2]])
	case ShapeFactor:
		return Rank(c, keys)
	}
	r, q := Rank(b, keysBefore), Rank(c, keys)
	if r < 0 || q < 0 {
		return -1
	}
	return r*10 + q
}
