// Package handscollide checks that hands and players keep clear of each other.
package handscollide

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: two hands or two players want one key.
var Rule = &lint.Rule{
	Name:  "hands-collide",
	Title: "two hands or two players want one key",
	Checks: "Keys that one hand strikes while the other hand, or another player at the same instrument, strikes or " +
		"holds them.",
	Why: "One of the two cannot sound as written. Mostly one hand has to leave the key early, and the page should " +
		"say which.",
	Before:   "right hand holds C4, left hand strikes C4",
	After:    "the held C4 shortened, or one note for both hands",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	type stroke struct {
		n     int
		until score.Fraction
	}
	last := map[int]stroke{} // the latest stroke on each key
	for _, n := range struck(p) {
		note := &p.Score.Notes[n]
		at := p.Score.At(n)
		until := p.HeldUntil(n)
		before, held := last[note.Midi]
		if held && at.Less(before.until) && sameInstrument(p, before.n, n) &&
			(p.Playing.Player(before.n) != p.Playing.Player(n) || p.Playing.Hand(before.n) != p.Playing.Hand(n)) {
			report(p, n, before.n, p.Score.At(before.n) == at)
		}
		if !held || before.until.Less(until) || p.Playing.Hand(before.n) == p.Playing.Hand(n) {
			last[note.Midi] = stroke{n, until}
		}
	}
}

// struck lists what all hands strike in the order of playing, at one instant in the order of the document; grace notes
// left out.
func struck(p *lint.Inspection) (out []int) {
	for i := range p.Playing.Instants {
		at := &p.Playing.Instants[i]
		if at.Rank.IsGrace() {
			continue
		}
		from := len(out)
		for _, st := range at.Strokes {
			out = append(out, st.Notes...)
		}
		slices.Sort(out[from:])
	}
	return out
}

// sameInstrument says that two notes are played on one keyboard: one part, or
// parts that stand under one brace.
func sameInstrument(p *lint.Inspection, a, b int) bool {
	m, n := p.Score.Notes[a].Part, p.Score.Notes[b].Part
	return m == n || p.Score.Parts[m].Group > 0 && p.Score.Parts[m].Group == p.Score.Parts[n].Group
}

func report(p *lint.Inspection, n, before int, atOnce bool) {
	who := "the other hand"
	if p.Playing.Player(n) != p.Playing.Player(before) {
		who = "the other player"
	}
	does := "holds"
	if atOnce {
		does = "strikes"
	}
	p.Report(lint.Finding{
		Notes:   []int{n, before},
		Message: fmt.Sprintf("%s is struck while %s %s it", p.Score.Notes[n].Pitch, who, does),
		Fix:     "say which hand leaves the key, or give both notes to one",
	})
}
