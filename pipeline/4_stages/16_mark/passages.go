package mark

import (
	"cmp"
	"maps"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// offeredInAMeasure is how many redistributions are offered in the notation of
// one measure: more signs than two at one place nobody reads. The others stand
// in the results and in the reports.
const offeredInAMeasure = 2

// thatStand leaves out of the notation what is offered beyond that, the best
// kept; what is decided always stands, and counts. The order stays.
func thatStand(s *score.Score, all []fingering.Redistribution) []fingering.Redistribution {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if all[a].Decided != all[b].Decided {
			if all[a].Decided {
				return -1
			}
			return 1
		}
		return cmp.Compare(all[b].Gain, all[a].Gain)
	})
	here, keep := map[int]int{}, make([]bool, len(all))
	for _, i := range order {
		first, last := ends(s, all[i].Notes)
		full := false
		for m := s.Notes[first].Measure; m <= s.Notes[last].Measure; m++ {
			full = full || here[m] >= offeredInAMeasure
		}
		if full && !all[i].Decided {
			continue
		}
		keep[i] = true
		for m := s.Notes[first].Measure; m <= s.Notes[last].Measure; m++ {
			here[m]++
		}
	}
	var out []fingering.Redistribution
	for i := range all {
		if keep[i] {
			out = append(out, all[i])
		}
	}
	return out
}

// passage is what one sign gives to a hand: a redistribution, or several that
// follow one another.
type passage struct {
	to          score.Hand
	decided     bool
	notes       []int
	fingers     []fingering.Finger
	around      map[int]fingering.Finger // what stays, and whose finger changes with it
	first, last int                      // in the order of playing
}

// passages joins redistributions to the same hand between which nothing is
// struck on their staff, so that a passage has one sign and not one a note.
func passages(s *score.Score, all []fingering.Redistribution) []passage {
	var out []passage
	for i := range all {
		r := &all[i]
		p := passage{to: r.To, decided: r.Decided, notes: slices.Clone(r.Notes), fingers: slices.Clone(r.Fingers), around: map[int]fingering.Finger{}}
		for k, n := range r.Around {
			p.around[n] = r.AroundFingers[k]
		}
		p.first, p.last = ends(s, r.Notes)
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b passage) int { return order(s, a.first, b.first) })
	for k := 1; k < len(out); {
		a, b := &out[k-1], &out[k]
		if a.to != b.to || a.decided != b.decided || !follows(s, a.last, b.first) {
			k++
			continue
		}
		a.notes, a.fingers = append(a.notes, b.notes...), append(a.fingers, b.fingers...)
		maps.Copy(a.around, b.around)
		if order(s, a.last, b.last) < 0 {
			a.last = b.last
		}
		out = slices.Delete(out, k, k+1)
	}
	return out
}

// follows says that two notes of a staff stand in one measure or in neighbours,
// and that nothing is struck on the staff between them.
func follows(s *score.Score, a, b int) bool {
	from, to := &s.Notes[a], &s.Notes[b]
	if from.Part != to.Part || from.Staff != to.Staff || to.Measure-from.Measure > 1 {
		return false
	}
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part == from.Part && n.Staff == from.Staff && n.Measure >= from.Measure && n.Measure <= to.Measure &&
			n.Struck() && !n.Cue && !n.Hidden && s.At(a).Less(s.At(i)) && s.At(i).Less(s.At(b)) {
			return false
		}
	}
	return true
}

// ends gives the first and the last of some notes: written order is not playing order.
func ends(s *score.Score, notes []int) (first, last int) {
	first, last = notes[0], notes[0]
	for _, n := range notes {
		if order(s, n, first) < 0 {
			first = n
		}
		if order(s, n, last) > 0 {
			last = n
		}
	}
	return first, last
}

func order(s *score.Score, a, b int) int {
	return cmp.Or(playing.InstantOf(s, a).Compare(playing.InstantOf(s, b)), a-b)
}

// twin says that the key of the k-th note is struck by another voice of the passage that stands before it: one digit says it.
func (p *passage) twin(s *score.Score, k int) bool {
	return slices.ContainsFunc(p.notes[:k], func(o int) bool {
		a, b := &s.Notes[o], &s.Notes[p.notes[k]]
		return a.Midi == b.Midi && a.Part == b.Part && a.TiedFrom < 0 && playing.InstantOf(s, o) == playing.InstantOf(s, p.notes[k])
	})
}

// makingRoom gives the notes whose printed digits are of fingers that the passage needs for the keys that it brings to their hand, and
// that change with it: else two keys of a hand would have one finger (seen in a nocturne: 1 and (1) in one chord).
func (p *passage) makingRoom(in Fingered) (out []int) {
	for n := range p.around {
		if in.Playing.Hand(n) != p.to || !showsDigit(in, n) || p.around[n] == fingering.Finger(in.Finger[n]) {
			continue
		}
		for k, o := range p.notes {
			if int(p.fingers[k]) == in.Finger[n] && in.Score.Notes[o].TiedFrom < 0 && in.Score.Notes[o].Midi != in.Score.Notes[n].Midi &&
				playing.InstantOf(in.Score, o) == playing.InstantOf(in.Score, n) {
				out = append(out, n)
				break
			}
		}
	}
	slices.Sort(out)
	return out
}
