package hands

// What a division of keys between the hands is made of. Each block counts one
// thing, by hand (right, left) and by the classes named. Keys are counted in
// semitones.
const (
	moved       = 0                       // hand × time (fast, slow, after a rest, grace): from its last keys
	farther     = moved + 2*4*moveClasses // hand × time: how many semitones, at most 36
	drift       = farther + 2*4           // hand: from where the hand has been for some time, at most 24
	towards     = drift + 2               // hand: how much nearer to where the other hand has been, at most 24
	span        = towards + 2             // hand: keys struck and held, spanClasses
	inner       = span + 2*spanClasses    // hand × gapClasses: widest gap left within what one hand strikes
	count       = inner + 2*gapClasses    // hand: how many keys it strikes, 1 to 6
	fingers     = count + 2*6             // hand: keys beyond five
	broken      = fingers + 2             // hand: keys of different length in one stroke
	length      = broken + 2              // hand: another length than its last stroke; and: the other hand's
	otherStep   = length + 2*2            // hand: another time since the last stroke than before
	joint       = otherStep + 2           // hand: begins where its last stroke ends, after a rest, or before
	under       = joint + 2*3             // hand × gapClasses: right below a key it holds, left above one
	within      = under + 2*gapClasses    // hand: strikes beside a key it holds, on the outer side
	idle        = within + 2              // hand × (holds, ended now, free) × keys the other strikes (1, 2, 3…)
	away        = idle + 2*3*3            // hand: idle for 1, 2, 4, 8 quarters
	cut         = away + 2*4              // gapClasses × (same length, other length): where the keys are divided
	cutWhole    = cut + 2*gapClasses      // … though one hand would span them all, same length
	crossed     = cutWhole + 1            // left hand above the right, sounding; … how far
	over        = crossed + 2             // … not sounding
	changed     = over + 1                // the same key was the other hand's: within a quarter, four, sixteen
	unled       = changed + 3             // what leads here was the other hand's: step or leap × length alike or not
	unlike      = unled + 4               // a moment like this one was divided otherwise: the same keys, near ones
	transitions = unlike + 2              // from here on: what speaks for the left hand in a note itself
	keyAt       = transitions             // key, in steps of four
	rankNear    = keyAt + 22              // share of what sounds about it that lies below: two quarters around
	rankFar     = rankNear + 11           // … eight quarters
	among       = rankFar + 11            // keys struck with it: below × above, up to three
	gapAbove    = among + 16              // struck or held × gapClasses
	gapBelow    = gapAbove + 2*gapClasses
	outer       = gapBelow + 2*gapClasses       // to the lowest that sounds × to the highest, gapClasses each
	beside      = outer + gapClasses*gapClasses // length against the key below × the key above × which is nearer
	lasting     = beside + 4*4*3                // length × a third of the compass
	between     = lasting + 6*3                 // place between the lowest and the highest line, four quarters around
	valley      = between + 12                  // side of the widest gap in what sounds around × its width: near, far
	size        = valley + 2*2*6
)

const (
	moveClasses = 8
	spanClasses = 8
	gapClasses  = 8
)

// names are the blocks in order, as the table of weights spells them.
var names = []struct {
	name string
	at   int
}{
	{"moved", moved}, {"farther", farther}, {"drift", drift}, {"towards", towards}, {"span", span},
	{"inner", inner}, {"count", count}, {"fingers", fingers}, {"broken", broken}, {"length", length},
	{"otherStep", otherStep}, {"joint", joint}, {"under", under}, {"within", within}, {"idle", idle},
	{"away", away}, {"cut", cut}, {"cutWhole", cutWhole}, {"crossed", crossed}, {"over", over},
	{"changed", changed}, {"unled", unled}, {"unlike", unlike}, {"key", keyAt}, {"rankNear", rankNear},
	{"rankFar", rankFar}, {"among", among}, {"gapAbove", gapAbove}, {"gapBelow", gapBelow},
	{"outer", outer}, {"beside", beside}, {"lasting", lasting}, {"between", between},
	{"valley", valley}, {"", size},
}

type features [size]int32

// weights are in thousandths.
type weights [size]int32

// tally adds up what a division costs.
type tally struct {
	w    *weights
	cost int64
	sum  *features // kept only while fitting
}

func (t *tally) add(feature int, n int) {
	t.cost += int64(t.w[feature]) * int64(n)
	if t.sum != nil {
		t.sum[feature] += int32(n)
	}
}

func abs(x int) int { return max(x, -x) }

// gapClass sorts a distance in semitones: none, a second, third, up to a fifth, octave, tenth, fourteenth, more.
func gapClass(semitones int) int {
	switch {
	case semitones <= 0:
		return 0
	case semitones <= 2:
		return 1
	case semitones <= 4:
		return 2
	case semitones <= 7:
		return 3
	case semitones <= 12:
		return 4
	case semitones <= 16:
		return 5
	case semitones <= 24:
		return 6
	}
	return 7
}

// spanClass sorts what a hand spans: up to a fifth, seventh, octave, ninth, tenth, eleventh, fourteenth, more.
func spanClass(semitones int) int {
	for c, most := range [spanClasses - 1]int{7, 11, 12, 14, 16, 17, 21} {
		if semitones <= most {
			return c
		}
	}
	return spanClasses - 1
}

// moveClass sorts how far a hand moves: not, a step, third, fifth, octave, twelfth, two octaves, more.
func moveClass(semitones int) int {
	for c, most := range [moveClasses - 1]int{0, 2, 4, 7, 12, 19, 24} {
		if semitones <= most {
			return c
		}
	}
	return moveClasses - 1
}
