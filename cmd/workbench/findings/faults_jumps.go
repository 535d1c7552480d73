package findings

import (
	"slices"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// faultsOfJumps are faults of where a piece goes on, of lines between notes, and of signs and notes that stand at the
// wrong place; most are planted once in a score, since where there are many, that is how it is written.
var faultsOfJumps = []fault{
	{"jump-without-target", func(g *planter) {
		jumps := slices.ContainsFunc(g.base.Score.Items, func(i score.Item) bool {
			return i.Kind == score.ItemJump || i.Kind == score.ItemFermata && i.Note < 0
		})
		g.once("jump-without-target", func(int) bool { return !jumps }, func(n int) {
			g.direction(n, max(g.note(n).Staff, 1), words(pick(g.Rng, "D.C. al Fine", "D.S.", "D.C. al Coda")))
			g.wantIn("jump-without-target", n, nil)
		})
	}},
	{"barline-doubtful", func(g *planter) {
		g.once("barline-doubtful", func(n int) bool {
			m := g.note(n).Measure
			return m+1 < len(g.base.Score.Measures) && g.base.Score.Measures[m+1].Number != "1" &&
				!g.sectionAt(m) && !g.sectionAt(m+1)
		}, func(n int) {
			bar := etree.NewElement("barline")
			bar.CreateAttr("location", "right")
			bar.CreateElement("bar-style").SetText("light-heavy")
			g.at[n].Parent().AddChild(bar)
			g.wantIn("barline-doubtful", n, nil)
		})
	}},
	{"tempo-doubtful", func(g *planter) {
		last := len(g.base.Score.Measures) - 1
		g.once("tempo-doubtful", func(n int) bool {
			return g.note(n).Measure == last && g.note(n).Onset.Sign() > 0
		}, func(n int) {
			m := etree.NewElement("metronome")
			m.CreateElement("beat-unit").SetText("quarter")
			m.CreateElement("per-minute").SetText("7")
			g.direction(n, max(g.note(n).Staff, 1), m)
			g.wantIn("tempo-doubtful", n, nil)
		})
	}},
	{"line-without-end", func(g *planter) {
		g.once("line-without-end glissando", func(n int) bool { return g.note(n).Marks&score.Glissando == 0 }, func(n int) {
			s := alteration.NotationsOf(g.at[n]).CreateElement("slide")
			s.CreateAttr("type", "start")
			s.CreateAttr("number", "6")
			g.want("line-without-end", n)
		})
	}},
	{"syllables-do-not-join", func(g *planter) {
		if g.planted("syllables-do-not-join") {
			return
		}
		for n := range g.base.Score.Notes {
			if x := g.note(n); x.Kind != score.Rest || g.rest[x.Measure] || !g.base.PianoParts()[x.Part] || x.Hidden {
				continue
			}
			g.markPlanted("syllables-do-not-join")
			g.take(n)
			l := g.at[n].CreateElement("lyric")
			l.CreateElement("syllabic").SetText("single")
			l.CreateElement("text").SetText("ach")
			g.wantIn("syllables-do-not-join", n, nil)
			return
		}
	}},
	{"staff-doubtful", func(g *planter) {
		clefs := g.base.Clefs()
		g.once("staff-doubtful", func(n int) bool {
			x := g.note(n)
			upper, is := clefs.Middle(x.Part, 1, g.base.Score.At(n))
			lower, isToo := clefs.Middle(x.Part, 2, g.base.Score.At(n))
			place := lint.Place(x.Pitch)
			return is && isToo && x.Staff == 2 && x.HomeStaff == 2 && g.base.Score.Parts[x.Part].Staves == 2 &&
				upper-place >= 10 && place-lower <= 7 && lower-place <= 7 && !g.octaveLineAt(n) &&
				g.at[n].SelectElement("staff") != nil && g.base.Playing.Hand(n) == score.Left && g.untied(n)
		}, func(n int) {
			g.at[n].SelectElement("staff").SetText("1")
			g.want("staff-doubtful", n)
		})
	}},
	{"malformed-substitution", func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.note(n).TiedFrom < 0 }); ok {
			g.digits(n, pick(g.Rng, "3-", "2-", "5-"))
			g.want("malformed-substitution", n)
		}
	}},
	{"impossible-passing", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool {
			gap, by := g.base.Gap(n, m), g.base.Semitones(n, m)
			return g.oneVoice(n, m) && by > 0 && by <= 2 && gap > 0 && gap < 400_000 && g.untied(n, m) &&
				g.note(n).Marks&score.LetGo == 0 && !g.base.HeldUntil(n).Less(g.base.Score.At(m)) &&
				!hand.Black(g.note(n).Midi) && g.note(n).Grace+g.note(m).Grace == 0
		})
		if ok {
			g.outwardDigits(n, m, "3", "2")
			g.want("impossible-passing", m)
		}
	}},
}

// sectionAt says that something stands in a measure by which a part of a piece may begin or end there.
func (g *planter) sectionAt(m int) bool {
	kinds := []score.ItemKind{
		score.ItemKey, score.ItemMetre, score.ItemRehearsal, score.ItemTempo, score.ItemMetronome, score.ItemTitle,
		score.ItemCredit, score.ItemPageBreak, score.ItemWords, score.ItemJump, score.ItemFermata, score.ItemBarline,
		score.ItemRepeat, score.ItemEnding,
	}
	return slices.ContainsFunc(g.base.Score.Items, func(i score.Item) bool {
		return i.Measure == m && slices.Contains(kinds, i.Kind)
	})
}
