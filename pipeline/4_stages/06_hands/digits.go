package hands

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// A digit says which finger, not which hand; but digits together may fit one hand only. From the thumb outwards the
// right hand climbs and the left hand goes down. So in a chord on one stem the digits of the right hand rise with the
// keys and those of the left hand fall; and where three single notes in a row go in one direction, each by a third at
// most, with neighbouring fingers, one hand has its fingers in that order and the other would have to pass a finger
// over its neighbour (FACTS §4.1 and FACTS §4.8).

// Evidence is what digits that stand in the text say of hands.
type Evidence struct {
	// Chord and Run give, by note, the hand that the digits fit, where they fit one alone: digits of one chord, and
	// of three or more single notes in a row. Notes without a digit on such a stem go with it.
	Chord, Run map[int]score.Hand
}

// Runs of digits: how many notes at least, and how far they lie apart at most, in semitones.
const (
	runOfDigits  = 3
	stepOfDigits = 4
)

// DigitsOf reads the evidence of digits. Old digits and alternatives say nothing, nor do two digits at one note.
func DigitsOf(s *score.Score) Evidence {
	out := Evidence{map[int]score.Hand{}, map[int]score.Hand{}}
	some := false
	for i := range s.Notes {
		some = some || len(s.Notes[i].Indications) > 0
	}
	if !some {
		return out
	}
	type voice struct {
		part, staff int
		voice       string
	}
	stems := map[voice]map[score.Fraction][]int{}
	var voices []voice
	for i := range s.Notes {
		n := &s.Notes[i]
		if !n.Struck() || n.Cue || n.Hidden || n.Grace > 0 {
			continue
		}
		v := voice{n.Part, n.Staff, n.Voice}
		if stems[v] == nil {
			stems[v] = map[score.Fraction][]int{}
			voices = append(voices, v)
		}
		stems[v][s.At(i)] = append(stems[v][s.At(i)], i)
	}
	for _, v := range voices {
		var at []score.Fraction
		for t := range stems[v] {
			at = append(at, t)
		}
		slices.SortFunc(at, score.Fraction.Cmp)
		var run []int
		for _, t := range at {
			stem := stems[v][t]
			if h := chordHand(s, stem); h != score.NoHand {
				for _, i := range stem {
					out.Chord[i] = h
				}
			}
			if len(stem) > 1 {
				run = nil
				continue
			}
			if run = goOn(s, run, stem[0]); len(run) >= runOfDigits {
				for _, i := range run {
					if was, ok := out.Run[i]; ok && was != runHand(s, run) {
						out.Run[i] = score.NoHand // two runs that meet in it speak against each other
						continue
					}
					out.Run[i] = runHand(s, run)
				}
			}
		}
	}
	return out
}

// digitOf is the one finger that stands at a note, 0 where there is none or more than one.
func digitOf(n *score.Note) (finger int) {
	for k := range n.Indications {
		d := &n.Indications[k]
		if d.Hidden {
			continue
		}
		if finger != 0 || d.Old || d.Alternate || d.Substitution || d.Several || d.Finger() == 0 {
			return 0
		}
		finger = d.Finger()
	}
	return finger
}

// chordHand is the hand that the digits of a stem fit: by their order, or by the fingers that they leave for the other
// keys.
func chordHand(s *score.Score, stem []int) score.Hand {
	order := slices.Clone(stem)
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(s.Notes[a].Midi, s.Notes[b].Midi) })
	last, rises, falls := 0, 0, 0
	for _, i := range order {
		switch d := digitOf(&s.Notes[i]); {
		case d == 0:
			continue
		case last == 0:
			last = d
		case d > last:
			rises, last = rises+1, d
		case d < last:
			falls, last = falls+1, d
		default:
			return score.NoHand // one finger on two keys
		}
	}
	switch right, left := leaveRoom(s, stem, false), leaveRoom(s, stem, true); {
	case right && !left:
		return score.Right
	case left && !right:
		return score.Left
	}
	return handOf(rises, falls)
}

func handOf(rises, falls int) score.Hand {
	switch {
	case rises > 0 && falls == 0:
		return score.Right
	case falls > 0 && rises == 0:
		return score.Left
	}
	return score.NoHand
}

// goOn adds a note to a run of digits, or begins another run with it.
func goOn(s *score.Score, run []int, i int) []int {
	d := digitOf(&s.Notes[i])
	if d == 0 {
		return nil
	}
	if len(run) == 0 {
		return []int{i}
	}
	step := func(a, b int) (keys, fingers int) {
		return s.Notes[b].Midi - s.Notes[a].Midi, digitOf(&s.Notes[b]) - digitOf(&s.Notes[a])
	}
	last := run[len(run)-1]
	keys, fingers := step(last, i)
	joined := s.At(last).Add(s.Notes[last].Duration).Cmp(s.At(i)) >= 0
	if joined && len(run) >= runOfDigits && shifts(s, run, i) {
		return append(slices.Clone(run), i)
	}
	if !joined || keys == 0 || max(keys, -keys) > stepOfDigits || max(fingers, -fingers) != 1 {
		return []int{i}
	}
	if len(run) > 1 {
		k, f := step(run[0], run[1])
		if (k > 0) != (keys > 0) || f != fingers {
			return []int{last, i}
		}
	}
	return append(slices.Clone(run), i)
}

// shifts says that a run goes on with a note by a shift of its hand: the thumb passes under the third or fourth finger, or one of
// these over the thumb, and the keys go on in the same direction, by a fifth at most (FACTS §4.1 and FACTS §4.2). The fingers of one hand do so
// only in the direction in which the run has them.
func shifts(s *score.Score, run []int, i int) bool {
	const widest = 7
	last := run[len(run)-1]
	keys, before := s.Notes[i].Midi-s.Notes[last].Midi, s.Notes[run[1]].Midi-s.Notes[run[0]].Midi
	from, to := digitOf(&s.Notes[last]), digitOf(&s.Notes[i])
	if digitOf(&s.Notes[run[1]]) < digitOf(&s.Notes[run[0]]) { // towards the thumb
		from, to = to, from
	}
	return (keys > 0) == (before > 0) && keys != 0 && max(keys, -keys) <= widest && (from == 3 || from == 4) && to == 1
}

// runHand is the hand whose fingers go along with the keys of a run.
func runHand(s *score.Score, run []int) score.Hand {
	a, b := &s.Notes[run[0]], &s.Notes[run[1]]
	if (b.Midi > a.Midi) == (digitOf(b) > digitOf(a)) {
		return score.Right
	}
	return score.Left
}

// leaveRoom says that the digits of keys that a hand has together leave a finger for each of the others: below a key
// that the right hand takes with the second finger there is the thumb and no more.
func leaveRoom(s *score.Score, notes []int, left bool) bool {
	for _, i := range notes {
		d := 0
		for k := range s.Notes[i].Indications {
			if in := &s.Notes[i].Indications[k]; d == 0 && !in.Hidden && !in.Old && len(in.Fingers) > 0 {
				d = in.Fingers[0]
			}
		}
		below, above := 0, 0
		for _, o := range notes {
			switch key := s.Notes[o].Midi; {
			case key < s.Notes[i].Midi:
				below++
			case key > s.Notes[i].Midi:
				above++
			}
		}
		if left {
			below, above = above, below
		}
		if d > 0 && (below > d-1 || above > 5-d) {
			return false
		}
	}
	return true
}
