package lint

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// Help is what the other hand of a player can take of keys that are too much for one.
type Help struct {
	Hand score.Hand // that takes them
	Keys []int      // lowest first
	// Written says that every one of them stands on that hand's own staff: a reader takes them with it without a word.
	Written bool
}

// Help finds the fewest keys of a stroke, struck or held, lowest first, which the other hand can take so that each
// hand has a grip for its own: those on its side. A hand that strikes nothing there must be near. Keys with digits that
// bind, or with a sign for the hand, stay where they are. False where it cannot help.
func (p *Inspection) Help(st *playing.Stroke, keys []int) (Help, bool) {
	own := &p.Playing.Lines[st.Line]
	other, busy, near := p.other(st)
	if other == nil {
		return Help{}, false
	}
	for k := 1; k < len(keys); k++ {
		moved, left := keys[len(keys)-k:], keys[:len(keys)-k]
		if own.Hand == score.Right {
			moved, left = keys[:k], keys[k:]
		}
		if slices.ContainsFunc(moved, func(n int) bool { return p.Given[n] > 0 || p.signAt(own.Hand, n) }) {
			return Help{}, false
		}
		if !p.Fits(own.Hand, left) {
			continue
		}
		both := p.Sorted(append(slices.Clone(moved), busy...))
		if !p.Fits(other.Hand, both) {
			return Help{}, false
		}
		if len(busy) == 0 && !p.within(near, moved) {
			continue // with more keys it may be nearer
		}
		h := Help{Hand: other.Hand, Keys: moved, Written: true}
		for _, n := range moved {
			h.Written = h.Written && (p.onStaffOf(other.Hand, n) || p.goesOnIn(other.Hand, n))
		}
		return h, true
	}
	return Help{}, false
}

// signAt says that a sign where a note is struck asks for a hand.
func (p *Inspection) signAt(h score.Hand, n int) bool {
	if p.handSigns == nil {
		p.handSigns = map[partMeasure][]int{}
		for i := range p.Score.Directions {
			if d := &p.Score.Directions[i]; d.Hand != score.NoHand {
				at := partMeasure{d.Part, d.Measure}
				p.handSigns[at] = append(p.handSigns[at], i)
			}
		}
	}
	note := &p.Score.Notes[n]
	return slices.ContainsFunc(p.handSigns[partMeasure{note.Part, note.Measure}], func(i int) bool {
		d := &p.Score.Directions[i]
		return d.Hand == h && d.Onset == note.Onset
	})
}

// partMeasure is a measure of a part.
type partMeasure struct{ part, measure int }

// SignForOther says that where a note is struck a sign of its part asks for the other hand: which notes it means is
// not sure.
func (p *Inspection) SignForOther(n int) bool {
	return p.signAt(p.Playing.Hand(n).Other(), n)
}

// FitsByVoices says that all keys that are down when a stroke falls, of both hands of its player, lie in the two hands if
// each voice of a staff is given to one of them, whichever that be.
func (p *Inspection) FitsByVoices(st *playing.Stroke) bool {
	_, busy, _ := p.other(st)
	type voice struct {
		staff int
		name  string
	}
	groups, order := map[voice][]int{}, []voice(nil)
	for _, n := range slices.Concat(st.Notes, st.Held, busy) {
		v := voice{p.Score.Notes[n].HomeStaff, p.Score.Notes[n].Voice}
		if groups[v] == nil {
			order = append(order, v)
		}
		groups[v] = append(groups[v], n)
	}
	for choice := range 1 << min(len(order), 6) {
		var left, right []int
		for k, v := range order {
			if choice>>k&1 == 0 {
				left = append(left, groups[v]...)
			} else {
				right = append(right, groups[v]...)
			}
		}
		if p.fitsOrEmpty(score.Left, left) && p.fitsOrEmpty(score.Right, right) {
			return true
		}
	}
	return false
}

// FitsByStaves says that what both hands of a player strike at a stroke lies in the two hands if each takes the voices
// whose own staff is its, wherever they are written; what is held is left to the pedal.
func (p *Inspection) FitsByStaves(st *playing.Stroke) bool {
	struck := slices.Clone(st.Notes)
	if other := p.Playing.OtherHand(st); other != nil {
		struck = append(struck, other.Notes...)
	}
	var left, right []int
	for _, n := range struck {
		switch note := &p.Score.Notes[n]; {
		case p.Score.Parts[note.Part].Staves != 2:
			return false
		case note.HomeStaff == 1 && !p.comesFromBelow(n):
			right = append(right, n)
		default:
			left = append(left, n)
		}
	}
	return len(left) > 0 && len(right) > 0 && p.fitsOrEmpty(score.Left, left) && p.fitsOrEmpty(score.Right, right)
}

