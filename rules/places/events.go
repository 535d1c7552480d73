package places

// Event is what one hand strikes at one moment.
type Event struct {
	Notes   []int // of the score
	Keys    []int // as the hand sees them, thumb side first; mirrored for the left hand (fingering.Hand.Mirror)
	Fingers []int // 1 to 5, of each key
	Steps   []int // of each key, as it is written: which step of the scale, rising as the keys do; nil where nothing is written
	Left    bool  // the left hand
	At, End int   // when it begins and is let go, in 24ths of a quarter from the beginning of the piece
	Measure int   // from 0
	Beat    int   // 2 at the beginning of a measure, 1 on a beat, else 0
	Slur    int   // 1 where a slur begins, 2 where one ends and none begins, else 0
	Grace   bool
	Short   bool // staccato or the like: the hand leaves the keys
}
