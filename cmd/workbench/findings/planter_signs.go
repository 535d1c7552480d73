package findings

import (
	"strconv"

	"fingerproof/corpus/score"
)

// once plants a fault at one single note of a score; name tells the fault from others of its rule.
func (g *planter) once(name string, suits func(n int) bool, plant func(n int)) {
	if g.planted(name) {
		return
	}
	if n, ok := g.single(suits); ok {
		g.markPlanted(name)
		plant(n)
	}
}

// markPlanted remembers that a fault was planted that has a name of its own.
func (g *planter) markPlanted(name string) {
	g.named[name] = true
}

// octaveLineAt says that an octave line stands in the measure of a note.
func (g *planter) octaveLineAt(n int) bool {
	for k := range g.base.Score.Directions {
		d := &g.base.Score.Directions[k]
		if d.Kind == score.OctaveShift && d.Part == g.note(n).Part {
			return true
		}
	}
	return false
}

// tiedChord picks a chord of three keys or more on one stem that is tied as a whole to the next one of its voice.
func (g *planter) tiedChord() ([]int, bool) {
	return g.chord(3, 5, func(c []int) bool {
		if !g.oneElement(c) {
			return false
		}
		for _, n := range c {
			to := g.note(n).TiedTo
			if to < 0 || g.rest[g.note(to).Measure] || g.note(n).Duration != g.note(c[0]).Duration ||
				g.note(to).Voice != g.note(n).Voice || g.note(to).Duration != g.note(g.note(c[0]).TiedTo).Duration {
				return false
			}
		}
		return len(g.base.Playing.Together(g.note(c[0]).TiedTo)) == 0 || g.sameCount(c)
	})
}

// sameCount says that the chord to which one is tied has no other notes of its voice.
func (g *planter) sameCount(c []int) bool {
	to := g.note(c[0]).TiedTo
	count := 0
	for m := range g.base.Score.Notes {
		x := g.note(m)
		if x.Part == g.note(to).Part && x.Voice == g.note(to).Voice && x.Measure == g.note(to).Measure &&
			x.Onset == g.note(to).Onset && x.Grace == 0 && x.Kind == score.Pitched {
			count++
		}
	}
	return count == len(c)
}

// oneElement says that the notes of a chord are all that its stem has.
func (g *planter) oneElement(c []int) bool {
	count := 0
	for m := range g.base.Score.Notes {
		x, y := g.note(m), g.note(c[0])
		if x.Part == y.Part && x.Voice == y.Voice && x.Measure == y.Measure && x.Onset == y.Onset && x.Kind == score.Pitched {
			count++
		}
	}
	return count == len(c)
}

// untie takes one end of a tie from a note.
func (g *planter) untie(n int, end string) {
	e := g.at[n]
	for _, t := range e.SelectElements("tie") {
		if t.SelectAttrValue("type", "") == end {
			e.RemoveChild(t)
		}
	}
	for _, t := range e.FindElements("notations/tied") {
		if t.SelectAttrValue("type", "") == end {
			t.Parent().RemoveChild(t)
		}
	}
}

// leftStrikesWith says that the left hand strikes a key of the lower staff together with a note.
func (g *planter) leftStrikesWith(n int) bool {
	s := g.base.Score
	for m := range s.Notes {
		x := g.note(m)
		if x.Part == g.note(n).Part && x.Staff == 2 && x.HomeStaff == 2 && x.Measure == g.note(n).Measure && x.Onset == g.note(n).Onset &&
			x.Struck() && x.Grace == 0 && g.base.Playing.Hand(m) == score.Left && !g.base.Playing.Rolled(m) {
			return true
		}
	}
	return false
}

// other is another key signature than one.
func other(fifths int) int {
	if fifths > 0 {
		return fifths - 2
	}
	return fifths + 2
}

func number(n int) string { return strconv.Itoa(n) }

// evenLine says that seven notes of one voice are equally long and go by steps in the middle, within an octave.
func (g *planter) evenLine(f []int) bool {
	low, high := 128, 0
	for i, n := range f {
		x := g.note(n)
		low, high = min(low, x.Midi), max(high, x.Midi)
		if i > 0 && !g.oneVoice(f[i-1], n) || x.Duration != g.note(f[0]).Duration {
			return false
		}
	}
	a, b, c := g.note(f[2]).Midi, g.note(f[3]).Midi, g.note(f[4]).Midi
	up, down := a < b && b < c, a > b && b > c
	return high-low <= 12 && b+12 > high && (up || down) && max(a-b, b-a) <= 2 && max(b-c, c-b) <= 2 &&
		g.note(f[3]).Duration.Cmp(score.Frac(1, 2)) <= 0
}

// stemsOfTwo says that two notes, the lower first, are of two voices of a staff with their stems apart, and can be
// turned: neither stands under a beam, and they last differently.
func (g *planter) stemsOfTwo(n, m int) bool {
	x, y := g.note(n), g.note(m)
	return x.Part == y.Part && x.Staff == y.Staff && x.Voice != y.Voice && x.Onset == y.Onset && x.Midi < y.Midi &&
		y.Midi-x.Midi <= 12 && x.Stem == "down" && y.Stem == "up" && x.Duration != y.Duration && y.Beams == 0 &&
		g.oneElement([]int{n}) && g.oneElement([]int{m}) && g.twoOnStaff(n)
}

// twoOnStaff says that two notes begin with one on its staff, itself included.
func (g *planter) twoOnStaff(n int) bool {
	count := 0
	for m := range g.base.Score.Notes {
		x, y := g.note(m), g.note(n)
		if x.Part == y.Part && x.Staff == y.Staff && x.Measure == y.Measure && x.Onset == y.Onset && x.Kind == score.Pitched {
			count++
		}
	}
	return count == 2
}

// stemsApart counts the strokes of two keys whose stems point apart.
func (g *planter) stemsApart() (count int) {
	for _, s := range g.strokes {
		if a := s[0]; len(a) == 2 && g.note(a[0]).Stem == "down" && g.note(a[1]).Stem == "up" && g.note(a[0]).Voice != g.note(a[1]).Voice {
			count++
		}
	}
	return count
}
