package redistribute

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// rest is a written rest.
type rest struct {
	voice   string
	at, end fingering.Moment
}

// loadRests lists the written rests of each hand: those of the staff on which most of its notes live.
func (f *finder) loadRests(player int) {
	f.rests = [2][]rest{}
	s := f.in.Score
	type staff struct{ part, number int }
	lives := map[staff][2]int{} // how many notes there each hand has
	for i := range s.Notes {
		n := &s.Notes[i]
		if !f.in.Playing.Plays(i) || f.in.Playing.Player(i) != player || n.Staff != n.HomeStaff {
			continue
		}
		c := lives[staff{n.Part, n.Staff}]
		if f.in.Playing.Hand(i) == score.Left {
			c[1]++
		} else {
			c[0]++
		}
		lives[staff{n.Part, n.Staff}] = c
	}
	for i := range s.Notes {
		n := &s.Notes[i]
		c, ok := lives[staff{n.Part, n.Staff}]
		if !ok || n.Kind != score.Rest || n.Hidden {
			continue
		}
		h := 0
		if c[1] > c[0] {
			h = 1
		}
		at := s.At(i)
		end := at.Add(n.Duration)
		f.rests[h] = append(f.rests[h], rest{
			n.Voice, fingering.Moment{Num: at.Num(), Den: at.Den()}, fingering.Moment{Num: end.Num(), Den: end.Den()},
		})
	}
	for h := range f.rests {
		slices.SortStableFunc(f.rests[h], func(a, b rest) int { return a.at.Compare(b.at) })
	}
}

// restsBeside says that a voice of a hand other than the one named has a written rest at a moment.
func (f *finder) restsBeside(h, m int, voice string) bool {
	at := f.moments[m].at
	for _, r := range f.rests[h] {
		if r.at.Compare(at) > 0 {
			return false
		}
		if r.voice != voice && r.end.Compare(at) > 0 {
			return true
		}
	}
	return false
}

// restedBefore says that a voice of a hand has a written rest right before a moment.
func (f *finder) restedBefore(h, m int, voice string) bool {
	at := f.moments[m].at
	for _, r := range f.rests[h] {
		if r.at.Compare(at) > 0 {
			return false
		}
		if r.voice == voice && r.end.Compare(at) == 0 {
			return true
		}
	}
	return false
}
