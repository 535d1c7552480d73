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
	latest  fingering.Moment // at which this one or one before it in the list ends
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
			voice: n.Voice, at: fingering.Moment{Num: at.Num(), Den: at.Den()}, end: fingering.Moment{Num: end.Num(), Den: end.Den()},
		})
	}
	for h := range f.rests {
		slices.SortStableFunc(f.rests[h], func(a, b rest) int { return a.at.Compare(b.at) })
		for k := range f.rests[h] {
			r := &f.rests[h][k]
			if r.latest = r.end; k > 0 && f.rests[h][k-1].latest.Compare(r.end) > 0 {
				r.latest = f.rests[h][k-1].latest
			}
		}
	}
}

// restsUpTo visits the rests of a hand that begin at a moment at the latest and end then or later, the last one first,
// while visit is false; it says whether visit was true.
func (f *finder) restsUpTo(h int, at fingering.Moment, visit func(r *rest) bool) bool {
	all := f.rests[h]
	k, _ := slices.BinarySearchFunc(all, at, func(r rest, at fingering.Moment) int {
		if r.at.Compare(at) > 0 {
			return 1
		}
		return -1
	})
	for k--; k >= 0 && all[k].latest.Compare(at) >= 0; k-- {
		if visit(&all[k]) {
			return true
		}
	}
	return false
}

// restsBeside says that a voice of a hand other than the one named has a written rest at a moment.
func (f *finder) restsBeside(h, m int, voice string) bool {
	at := f.moments[m].at
	return f.restsUpTo(h, at, func(r *rest) bool { return r.voice != voice && r.end.Compare(at) > 0 })
}

// restedBefore says that a voice of a hand has a written rest right before a moment.
func (f *finder) restedBefore(h, m int, voice string) bool {
	at := f.moments[m].at
	return f.restsUpTo(h, at, func(r *rest) bool { return r.voice == voice && r.end.Compare(at) == 0 })
}
