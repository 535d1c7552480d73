package hands

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	inference "fingerproof/rules/hands"
)

// Spans in semitones: a twelfth, which one hand does not strike at once, and a
// tenth, which it does.
const (
	tooWideForOne = 19
	withinOne     = 16
)

// byPosition divides between the hands what is written on one staff only to save ledger lines or a clef
// (DEVELOPERS.md, decision 3). A staff is overruled where one hand cannot strike what stands on it and the other is
// not told to be silent:
//
//   - where the other staff is left empty, without even a rest: as long as it is, both hands play from one staff,
//     and of two voices each has one;
//   - where the other hand plays at the same time: it takes whole voices that lie with its own, if both hands then
//     have a grip they can take. What hangs on one stem is one hand's: to take a part of it is a redistribution.
//
// A written rest keeps its hand silent: to take the note with it is a redistribution.
func byPosition(s *score.Score, h *playing.Hands, all map[int]*staves, said func(i int) bool) {
	for part := range s.Parts {
		staves := all[part]
		if staves == nil {
			continue
		}
		open := map[int]bool{}
		shared := staves.shared(s)
		for _, g := range shared {
			for _, i := range g.notes {
				open[i] = open[i] || !said(i)
			}
		}
		for _, i := range staves.empty() {
			open[i] = open[i] || !said(i)
		}
		if len(open) == 0 {
			continue
		}
		told := inferred(s, h, func(p int) bool { return p == part }, open)
		for _, g := range shared {
			if !g.divides(s, h, told) {
				for _, i := range g.notes { // as on the page
					if !g.empty {
						delete(told, i)
					}
				}
			}
		}
		for i, hand := range told { // any order: each note for itself
			for t := i; t >= 0; t = s.Notes[t].TiedTo {
				h.Hand[t] = hand
			}
		}
	}
}

// byWriting gives to the other hand what is written as its own where its staff is left empty.
func byWriting(s *score.Score, h *playing.Hands, all map[int]*staves, said func(i int) bool) {
	for part := range s.Parts {
		if staves := all[part]; staves != nil {
			handOver(s, h, part, said)
			voiceByVoice(s, h, staves, said)
		}
	}
}

// allStaves is what stands on the staves of each part of which each staff stands for a hand.
func allStaves(s *score.Score, h *playing.Hands, players map[int]player) map[int]*staves {
	out := map[int]*staves{}
	for _, part := range twoStaves(s, players) {
		out[part] = stavesOf(s, h, part)
	}
	return out
}

// twoStaves lists the parts of which each staff stands for a hand of one player.
func twoStaves(s *score.Score, players map[int]player) (out []int) {
	for part := range s.Parts {
		if p, plays := players[part]; plays && s.Parts[part].Staves == 2 && p.hand == score.NoHand && !p.four {
			out = append(out, part)
		}
	}
	return out
}

// staves is what stands on the two staves of a part.
type staves struct {
	struck [2][]grip // in the order of playing
	notes  [2]spans  // where printed notes stand or come from
	rests  [2]spans  // where printed rests stand
}

// grip is what is struck on one staff at once; grace notes and notes that live on the other staff aside. A chord that
// is rolled from its lowest key on has no width: the hand strikes it key by key. Where the roll leaves out the bass,
// bass and chord are begun together, and it is as wide as without the roll.
type grip struct {
	staff     int // 0 upper
	at        score.Fraction
	notes     []int
	low, high int
	rolled    bool // from its lowest key on
	empty     bool // the other staff is empty
}

// tooWide says that one hand does not strike it.
func (g *grip) tooWide() bool { return !g.rolled && g.high-g.low >= tooWideForOne }

// spans are stretches of time, in order of their begin, none within another.
type spans []struct{ from, to score.Fraction }

func (s spans) cover(at score.Fraction) bool {
	k, _ := slices.BinarySearchFunc(s, at, func(e struct{ from, to score.Fraction }, at score.Fraction) int {
		if at.Less(e.from) {
			return 1
		}
		return -1
	})
	return k > 0 && at.Less(s[k-1].to)
}

// joined sorts stretches and joins those that touch.
func (s spans) joined() (out spans) {
	slices.SortStableFunc(s, func(a, b struct{ from, to score.Fraction }) int { return a.from.Cmp(b.from) })
	for _, e := range s {
		if k := len(out) - 1; k >= 0 && !out[k].to.Less(e.from) {
			if out[k].to.Less(e.to) {
				out[k].to = e.to
			}
			continue
		}
		out = append(out, e)
	}
	return out
}

