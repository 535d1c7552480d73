package fingering

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score/playing"
)

// MaxKeys is the greatest number of keys a grip holds: one for each finger.
const MaxKeys = 5

// Sounding is one key of an event.
type Sounding struct {
	Key     int8 // mirrored MIDI key (see Hand.Mirror)
	Struck  bool // struck here; otherwise held on from before
	Strike  int  // index into Line.Strikes
	Allowed Mask
}

// Event is one distinct onset of one hand with every key that sounds: those struck there and those held on.
type Event struct {
	Onset  Moment
	Rank   playing.Rank
	Micros int64
	// Keys in ascending order of mirrored key, at most MaxKeys, at least one of them struck.
	Keys []Sounding
	// Beyond lists strikes that find no finger because more keys than fingers are struck at once.
	Beyond []int
	// Released lists strikes whose keys, held on as written, had to be let go here (left to the pedal).
	Released []int
	// Joined says that at least one key of the event before sounds up to this onset.
	Joined bool
}

// Strike is one stroke of one key: an ordinary note, the notes tied to it, and any second note written on the
// same key at the same onset.
type Strike struct {
	Key      int8 // mirrored
	Event    int  // where it is struck
	IDs      []int
	Ties     []Tie // tied-on notes in order
	End      Moment
	Allowed  Mask
	Then     Finger // the finger that holds it after ThenFrom, 0 for the one that strikes it or any
	ThenFrom Moment
	ThenTied bool // ThenFrom is where a note is tied on: it holds from there; else behind where the key is struck
	Slurred  bool // the line has to connect from here to the next note
	Pedalled bool // the pedal sounds it on to the next note
	Leads    bool // it carries the line
	Turn     bool // it belongs to a turn
	// Remembered and Worth are those of its note (see Note).
	Remembered Finger
	Worth      int
	// Contradiction says that the notes joined in this strike allow no finger in common; any is allowed then.
	Contradiction bool
}

// Tie is a note that holds a strike on.
type Tie struct {
	ID    int
	Onset Moment
}

// Line is the music of one hand as the engine sees it.
type Line struct {
	Hand    Hand
	Events  []Event
	Strikes []Strike
}

// Fits says whether one hand can hold both of two mirrored keys, low and high.
type Fits func(low, high int) bool

// NewLine makes the events of one hand. Notes may come in any order and in any number; the result depends on the
// notes alone. Ties are followed, two notes on one key at one onset become one strike, and a key struck again
// ends what held it. Held keys that the hand cannot keep beside the struck ones, by fits or by the number of fingers,
// are let go, the farthest from the struck keys first. Of more than five keys struck at once the five on the
// side of the little finger stay, where melody and bass lie.
func NewLine(hand Hand, notes []Note, fits Fits) *Line {
	order := make([]int, len(notes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := &notes[a], &notes[b]
		return cmp.Or(Before(x, y), cmp.Compare(hand.Mirror(x.Key), hand.Mirror(y.Key)), cmp.Compare(x.ID, y.ID))
	})
	b := lineBuilder{
		line: &Line{Hand: hand, Strikes: make([]Strike, 0, len(notes)), Events: make([]Event, 0, onsets(notes, order))},
		fits: fits, ids: make([]int, 0, len(notes)), keys: make([]Sounding, 0, len(notes)),
	}
	for i := range b.last {
		b.last[i] = none
	}
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && Before(&notes[order[i]], &notes[order[j]]) == 0 {
			j++
		}
		b.add(notes, order[i:j])
		i = j
	}
	return b.line
}

// Before orders two notes by when they are struck: negative where x comes first, 0 where they are struck together. The
// order is that of playing.Instant, with onsets as the engine counts them.
func Before(x, y *Note) int {
	return cmp.Or(x.Onset.Compare(y.Onset), cmp.Compare(x.Rank, y.Rank))
}

type lineBuilder struct {
	line   *Line
	fits   Fits
	last   [256]int // key, from the lowest there is on → its latest strike
	active []int    // strikes that may still sound
	struck []int    // those of the event that is added
	ids    []int    // memory for the ids of strikes
	keys   []Sounding
}

// none is where a key was not struck yet.
const none = -1

func (b *lineBuilder) lastOf(key int8) *int { return &b.last[int(key)+128] }

// onsets counts the moments at which notes begin; order is that of playing.
func onsets(notes []Note, order []int) (n int) {
	for k := range order {
		if k == 0 || Before(&notes[order[k-1]], &notes[order[k]]) != 0 {
			n++
		}
	}
	return n
}

