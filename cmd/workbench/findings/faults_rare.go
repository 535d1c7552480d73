package findings

import (
	"strconv"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
)

// faultsOfRarePlaces need places that few scores have: they come first.
var faultsOfRarePlaces = []fault{
	{"hands-collide", func(g *planter) {
		s := g.base.Score
		// A key that the right hand has just struck, and holds for some time to come, is struck by the left hand.
		m := -1
		n, ok := g.single(func(n int) bool {
			if g.base.Playing.Hand(n) != score.Left || !g.untied(n) || g.base.PedalDown(s.Notes[n].Part, s.At(n)) {
				return false
			}
			m = g.heldByRight(n)
			return m >= 0
		})
		if ok {
			g.digits(n)
			p := s.Notes[m].Pitch
			alteration.SetPitch(g.at[n], string(p.Step), int(p.Alter), int(p.Octave))
			g.wantIn("hands-collide", n, g.sameHands(n, m))
		}
	}},
	{"voice-lost", func(g *planter) {
		s := g.base.Score
		// A key held under a later stroke of another voice goes to where the hand cannot hold both.
		a, b, ok := g.pair(func(a, b []int) bool {
			if len(a) != 1 || len(b) != 1 || s.Notes[a[0]].Voice == s.Notes[b[0]].Voice || !g.untied(a[0], b[0]) {
				return false
			}
			x, y := g.note(a[0]), g.note(b[0])
			end := s.At(a[0]).Add(x.Duration)
			held := !end.Less(s.At(b[0]).Add(y.Duration))
			dry := !g.base.PedalDown(x.Part, s.At(a[0])) && !g.base.PedalDown(x.Part, s.At(b[0]))
			return held && dry && max(y.Midi-x.Midi, x.Midi-y.Midi) >= 5 && y.Marks == 0 && g.stepsUnder(a[0]) &&
				g.base.Ends[a[0]]-g.base.Micros[a[0]] > 450_000
		})
		if !ok {
			return
		}
		n, m := a[0], b[0]
		by := 1
		if s.Notes[n].Midi < s.Notes[m].Midi {
			by = -1
		}
		setOctave(g.at[n], by)
		g.digits(n)
		g.wantIn("voice-lost", n, g.sameHands(n, m))
	}},
	{"sequence-broken", func(g *planter) {
		for range 100 {
			l := g.line()
			if len(l) < 8 {
				continue
			}
			for i, tries := g.Rng.IntN(len(l)-6), 0; i+5 < len(l) && tries < 200; i, tries = i+1, tries+1 {
				var f []int
				for _, s := range l[i : i+6] {
					if len(s) != 1 || !g.free(s[0]) || !g.untied(s[0]) || g.note(s[0]).Grace > 0 {
						break
					}
					f = append(f, s[0])
				}
				if len(f) != 6 || !g.likeFigures(f) {
					continue
				}
				keys, ok := stepped(g.note(f[0]).Midi, g.note(f[1]).Midi, g.note(f[2]).Midi)
				if !ok || !g.take(f...) {
					continue
				}
				var digits []int
				for k := range 3 {
					digits = append(digits, g.base.Finger[f[k]])
				}
				for k, n := range f { // one fingering for both, and one digit of the second a slip
					g.digits(n, strconv.Itoa(digits[k%3]))
					if k >= 3 {
						alteration.SetPitch(g.at[n], whiteKeys[keys[k-3]%12], 0, keys[k-3]/12-1)
					}
				}
				g.digits(f[4], strconv.Itoa(digits[1]%4+1))
				g.want("sequence-broken", f[4])
				g.truths[len(g.truths)-1].still = g.sameHands(f...)
				return
			}
		}
	}},
}

// whiteKeys are the letters of white keys, by semitones above C.
var whiteKeys = map[int]string{0: "C", 2: "D", 4: "E", 5: "F", 7: "G", 9: "A", 11: "B"}

// likeFigures says that six notes are three white keys that turn, and three of the same lengths, each voice going on in
// one staff.
func (g *planter) likeFigures(f []int) bool {
	for i := range 3 {
		a, b := g.note(f[i]), g.note(f[i+3])
		if g.base.Black(f[i]) || a.Duration != b.Duration || a.Voice != b.Voice || a.Staff != b.Staff {
			return false
		}
	}
	s := g.base.Score // figures of a sequence begin at like places of a beat
	apart, beat := s.At(f[3]).Sub(s.At(f[0])), s.Measures[g.note(f[0]).Measure].BeatUnit
	if beat.Sign() == 0 || 2*apart.Num()*beat.Den()%(beat.Num()*apart.Den()) != 0 {
		return false
	}
	// … and where the metre does, counted in their own length: readers of findings took six notes that only happen to lie
	// alike across it for no sequence, so a digit changed there is no fault.
	if onset := g.note(f[0]).Onset; apart.Sign() <= 0 || onset.Num()*apart.Den()%(onset.Den()*apart.Num()) != 0 {
		return false
	}
	return turns(g.note(f[0]).Midi, g.note(f[1]).Midi, g.note(f[2]).Midi) && turns(g.note(f[1]).Midi, g.note(f[2]).Midi,
		g.note(f[0]).Midi+7)
}

// stepped moves three white keys by a step or more, so that they are white again and keep their shape.
func stepped(keys ...int) (out []int, ok bool) {
	for _, by := range []int{2, 5, 7, -5, -7, -2, 12} {
		out = out[:0]
		for _, k := range keys {
			if whiteKeys[(k+by)%12] != "" {
				out = append(out, k+by)
			}
		}
		if len(out) == len(keys) {
			return out, true
		}
	}
	return nil, false
}
