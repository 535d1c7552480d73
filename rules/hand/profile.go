package hand

import "fmt"

// Profile is the hand an edition is fingered for.
type Profile struct {
	Name string
	// Span is the greatest stretch from thumb to fifth finger tip, hand flat.
	Span Length
	// Supple is how much of what a pair can span is at ease, in thousandths of the common measure (1000).
	Supple int
}

// The three hands, by what they take with ease. Spans are a proposal built on published figures (FACTS §1.2).
var (
	OctaveHand = Profile{Name: "octave", Span: MM(190), Supple: 1000}
	NinthHand  = Profile{Name: "ninth", Span: MM(210), Supple: 1000}
	TenthHand  = Profile{Name: "tenth", Span: MM(230), Supple: 1000}
)

// Named gives one of the three hands by name.
func Named(name string) (Profile, error) {
	for _, p := range []Profile{OctaveHand, NinthHand, TenthHand} {
		if p.Name == name {
			return p, nil
		}
	}
	return Profile{}, fmt.Errorf(
		"choosing a hand: %q is not known\nhint: octave, ninth or tenth, or a span in millimetres", name,
	)
}

// Measured gives the hand of a measured span in millimetres, 120 to 300.
func Measured(mm int) (Profile, error) {
	if mm < 120 || mm > 300 {
		return Profile{}, fmt.Errorf("choosing a hand: a span of %d mm is outside 120–300", mm)
	}
	return Profile{Name: fmt.Sprintf("%d mm", mm), Span: MM(mm), Supple: 1000}, nil
}

// referenceSpan is the hand the table of practical spans is written for.
const referenceSpan = 21000

// practical spans of the finger pairs in mm for a span of 210 mm; other hands in proportion. The engine's own
// working table, see Practical.
var practical = [6][6]Length{
	1: {2: 14200, 3: 16800, 4: 18800, 5: 20500},
	2: {3: 7200, 4: 10400, 5: 14300},
	3: {4: 6000, 5: 10000},
	4: {5: 7400},
}

// Practical is the widest distance between the middles of two keys that fingers a and b (1–5, any order) can hold
// together. It is the hard limit.
func (p Profile) Practical(a, b int) Length {
	if a > b {
		a, b = b, a
	}
	if a == b {
		return 0
	}
	return practical[a][b] * p.Span / referenceSpan
}

// comfortLess is what comfort leaves of a practical span: one white key less (FACTS §1.2: comfort needs about one more
// white key than reach), in proportion for pairs that span little.
const comfortLess = 2350

// Comfortable is the widest distance the pair takes without strain.
func (p Profile) Comfortable(a, b int) Length {
	w := p.Practical(a, b)
	less := min(comfortLess, w/5)
	return (w - less) * Length(p.Supple) / 1000
}

// Relaxed is the distance at which the pair lies on the keys at rest: about three fifths of what it can span.
func (p Profile) Relaxed(a, b int) Length {
	return p.Practical(a, b) * 3 / 5 * Length(p.Supple) / 1000
}

// Fits reports whether thumb and fifth finger can hold both keys.
func (p Profile) Fits(low, high int) bool { return Distance(low, high) <= p.Practical(1, 5) }

// Excess is by how much a distance between two keys goes beyond what the pair can hold, 0 where it does not. One
// finger on two keys holds only neighbours of one colour, and is not judged here.
func (p Profile) Excess(a, b int, distance Length) Length {
	if distance < 0 {
		distance = -distance
	}
	if a == b {
		return 0
	}
	return max(distance-p.Practical(a, b), 0)
}

// Description names a hand in print: "ninth hand (210 mm)".
func (p Profile) Description() string {
	mm := int(p.Span / MM(1))
	if named, err := Named(p.Name); err == nil && named == p {
		return fmt.Sprintf("%s hand (%d mm)", p.Name, mm)
	}
	return fmt.Sprintf("hand of %d mm", mm)
}
