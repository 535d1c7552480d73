package handscollide

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"
)

// leaps says that a hand leaps with a single note towards the other (by 1: up) and back at once, an octave or so from where
// its line goes.
func leaps(p *lint.Inspection, n, by int) bool {
	before, after := p.Alone(n, -1), p.Alone(n, 1)
	if before < 0 || after < 0 || len(p.Playing.Stroke(n).Notes) > 1 {
		return false
	}
	key := func(m int) int { return p.Score.Notes[m].Midi * by }
	return key(n)-key(before) >= leap && key(n)-key(after) >= leap && p.Semitones(before, after) <= octave &&
		max(key(n)-octave-key(before), key(before)-key(n)+octave) <= near && max(key(n)-octave-key(after), key(after)-key(n)+octave) <= near
}

// near is how far, in semitones, a note an octave nearer lies from the line at most.
const near = 4

// meant is from how many places of a piece on the hands meet because the music is made so.
const meant = 3

// strikeTogether reports where the two hands of a player strike one key together, or chords that lie into each other:
// what is rare in a piece is looked at, as an octave that slipped; and two digits on one key, which ask two fingers for
// it.
func strikeTogether(p *lint.Inspection) {
	var shared, mixed, beyond [][2]int // a note of the left hand, one of the right
	places := map[score.Fraction]bool{}
	for i := range p.Playing.Instants {
		at := &p.Playing.Instants[i]
		if at.Rank.IsGrace() {
			continue
		}
		for _, l := range at.Strokes {
			for _, r := range at.Strokes {
				if !opposite(p, l, r) {
					continue
				}
				found := false
				for _, n := range l.Notes {
					for _, m := range r.Notes {
						if p.Score.Notes[n].Midi == p.Score.Notes[m].Midi && !twoStems(p, n, m) {
							shared, found = append(shared, [2]int{n, m}), true
						}
					}
				}
				if n, m, is := lieMixed(p, l.Notes, r.Notes); is && !found {
					mixed, found = append(mixed, [2]int{n, m}), true
				}
				if n, m, is := liesBeyond(p, l, r); is && !found {
					beyond, found = append(beyond, [2]int{n, m}), true
				}
				places[at.At] = places[at.At] || found
			}
		}
	}
	rare := 0
	for _, found := range places {
		if found {
			rare++
		}
	}
	for _, x := range shared {
		digits := p.Digit(x[0]) > 0 && p.Digit(x[1]) > 0
		if rare < meant || digits || leaps(p, x[0], 1) || leaps(p, x[1], -1) {
			reportBoth(p, x, fmt.Sprintf("%s is struck by both hands at once", p.Score.Notes[x[0]].Pitch),
				"say which hand takes it, or check the octave")
		}
	}
	for _, x := range beyond {
		if rare < meant {
			reportBoth(p, x, fmt.Sprintf("%s of the left hand lies above %s of the right, for this one stroke",
				p.Score.Notes[x[0]].Pitch, p.Score.Notes[x[1]].Pitch), "check the octave, or say which hand lies above")
		}
	}
	for _, x := range mixed {
		if rare < meant {
			says := fmt.Sprintf("the hands strike chords that lie into each other: %s of the left hand lies above %s of the right",
				p.Score.Notes[x[0]].Pitch, p.Score.Notes[x[1]].Pitch)
			reportBoth(p, x, says, "share the keys out anew, say which hand lies above, or check the octave")
		}
	}
}

func reportBoth(p *lint.Inspection, notes [2]int, message, fix string) {
	p.Report(lint.Finding{Notes: notes[:], Message: message, Fix: fix, Together: fix})
}

// twoStems says that two notes on one key stand on one staff: one key with a stem for each of two voices, not one for each
// hand (common practice).
func twoStems(p *lint.Inspection, n, m int) bool {
	a, b := &p.Score.Notes[n], &p.Score.Notes[m]
	return a.Part == b.Part && a.Staff == b.Staff && !(p.Digit(n) > 0 && p.Digit(m) > 0)
}

// opposite says that two strokes are of the left and of the right hand of one player, and neither is rolled.
func opposite(p *lint.Inspection, l, r *playing.Stroke) bool {
	a, b := l.Notes[0], r.Notes[0]
	return p.Playing.Hand(a) == score.Left && p.Playing.Hand(b) == score.Right &&
		p.Playing.Player(a) == p.Playing.Player(b) && !p.Playing.Rolls(l.Notes) && !p.Playing.Rolls(r.Notes)
}

// lieMixed says that each of two chords, lowest key first, has a key between the outer keys of the other, and gives the highest of the left hand and the lowest of the right.
func lieMixed(p *lint.Inspection, left, right []int) (n, m int, is bool) {
	n, m = left[len(left)-1], right[0]
	return n, m, between(p, left, right) && between(p, right, left)
}

// liesBeyond says that one hand leaps with one key over the other hand's and back at once, where the key an octave nearer
// would lie on its own side: mostly a number was missed in the octave. It gives the key of the left hand and of the right.
func liesBeyond(p *lint.Inspection, l, r *playing.Stroke) (n, m int, is bool) {
	n, m = l.Notes[len(l.Notes)-1], r.Notes[0]
	s := p.Score
	left, right := s.Notes[n].Midi, s.Notes[m].Midi
	own := func(x int) bool { return s.Notes[x].Staff == s.Notes[x].HomeStaff && s.Notes[x].Marks&score.LetGo == 0 }
	if left <= right || left-right >= octave || !own(n) || !own(m) || s.Notes[n].Staff == s.Notes[m].Staff {
		return n, m, false
	}
	slip := func(st *playing.Stroke, key, by int) bool {
		strokes := p.Playing.Lines[st.Line].Strokes
		if len(st.Notes) != 1 || st.Index == 0 || st.Index+1 >= len(strokes) {
			return false
		}
		for _, i := range []int{st.Index - 1, st.Index + 1} {
			for _, x := range strokes[i].Notes {
				if d := (key - s.Notes[x].Midi) * by; d < leap { // the neighbours lie on the own side
					return false
				}
			}
		}
		return true
	}
	return n, m, slip(l, left, 1) || slip(r, right, -1)
}

// octave and leap are in semitones.
const (
	octave = 12
	leap   = 7
)

func between(p *lint.Inspection, keys, of []int) bool {
	low, high := p.Score.Notes[of[0]].Midi, p.Score.Notes[of[len(of)-1]].Midi
	for _, n := range keys {
		if midi := p.Score.Notes[n].Midi; low < midi && midi < high {
			return true
		}
	}
	return false
}
