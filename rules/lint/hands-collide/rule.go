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
	Checks: "Keys that one hand strikes while the other hand holds them, without a pedal and for some time to come; and " +
		"keys that two players at one instrument strike or hold at once. Keys that both hands of one player strike " +
		"together, and chords of which each has a key between keys of the other, where that is rare in the piece or " +
		"digits of both hands stand at the key: else the music is made of it.",
	Why: "The held key has to be let go for the stroke: its voice breaks off, and the page should say which hand " +
		"keeps it.",
	Before:   "right hand holds C4 for four beats, left hand strikes C4 on the third",
	After:    "the held C4 shortened, or one note for both hands",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	strikeTogether(p)
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
			if atOnce := p.Score.At(before.n) == at; hinders(p, n, before.n, at, before.until, atOnce) {
				report(p, n, before.n, atOnce)
			}
		}
		if !held || before.until.Less(until) || p.Playing.Hand(before.n) == p.Playing.Hand(n) {
			last[note.Midi] = stroke{n, until}
		}
	}
}

// A key that is held for less than this from where the other hand wants it is left to it and not missed.
const soon = 300_000 // microseconds

// hinders says that a player is in trouble: two players always are, who cannot see each other's part; one player where
// a key that is to sound on has to be struck again.
func hinders(p *lint.Inspection, n, before int, at, until score.Fraction, atOnce bool) bool {
	if p.Playing.Player(n) != p.Playing.Player(before) {
		return true
	}
	held, struck := &p.Score.Notes[before], &p.Score.Notes[n]
	const short = score.LetGo
	if atOnce || held.Marks&short != 0 || p.Playing.Rolled(before) || len(held.Ornaments)+len(struck.Ornaments) > 0 ||
		held.Tremolo.Strokes+struck.Tremolo.Strokes > 0 || p.PedalDown(held.Part, at) {
		return false
	}
	last := p.LastTied(before)
	return p.Ends[last]-p.Micros[n] >= soon && !until.Sub(at).Less(score.Frac(1, 2))
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
		Fix:     "say which hand leaves the key, or give both notes to one", Together: who + does,
	})
}