func (b *lineBuilder) add(notes []Note, at []int) {
	first := &notes[at[0]]
	struck := b.struck[:0]
	for _, i := range at {
		n := &notes[i]
		key := int8(min(max(b.line.Hand.Mirror(n.Key), -100), 127))
		if n.Tied && b.tie(key, n) {
			continue
		}
		allowed := n.Allowed & AnyFinger
		if allowed == 0 {
			allowed = AnyFinger
		}
		end := n.End
		if n.Rank != playing.OnOnset || n.Detached {
			end = n.Onset
		}
		if k := len(struck) - 1; k >= 0 && b.line.Strikes[struck[k]].Key == key {
			s := &b.line.Strikes[struck[k]]
			s.IDs = append(s.IDs, n.ID)
			s.Slurred, s.Leads = s.Slurred || n.Slurred, s.Leads || n.Leads
			if s.Then == 0 {
				s.Then = n.Then
			}
			if s.Remembered == 0 {
				s.Remembered, s.Worth = n.Remembered, n.Worth
			}
			if s.Allowed&allowed == 0 {
				s.Contradiction = true
				s.Allowed |= allowed
			} else {
				s.Allowed &= allowed
			}
			if end.Compare(s.End) > 0 {
				s.End = end
			}
			continue
		}
		struck = append(struck, len(b.line.Strikes))
		*b.lastOf(key) = len(b.line.Strikes)
		b.ids = append(b.ids, n.ID)
		b.line.Strikes = append(b.line.Strikes, Strike{
			Key: key, Event: len(b.line.Events), IDs: b.ids[len(b.ids)-1 : len(b.ids) : len(b.ids)], End: end, Allowed: allowed, Then: n.Then,
			ThenFrom: n.Onset, Slurred: n.Slurred, Pedalled: n.Pedalled, Leads: n.Leads, Turn: n.Turn,
			Remembered: n.Remembered, Worth: n.Worth,
		})
	}
	b.struck = struck
	if len(struck) == 0 {
		return
	}
	e := Event{Onset: first.Onset, Rank: first.Rank, Micros: first.Micros}
	if cut := len(struck) - MaxKeys; cut > 0 {
		e.Beyond = slices.Clone(struck[:cut])
		struck = struck[cut:]
	}
	held := b.held(&e, struck)
	from := len(b.keys)
	for _, strikes := range [2][]int{struck, held} {
		for _, s := range strikes {
			k := &b.line.Strikes[s]
			b.keys = append(b.keys, Sounding{
				Key: k.Key, Struck: k.Event == len(b.line.Events), Strike: s, Allowed: k.allowedAt(&e),
			})
		}
	}
	e.Keys = b.keys[from:len(b.keys):len(b.keys)]
	slices.SortFunc(e.Keys, func(x, y Sounding) int { return cmp.Compare(x.Key, y.Key) })
	b.line.Events = append(b.line.Events, e)
	b.active = b.active[:0]
	for _, k := range e.Keys {
		b.active = append(b.active, k.Strike)
	}
}

// tie lengthens the latest strike of the key where it reaches up to the note. A key that was let go in between is not
// taken up again: the pedal holds it.
func (b *lineBuilder) tie(key int8, n *Note) bool {
	s := *b.lastOf(key)
	if s == none || b.line.Strikes[s].End.Compare(n.Onset) < 0 {
		return false
	}
	k := &b.line.Strikes[s]
	if n.End.Compare(k.End) > 0 {
		k.End = n.End
	}
	k.Slurred, k.Pedalled = n.Slurred, n.Pedalled // the last note tied on says how the line goes on
	k.Ties = append(k.Ties, Tie{ID: n.ID, Onset: n.Onset})
	if n.Then != 0 && k.Allowed != Only(n.Then) {
		k.Then, k.ThenFrom, k.ThenTied = n.Then, n.Onset, true
	}
	return true
}

// allowedAt limits the fingers of a strike that sounds at e: once it has been changed on the held key, to the one
// changed to.
func (k *Strike) allowedAt(e *Event) Mask {
	if after := e.Onset.Compare(k.ThenFrom); k.Then != 0 && (after > 0 || after == 0 && k.ThenTied) {
		return Only(k.Then)
	}
	return k.Allowed
}

// held gives the strikes that go on sounding at e beside the struck ones, and notes what had to be let go.
func (b *lineBuilder) held(e *Event, struck []int) []int {
	var held []int
	low, high := int(b.line.Strikes[struck[0]].Key), int(b.line.Strikes[struck[len(struck)-1]].Key)
	for _, s := range b.active {
		k := &b.line.Strikes[s]
		if k.End.Compare(e.Onset) >= 0 {
			e.Joined = true
		}
		if k.End.Compare(e.Onset) <= 0 || *b.lastOf(k.Key) != s || k.Event == len(b.line.Events) {
			continue
		}
		held = append(held, s)
	}
	distance := func(s int) int {
		k := int(b.line.Strikes[s].Key)
		return max(low-k, k-high, 0)
	}
	// Farthest last; of two as far, the lower key goes first.
	slices.SortStableFunc(held, func(x, y int) int {
		return cmp.Or(cmp.Compare(distance(x), distance(y)), -cmp.Compare(b.line.Strikes[x].Key, b.line.Strikes[y].Key))
	})
	for len(held) > 0 {
		lo, hi := low, high
		for _, s := range held {
			lo, hi = min(lo, int(b.line.Strikes[s].Key)), max(hi, int(b.line.Strikes[s].Key))
		}
		if len(held)+len(struck) <= MaxKeys && b.fits(lo, hi) {
			break
		}
		e.Released = append(e.Released, held[len(held)-1])
		held = held[:len(held)-1]
	}
	return held
}
