package suggest

import (
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// Keys that are struck again and again.

// leastStruck is from how many strokes on a key is struck again and again; mostStruck bounds what is taken for one figure.
const (
	leastStruck = 3
	mostStruck  = 8
)

// keyGives is what the fingering of a key struck again and again may be less likely, for each stroke, with the fingers of the
// other places of the piece than with its own, in 1/16 of a bit; oddGives where its own fingers are such as nobody prints, or
// those of the other stand in the text.
const (
	keyGives = 24
	oddGives = 100
)

// What another finger then costs at each stroke, in milli-nats; and where the fingering stands in the text elsewhere.
const (
	keyWorth   = 2500
	givenWorth = 6000
)

// paces are the times from stroke to stroke, in microseconds, below which places are taken for one figure.
var paces = [...]int64{150_000, 300_000, 600_000}

// struckKey is what two places have in common.
type struckKey struct{ strokes, pace int }

// keysAgain gives places of a piece at which a key is struck again and again as often and as fast one fingering where it is
// likely enough at each: fingers that change towards the thumb, or one finger. A place that goes to and fro, or changes and then
// stays, takes the likeliest of these.
func (m *memory) keysAgain(line *fingering.Line, percent int, apart func(id int) bool) {
	free := newByNote[fingering.Finger](len(m.at.of))
	var order []struckKey
	places := map[struckKey][][]int{}
	for e := 0; e < len(line.Events); {
		ids, pace := struckFrom(line, e)
		if len(ids) < leastStruck {
			e++
			continue
		}
		e += len(ids)
		if len(ids) > mostStruck || pace < 0 || slices.ContainsFunc(ids, apart) {
			continue
		}
		k := struckKey{len(ids), pace}
		if places[k] == nil {
			order = append(order, k)
		}
		places[k] = append(places[k], ids)
	}
	for _, k := range order {
		usual := usualOnKey(k.strokes)
		for _, ids := range places[k] {
			if m.oddOnKey(ids) {
				if best, less := m.likeliest(ids, usual, free); best != nil && less <= int64(oddGives*k.strokes*percent)/100 {
					m.remembers(ids, best, keyWorth)
				}
			}
		}
		times := m.asGiven(places[k], int64(oddGives*k.strokes*percent)/100, free)
		m.alike(times, k.strokes, free, int64(keyGives*k.strokes*percent)/100, keyWorth)
	}
}

// asGiven gives places the fingering that stands in the text at one of them, where it is likely enough, and gives the others
// back.
func (m *memory) asGiven(places [][]int, limit int64, free byNote[fingering.Finger]) (left [][]int) {
	var way []fingering.Finger
	for _, ids := range places {
		if !slices.ContainsFunc(ids, func(id int) bool { return !given(m.at.at(id)) }) {
			for _, id := range ids {
				way = append(way, only(m.at.at(id).Allowed))
			}
			break
		}
	}
	if way == nil {
		return places
	}
	for _, ids := range places {
		if m.lessLikely(ids, way, free) > limit {
			left = append(left, ids)
		} else {
			m.remembers(ids, way, givenWorth)
		}
	}
	return left
}

// struckFrom gives the notes by which one key is struck alone from an event on, at once again and again, and how fast; pace is
// less than 0 where it is slow.
func struckFrom(line *fingering.Line, e int) (ids []int, pace int) {
	first, ok := parallel.Single(line, e)
	if !ok {
		return nil, 0
	}
	slowest := int64(0)
	for o := e; o < len(line.Events); o++ {
		s, ok := parallel.Single(line, o)
		if !ok || line.Strikes[s].Key != line.Strikes[first].Key || line.Strikes[s].Turn {
			break
		}
		if o > e {
			slowest = max(slowest, line.Events[o].Micros-line.Events[o-1].Micros)
		}
		ids = append(ids, line.Strikes[s].IDs[0])
	}
	pace = slices.IndexFunc(paces[:], func(below int64) bool { return slowest < below })
	return ids, pace
}

// usualOnKey lists the fingerings of so many strokes of one key: one finger, or fingers that change towards the thumb and begin
// anew (FACTS §4.6).
func usualOnKey(strokes int) (out [][]fingering.Finger) {
	for f := fingering.Finger(1); f <= fingering.Fingers; f++ {
		out = append(out, slices.Repeat([]fingering.Finger{f}, strokes))
	}
	for _, turn := range [][]fingering.Finger{{4, 3, 2, 1}, {3, 2, 1}, {4, 3, 2}, {2, 1}} {
		way := make([]fingering.Finger, strokes)
		for i := range way {
			way[i] = turn[i%len(turn)]
		}
		if strokes%len(turn) == 0 || strokes > len(turn) && len(turn) > 2 {
			out = append(out, way)
		}
	}
	return out
}

// oddOnKey says that the fingers of a key struck again and again go to and fro without the thumb, or change and then stay.
func (m *memory) oddOnKey(ids []int) bool {
	for i := 2; i < len(ids); i++ {
		f, g, h := m.finger.at(ids[i-2]), m.finger.at(ids[i-1]), m.finger.at(ids[i])
		if f == h && f != g && min(f, g) > 1 || (f == g) != (g == h) {
			return true
		}
	}
	return false
}

// likeliest is the fingering that is least less likely than the one the notes have, and by how much; nil where each is out of
// reach.
func (m *memory) likeliest(ids []int, ways [][]fingering.Finger, free byNote[fingering.Finger]) (best []fingering.Finger, less int64) {
	less = 1 << 39
	for _, way := range ways {
		if sum := m.lessLikely(ids, way, free); sum < less {
			best, less = way, sum
		}
	}
	return best, less
}