// comesFromBelow says that the voice of a note stands on the lower staff in its measure or the one before.
func (p *Inspection) comesFromBelow(n int) bool {
	note := &p.Score.Notes[n]
	for m := n; m >= 0 && p.Score.Notes[m].Measure >= note.Measure-1; m-- {
		if x := &p.Score.Notes[m]; x.Part == note.Part && x.Voice == note.Voice && x.Staff == 2 {
			return true
		}
	}
	return false
}

func (p *Inspection) fitsOrEmpty(h score.Hand, keys []int) bool {
	return len(keys) == 0 || p.Fits(h, p.Sorted(slices.Clone(keys)))
}

// onStaffOf says that a note of a part of two staves stands on the staff of a hand.
func (p *Inspection) onStaffOf(h score.Hand, n int) bool {
	note := &p.Score.Notes[n]
	staff := 1
	if h == score.Left {
		staff = 2
	}
	return p.Score.Parts[note.Part].Staves == 2 && note.Staff == staff
}

// goesOnIn says that a hand plays something of what a note's voice has before it on the same staff, in this measure or
// the last: a reader goes on so.
func (p *Inspection) goesOnIn(h score.Hand, n int) bool {
	note := &p.Score.Notes[n]
	for m := n - 1; m >= 0 && p.Score.Notes[m].Measure >= note.Measure-1; m-- {
		x := &p.Score.Notes[m]
		if x.InVoiceOf(note) && x.Grace == 0 && p.Score.At(m).Less(p.Score.At(n)) {
			if x.Kind == score.Pitched && p.Playing.Plays(m) && p.Playing.Hand(m) == h {
				return true
			}
		}
	}
	return false
}

// other gives the line of the player's other hand, the keys that are down in it when a stroke falls, and what it
// strikes next before and after; the line is nil where there is none.
func (p *Inspection) other(st *playing.Stroke) (line *playing.Line, busy, near []int) {
	own := &p.Playing.Lines[st.Line]
	for i := range p.Playing.Lines {
		if l := &p.Playing.Lines[i]; l.Player == own.Player && l.Hand != own.Hand {
			line = l
		}
	}
	if line == nil {
		return nil, nil, nil
	}
	// A bass struck as a grace note before the stroke is left to the pedal.
	fromGrace := func(n int) bool { return p.Score.Notes[n].Grace > 0 }
	at, _ := slices.BinarySearchFunc(line.Strokes, st.Instant, func(s playing.Stroke, at playing.Instant) int {
		return s.Instant.Compare(at)
	})
	// What the pedal keeps sounding need not be held.
	pedal := p.PedalDown(p.Score.Notes[st.Notes[0]].Part, st.At)
	toPedal := func(n int) bool { return fromGrace(n) || pedal && p.Score.At(n).Less(st.At) }
	if at < len(line.Strokes) && line.Strokes[at].Instant == st.Instant {
		busy = append(slices.Clone(line.Strokes[at].Notes), line.Strokes[at].Held...)
		return line, slices.DeleteFunc(busy, toPedal), nil
	}
	if at > 0 {
		before := &line.Strokes[at-1]
		for _, n := range append(slices.Clone(before.Notes), before.Held...) {
			if st.At.Less(p.HeldUntil(n)) && !toPedal(n) {
				busy = append(busy, n)
			}
		}
		near = append(near, before.Notes...)
	}
	if at < len(line.Strokes) {
		near = append(near, line.Strokes[at].Notes...)
	}
	return line, busy, near
}

// A hand that has so long is where it is needed; else it is so near, and a semitone farther for every so many
// microseconds that it has (two octaves in three tenths of a second).
const (
	timeToMove = 500_000 // microseconds
	nearby     = 12      // semitones
	aSemitone  = 25_000  // microseconds
)

// within says that a hand comes in time from each stroke of its own to keys: there is time, or the nearest of them is
// near.
func (p *Inspection) within(strikes, keys []int) bool {
	for _, a := range strikes {
		gap, far := p.Micros[a]-p.Micros[keys[0]], 1<<30
		gap = max(gap, -gap)
		for _, b := range keys {
			far = min(far, p.Semitones(a, b))
		}
		if gap < timeToMove && far > nearby+int(gap/aSemitone) {
			return false
		}
	}
	return true
}

// Sorted sorts notes, lowest first, and leaves of those that stand on one key the first.
func (p *Inspection) Sorted(notes []int) []int {
	slices.SortFunc(notes, func(a, b int) int {
		return cmp.Or(cmp.Compare(p.Score.Notes[a].Midi, p.Score.Notes[b].Midi), cmp.Compare(a, b))
	})
	return slices.CompactFunc(notes, func(a, b int) bool { return p.Score.Notes[a].Midi == p.Score.Notes[b].Midi })
}

