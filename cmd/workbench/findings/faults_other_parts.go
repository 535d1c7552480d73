package findings

import "fingerproof/cmd/workbench/alteration"

// faultsOfOtherParts are what strays between the piano and the parts of others: digits at what is sung, signs of strings at the
// piano. Each is planted once in a score.
var faultsOfOtherParts = []fault{
	{"digit-on-sung-note", func(g *planter) {
		if g.planted("digit-on-sung-note") {
			return
		}
		sung := g.sung()
		for range min(len(sung), 50) {
			if n := sung[g.Rng.IntN(len(sung))]; g.free(n) && g.take(n) {
				g.digits(n, "3")
				g.want("digit-on-sung-note", n)
				return
			}
		}
	}},
	{"sign-of-other-instrument", func(g *planter) {
		g.once("sign-of-other-instrument", func(int) bool { return true }, func(n int) {
			if i := g.Rng.IntN(4); i < 2 {
				alteration.TechnicalOf(g.at[n]).CreateElement([]string{"down-bow", "up-bow"}[i])
			} else {
				g.direction(n, max(g.note(n).Staff, 1), words([]string{"div.", "arco"}[i-2]))
			}
			g.wantIn("sign-of-other-instrument", n, nil)
		})
	}},
}

// sung lists the notes of parts that have syllables and that no keyboard plays.
func (g *planter) sung() (out []int) {
	for n := range g.base.Score.Notes {
		if x := g.note(n); x.Struck() && !x.Hidden && !x.Cue && !g.base.PianoParts()[x.Part] && g.at[n].SelectElement("lyric") != nil {
			out = append(out, n)
		}
	}
	return out
}