func stavesOf(s *score.Score, h *playing.Hands, part int) *staves {
	out := new(staves)
	for staff := range 2 {
		out.notes[staff], out.struck[staff] = make(spans, 0, len(s.Notes)/2), make([]grip, 0, len(s.Notes)/3)
	}
	grips := [2]map[score.Fraction]int{make(map[score.Fraction]int, len(s.Notes)/3), make(map[score.Fraction]int, len(s.Notes)/3)}
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part != part || n.Hidden || n.Staff < 1 || n.Staff > 2 || n.HomeStaff < 1 || n.HomeStaff > 2 {
			continue
		}
		at := s.At(i)
		to := at.Add(n.Duration)
		time := struct{ from, to score.Fraction }{at, to}
		if n.Kind == score.Rest {
			out.rests[n.Staff-1] = append(out.rests[n.Staff-1], time)
			continue
		}
		if at.Less(to) {
			out.notes[n.Staff-1] = append(out.notes[n.Staff-1], time)
			if n.HomeStaff != n.Staff {
				out.notes[n.HomeStaff-1] = append(out.notes[n.HomeStaff-1], time)
			}
		}
		if !h.Piano[i] || n.Grace > 0 || n.TiedFrom >= 0 || n.Staff != n.HomeStaff {
			continue
		}
		staff := n.Staff - 1
		k, ok := grips[staff][at]
		if !ok {
			k = len(out.struck[staff])
			grips[staff][at] = k
			out.struck[staff] = append(out.struck[staff], grip{staff: staff, at: at, low: 128, high: -1})
		}
		g := &out.struck[staff][k]
		g.notes = append(g.notes, i)
		if n.Midi < g.low {
			g.rolled = s.Rolling(i).Rolls()
		}
		g.low, g.high = min(g.low, n.Midi), max(g.high, n.Midi)
	}
	for staff := range 2 { // both, before either is asked
		out.notes[staff], out.rests[staff] = out.notes[staff].joined(), out.rests[staff].joined()
	}
	for staff := range 2 {
		slices.SortStableFunc(out.struck[staff], func(a, b grip) int { return a.at.Cmp(b.at) })
		for k := range out.struck[staff] {
			g := &out.struck[staff][k]
			g.empty = !out.notes[1-staff].cover(g.at) && !out.rests[1-staff].cover(g.at)
		}
	}
	return out
}

// empty lists the notes of the stretches in which the other staff is empty, where one hand cannot strike some grip
// of them.
func (t *staves) empty() (out []int) {
	for staff := range 2 {
		all := t.struck[staff]
		for from := 0; from < len(all); from++ {
			to, wide := from, false
			for ; to < len(all) && all[to].empty; to++ {
				wide = wide || all[to].tooWide()
			}
			for k := from; k < to && wide; k++ {
				out = append(out, all[k].notes...)
			}
			from = max(from, to)
		}
	}
	return out
}

// shared lists the grips that one hand cannot strike while the other hand plays, or could.
func (t *staves) shared(s *score.Score) (out []grip) {
	for staff := range 2 {
		for _, g := range t.struck[staff] {
			voice := s.Notes[g.notes[0]].Voice
			if !slices.ContainsFunc(g.notes, func(i int) bool { return s.Notes[i].Voice != voice }) {
				continue
			}
			if g.tooWide() && !g.empty && t.notes[1-staff].cover(g.at) {
				out = append(out, g)
			}
		}
	}
	return out
}

// divides says whether both hands have a grip they can take once the keys are divided as told, neither lying over
// the other, no stem divided.
func (g *grip) divides(s *score.Score, h *playing.Hands, told map[int]score.Hand) bool {
	voices := map[string]score.Hand{}
	for _, i := range g.notes {
		hand, ok := told[i]
		if !ok {
			hand = h.Hand[i]
		}
		if v, ok := voices[s.Notes[i].Voice]; ok && v != hand {
			return false
		}
		voices[s.Notes[i].Voice] = hand
	}
	low, high, count := [2]int{128, 128}, [2]int{-1, -1}, [2]int{}
	var has [2][]int
	first := &s.Notes[g.notes[0]]
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part != first.Part || !h.Piano[i] || n.Grace > 0 || s.At(i).Cmp(g.at) > 0 || n.Measure > first.Measure {
			continue
		}
		at := s.At(i)
		struck := at.Equal(g.at) && n.TiedFrom < 0
		if !struck && !g.at.Less(at.Add(n.Duration)) {
			continue
		}
		hand, ok := told[i]
		if !ok {
			hand = h.Hand[i]
		}
		k := 0
		if hand == score.Left {
			k = 1
		}
		low[k], high[k] = min(low[k], n.Midi), max(high[k], n.Midi)
		count[k]++
		has[k] = append(has[k], i)
	}
	for k := range 2 {
		if count[k] == 0 || count[k] > 5 || high[k]-low[k] > withinOne || !leaveRoom(s, has[k], k == 1) {
			return false
		}
	}
	return high[1] < low[0]
}

// inferred tells the hands of the open notes from the music alone, the others being known.
func inferred(s *score.Score, h *playing.Hands, of func(part int) bool, open map[int]bool) map[int]score.Hand {
	var notes []inference.Keystroke
	var ids []int
	for i := range s.Notes {
		n := &s.Notes[i]
		if !of(n.Part) || !h.Piano[i] || n.TiedFrom >= 0 {
			continue
		}
		at := s.At(i)
		end := at.Add(n.Duration)
		for t := n.TiedTo; t >= 0; t = s.Notes[t].TiedTo {
			end = s.At(t).Add(s.Notes[t].Duration)
		}
		known := h.Hand[i]
		if open[i] {
			known = score.NoHand
		}
		notes = append(notes, inference.Keystroke{
			Key: n.Midi, Onset: fingering.Moment{Num: at.Num(), Den: at.Den()},
			End: fingering.Moment{Num: end.Num(), Den: end.Den()}, Rank: playing.RankOf(s, i), Hand: known,
		})
		ids = append(ids, i)
	}
	out := map[int]score.Hand{}
	for k, hand := range inference.Infer(notes) {
		if open[ids[k]] {
			out[ids[k]] = hand
		}
	}
	return out
}