// WithoutShared leaves out of what a stroke strikes and holds the keys that the other hand strikes with it: that hand
// sounds them.
func (p *Inspection) WithoutShared(st *playing.Stroke, keys []int) []int {
	other := p.Playing.OtherHand(st)
	if other == nil {
		return keys
	}
	return slices.DeleteFunc(slices.Clone(keys), func(n int) bool {
		return slices.ContainsFunc(other.Notes, func(m int) bool {
			return p.Score.Notes[m].Midi == p.Score.Notes[n].Midi && p.Given[n] == 0
		})
	})
}

// RolledWith says that a stroke is rolled, in any of its voices: the hand need not open to it at once.
func (p *Inspection) RolledWith(st *playing.Stroke) bool {
	strokes := p.Playing.Lines[st.Line].Strokes
	from, to := st.Index, st.Index
	for from > 0 && strokes[from-1].At == st.At {
		from--
	}
	for to+1 < len(strokes) && strokes[to+1].At == st.At {
		to++
	}
	for i := from; i <= to; i++ {
		if p.Playing.Rolls(strokes[i].Notes) || slices.ContainsFunc(strokes[i].Notes, p.heldRolled) {
			return true
		}
	}
	return false
}

// heldRolled says that a grace note is tied on to a note of a rolled chord: how the chord is played is written out.
func (p *Inspection) heldRolled(n int) bool {
	note := &p.Score.Notes[n]
	return note.Grace > 0 && note.TiedTo > n && p.Playing.Rolled(note.TiedTo)
}

// MayBeOthers says that a note that sounds at a stroke may be the other hand's: its voice is played by that hand in the same
// measure or in one beside it, and that hand can take it with what it plays there, digits kept.
func (p *Inspection) MayBeOthers(st *playing.Stroke, n int) bool {
	line, busy, near := p.other(st)
	if line == nil || !p.voiceOfHand(line.Hand, n) {
		return false
	}
	if len(busy) == 0 && !p.within(near, []int{n}) {
		return false
	}
	return p.Fits(line.Hand, p.Sorted(append([]int{n}, busy...)))
}

// voiceOfHand says that the voice of a note is played by a hand in the same measure or in one beside it.
func (p *Inspection) voiceOfHand(h score.Hand, n int) bool {
	note := &p.Score.Notes[n]
	first, last := n, n
	for first > 0 && p.Score.Notes[first-1].Measure >= note.Measure-1 && p.Score.Notes[first-1].Part == note.Part {
		first--
	}
	for last+1 < len(p.Score.Notes) && p.Score.Notes[last+1].Measure <= note.Measure+1 && p.Score.Notes[last+1].Part == note.Part {
		last++
	}
	for m := first; m <= last; m++ {
		x := &p.Score.Notes[m]
		if x.Voice == note.Voice && x.HomeStaff == note.HomeStaff && x.Kind == score.Pitched && p.Playing.Hand(m) == h {
			return true
		}
	}
	return false
}

// HandRests says that the other hand of the player strikes and holds nothing in the measure of a stroke, or for a half and
// more about it: where two voices stand on one staff it may have one of them.
func (p *Inspection) HandRests(st *playing.Stroke) bool {
	line, _, _ := p.other(st)
	if line == nil {
		return false
	}
	if p.silentAbout(line, st) {
		return true
	}
	measure := p.Score.Measures[p.Score.Notes[st.Notes[0]].Measure].Start
	for i := range line.Strokes {
		for _, n := range line.Strokes[i].Notes {
			if !measure.Less(p.HeldUntil(n)) {
				continue
			}
			return p.Score.Notes[n].Measure > p.Score.Notes[st.Notes[0]].Measure
		}
	}
	return true
}

// rest is how long, in quarters, a hand is silent when it may be in another voice meanwhile.
var rest = score.Whole(2)

// silentAbout says that a line neither strikes nor holds anything while a stroke sounds, for so long as a rest takes.
func (p *Inspection) silentAbout(line *playing.Line, st *playing.Stroke) bool {
	until := st.At
	for _, n := range st.Notes {
		until = score.Max(until, p.Score.At(n).Add(p.Score.Notes[n].Duration))
	}
	var from, to score.Fraction // silent from, to
	strikes := false
	for i := range line.Strokes {
		for _, n := range line.Strokes[i].Notes {
			switch {
			case p.Score.At(n).Cmp(st.At) <= 0:
				from = score.Max(from, p.HeldUntil(n))
			case !strikes:
				to, strikes = p.Score.At(n), true
			}
		}
		if strikes {
			break
		}
	}
	return from.Cmp(st.At) <= 0 && (!strikes || until.Cmp(to) <= 0 && rest.Cmp(to.Sub(from)) <= 0)
}

// TwoVoices says that two notes stand on one staff in two voices.
func (p *Inspection) TwoVoices(n, m int) bool {
	a, b := &p.Score.Notes[n], &p.Score.Notes[m]
	return a.Part == b.Part && a.HomeStaff == b.HomeStaff && a.Voice != b.Voice
}
