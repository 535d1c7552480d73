package learned

import (
	"fmt"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Column is one thing that the network looks up of a stroke: a number from 0 to values−1.
type Column struct {
	Name   string
	Values int
}

// How far the columns look.
const (
	farthest   = 18 // semitones; what is farther counts as this
	neighbours = 4  // events to either side that are told key by key
	sized      = 2  // events to either side of which the size is told
	ahead      = 4  // strokes of a voice over which its range is taken
	longestRun = 8  // strokes of a run
	soonest    = 8  // events within which a key comes again
)

// places are the numbers of the columns.
const (
	pitchClass = iota
	chordPlace // size of the chord and rank in it
	handGrace
	timeToNext
	timeFromLast
	duration
	touch
	heldBelow
	heldAbove
	struckBelow
	struckAbove
	aboveLowest
	belowHighest
	marks
	runAhead
	runBehind
	aheadAbove
	aheadBelow
	behindAbove
	behindBelow
	againAhead
	againBehind
	firstNeighbour
)

// columns lists what is looked up, in order.
var columns = listColumns()

func listColumns() []Column {
	out := make([]Column, firstNeighbour)
	set := func(place int, name string, values int) { out[place] = Column{name, values} }
	set(pitchClass, "pitch class", 12)
	set(chordPlace, "place in the chord", fingering.MaxKeys*fingering.MaxKeys)
	set(handGrace, "hand and grace note", 4)
	set(timeToNext, "time to the next event", timeClasses)
	set(timeFromLast, "time from the event before", timeClasses)
	set(duration, "duration", timeClasses)
	set(touch, "end against the next event", 4)
	set(heldBelow, "held key below", farthest+1)
	set(heldAbove, "held key above", farthest+1)
	set(struckBelow, "struck key below", farthest+1)
	set(struckAbove, "struck key above", farthest+1)
	set(aboveLowest, "above the lowest key struck", farthest+1)
	set(belowHighest, "below the highest key struck", farthest+1)
	set(marks, "slur, pedal, lead, turn", 32)
	set(runAhead, "run ahead", 2*longestRun+1)
	set(runBehind, "run behind", 2*longestRun+1)
	set(aheadAbove, "range ahead above", farthest+1)
	set(aheadBelow, "range ahead below", farthest+1)
	set(behindAbove, "range behind above", farthest+1)
	set(behindBelow, "range behind below", farthest+1)
	set(againAhead, "key comes again", soonest+1)
	set(againBehind, "key came before", soonest+1)
	for k := 1; k <= neighbours; k++ {
		for _, side := range []string{"ahead", "behind"} {
			out = append(out, Column{fmt.Sprintf("lowest key %d %s", k, side), 4*farthest + 3})
			out = append(out, Column{fmt.Sprintf("highest key %d %s", k, side), 4*farthest + 3})
			if k <= sized {
				out = append(out, Column{fmt.Sprintf("keys %d %s", k, side), fingering.MaxKeys + 1})
			}
		}
	}
	return out
}

// timeBounds part the classes of time, in microseconds; the first class is no time at all, the last one none known.
var timeBounds = [...]int64{
	1, 52_000, 73_000, 104_000, 146_000, 208_000, 292_000, 417_000, 625_000, 875_000, 1_250_000, 2_083_000,
}

const (
	noTime      = len(timeBounds) + 1
	timeClasses = noTime + 1
)

// microsPerQuarter is taken where a line has no tempo.
const microsPerQuarter = 500_000

// view is a line as the columns see it.
type view struct {
	line    *fingering.Line
	keys    [][]int32 // event → its struck strikes, ascending
	of      []int32   // strike → its event, −1 where the strike found no finger
	at      []int64   // event → microseconds
	next    []int32   // strike → the stroke after it in its voice, −1 for none
	prev    []int32
	timed   bool // the line has a tempo
	ofQuart func(fingering.Moment) int64
}

func newView(line *fingering.Line) *view {
	v := &view{line: line, keys: make([][]int32, len(line.Events)), of: make([]int32, len(line.Strikes)),
		at: make([]int64, len(line.Events)), next: make([]int32, len(line.Strikes)), prev: make([]int32, len(line.Strikes))}
	for s := range v.of {
		v.of[s], v.next[s], v.prev[s] = -1, -1, -1
	}
	room := make([]int32, 0, len(line.Strikes))
	for e := range line.Events {
		v.timed = v.timed || line.Events[e].Micros != 0
		from := len(room)
		for _, k := range line.Events[e].Keys {
			if k.Struck {
				room = append(room, int32(k.Strike))
				v.of[k.Strike] = int32(e)
			}
		}
		v.keys[e] = room[from:len(room):len(room)]
	}
	for e := range line.Events {
		v.at[e] = v.micros(line.Events[e].Onset)
		if v.timed {
			v.at[e] = line.Events[e].Micros
		}
	}
	for e := range v.keys {
		for i, s := range v.keys[e] {
			if e+1 < len(v.keys) {
				v.next[s] = v.inVoice(e, i, e+1)
			}
			if e > 0 {
				v.prev[s] = v.inVoice(e, i, e-1)
			}
		}
	}
	return v
}

// micros is the time of a moment without a tempo.
func (v *view) micros(m fingering.Moment) int64 { return m.Num * microsPerQuarter / max(m.Den, 1) }

// inVoice gives the stroke of event o that goes with the i-th struck key of event e: outer voices go with outer
// voices, other keys with the nearest one.
func (v *view) inVoice(e, i, o int) int32 {
	mine, others := v.keys[e], v.keys[o]
	lowest, highest := i == 0, i == len(mine)-1
	switch {
	case len(others) == 1 || lowest && !highest:
		return others[0]
	case highest && !lowest:
		return others[len(others)-1]
	}
	best := others[0]
	for _, s := range others[1:] {
		if abs(v.key(s)-v.key(mine[i])) < abs(v.key(best)-v.key(mine[i])) {
			best = s
		}
	}
	return best
}

func (v *view) key(s int32) int { return int(v.line.Strikes[s].Key) }

func abs(x int) int { return max(x, -x) }

// timeClass gives the class of a time in microseconds.
func timeClass(d int64) uint8 {
	for c, bound := range timeBounds {
		if d < bound {
			return uint8(c)
		}
	}
	return uint8(len(timeBounds))
}

// Look fills out with the columns of every strike of a line, strike after strike, and gives it. A strike that found no
// finger has zeros.
func Look(line *fingering.Line, out []uint8) []uint8 {
	v := newView(line)
	n := len(columns)
	if cap(out) < n*len(line.Strikes) {
		out = make([]uint8, n*len(line.Strikes))
	}
	out = out[:n*len(line.Strikes)]
	clear(out)
	for e := range v.keys {
		for i, s := range v.keys[e] {
			v.stroke(e, i, out[n*int(s):][:n])
		}
	}
	return out
}

func (v *view) stroke(e, i int, row []uint8) {
	s := v.keys[e][i]
	k, strike, event := v.key(s), &v.line.Strikes[s], &v.line.Events[e]
	row[pitchClass] = uint8(hand.Class(k))
	row[chordPlace] = uint8((len(v.keys[e])-1)*fingering.MaxKeys + i)
	row[handGrace] = uint8(v.line.Hand) * 2
	if event.Rank.IsGrace() {
		row[handGrace]++
	}
	v.times(e, strike, row)
	for _, x := range event.Keys {
		d := int(x.Key) - k
		switch {
		case x.Struck:
		case d < 0:
			row[heldBelow] = nearer(row[heldBelow], -d)
		case d > 0:
			row[heldAbove] = nearer(row[heldAbove], d)
		}
	}
	if i > 0 {
		row[struckBelow] = far(k - v.key(v.keys[e][i-1]))
	}
	if i+1 < len(v.keys[e]) {
		row[struckAbove] = far(v.key(v.keys[e][i+1]) - k)
	}
	row[aboveLowest] = far(k - v.key(v.keys[e][0]))
	row[belowHighest] = far(v.key(v.keys[e][len(v.keys[e])-1]) - k)
	bits := []bool{strike.Slurred, v.prev[s] >= 0 && v.line.Strikes[v.prev[s]].Slurred, strike.Leads, strike.Pedalled, strike.Turn}
	for b, on := range bits {
		if on {
			row[marks] |= 1 << b
		}
	}
	row[runAhead], row[aheadAbove], row[aheadBelow] = v.along(s, v.next)
	row[runBehind], row[behindAbove], row[behindBelow] = v.along(s, v.prev)
	row[againAhead], row[againBehind] = v.again(e, k, 1), v.again(e, k, -1)
	at := firstNeighbour
	for d := 1; d <= neighbours; d++ {
		for _, o := range [2]int{e + d, e - d} {
			if o >= 0 && o < len(v.keys) {
				keys := v.keys[o]
				row[at] = neighbourKey(k, v.key(keys[0]))
				if len(keys) > 1 {
					row[at+1] = neighbourKey(k, v.key(keys[len(keys)-1]))
				}
				if d <= sized {
					row[at+2] = uint8(len(keys))
				}
			}
			at += 2
			if d <= sized {
				at++
			}
		}
	}
}

// times fills the columns of time and of how the key is let go.
func (v *view) times(e int, strike *fingering.Strike, row []uint8) {
	row[timeToNext], row[timeFromLast] = uint8(noTime), uint8(noTime)
	if e > 0 {
		row[timeFromLast] = timeClass(v.at[e] - v.at[e-1])
	}
	length := v.micros(strike.End) - v.micros(v.line.Events[e].Onset)
	if e+1 < len(v.at) {
		row[timeToNext] = timeClass(v.at[e+1] - v.at[e])
		here, next := v.line.Events[e].Onset, v.line.Events[e+1].Onset
		switch c := strike.End.Compare(next); {
		case c > 0:
			row[touch] = 1
		case c == 0:
			row[touch] = 2
		default:
			row[touch] = 3
		}
		if gap := v.micros(next) - v.micros(here); v.timed && gap > 0 { // at the tempo of the place
			length = length * (v.at[e+1] - v.at[e]) / gap
		}
	}
	row[duration] = timeClass(length)
}

// along follows a voice: how far it runs one way (about longestRun: above it rises), and how far its next strokes lie
// above and below.
func (v *view) along(s int32, step []int32) (run, above, below uint8) {
	k, at, way, length := v.key(s), s, 0, 0
	up, down := 0, 0
	going := true
	for n := 0; n < longestRun && (going || n < ahead); n++ {
		to := step[at]
		if to < 0 {
			break
		}
		d := v.key(to) - v.key(at)
		if n < ahead {
			up, down = max(up, v.key(to)-k), max(down, k-v.key(to))
		}
		sign := min(max(d, -1), 1)
		if n == 0 {
			way = sign
		}
		if going = going && sign == way && sign != 0; going {
			length++
		}
		at = to
	}
	return uint8(longestRun + way*length), far(up), far(down)
}

// again gives in how many events a key is struck again, 0 for not soon.
func (v *view) again(e, key, way int) uint8 {
	for d := 1; d <= soonest; d++ {
		o := e + d*way
		if o < 0 || o >= len(v.keys) {
			return 0
		}
		for _, s := range v.keys[o] {
			if v.key(s) == key {
				return uint8(d)
			}
		}
	}
	return 0
}

func far(d int) uint8 { return uint8(min(d, farthest)) }

// nearer gives the smaller distance, where 0 is none.
func nearer(known uint8, d int) uint8 {
	if known != 0 && int(known) < d {
		return known
	}
	return far(d)
}

// neighbourKey tells another key by its interval and colour; 0 is none.
func neighbourKey(key, other int) uint8 {
	d := min(max(other-key, -farthest), farthest) + farthest
	out := 1 + 2*d
	if hand.Black(other) {
		out++
	}
	return uint8(out)
}
