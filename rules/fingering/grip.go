package fingering

// Oddity is what a grip does beyond laying the fingers on the keys in order. Each is legal and has its price.
type Oddity uint8

// The oddities of a grip.
const (
	ThumbOnTwo    Oddity = 1 << iota // the thumb on two neighbouring keys of one colour
	ThumbUnder                       // the thumb passed under, or a finger over it, while a key is held
	FingerOver                       // 3 over 4 or 4 over 5 while a key is held
	Contradictory                    // a given digit that no legal grip has
)

// Grip is the fingers on the keys of an event, in the order of Event.Keys. Unused places are 0.
type Grip struct {
	Fingers [MaxKeys]Finger
	Odd     Oddity
}
