package gripoutofreach

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/rules/fingering"
	"fingerproof/rules/lint"
)

const (
	fixStruck = "roll it, or give a note to the other hand"
	fixHelp   = "give %s to the %s and say so with a sign, or roll it"
	fixHeld   = "leave the held key to the pedal, or give a note to the other hand"
	fixHelps  = "give what is too much to the other hand and say so with a sign, or roll it"
)

// grip is a finding about one grip, with its keys and fingers in short.
type grip struct {
	lint.Finding
	short  string
	remedy string // one for all grips that are put right in one way
}

// many is from how many grips of one hand and one remedy on they are told together.
const (
	many      = 5
	manyNotes = 3 // of those that are notes
)

// reportAll reports the grips of a piece: many of one hand and one remedy as one finding.
func reportAll(p *lint.Inspection, found []grip) {
	type kind struct {
		hand     score.Hand
		severity lint.Severity
		remedy   string
	}
	of := func(g *grip) kind { return kind{p.Playing.Hand(g.Notes[0]), g.Severity, g.remedy} }
	said := map[kind]map[string]bool{}
	for i := range found {
		k := of(&found[i])
		if said[k] == nil {
			said[k] = map[string]bool{}
		}
		said[k][found[i].Together] = true
	}
	for i := range found {
		g := &found[i]
		if k := of(g); len(said[k]) >= many || g.Severity == lint.Note && len(said[k]) >= manyNotes {
			g.Together, g.Fix, g.There = k.hand.String()+k.remedy, k.remedy, g.short
		}
		p.Report(g.Finding)
	}
}

// report names what is too much for the hand at a note, among the keys that sound there: more keys than fingers by
// their names, else the two that lie too far apart. Where what is struck lies in the hand, and only a held key is too
// much, or the other hand can help, it is a note.
func report(p *lint.Inspection, n int, keys []int, help *lint.Help, found *[]grip) {
	f := lint.Finding{Notes: []int{n}, Fix: fixStruck}
	var beside, short string
	if f.Together, beside, short = message(p, n, keys); f.Together == "" {
		return
	}
	f.Message = f.Together + beside
	var struck []int
	for _, m := range keys {
		if !held(p, n, m) {
			struck = append(struck, m)
		}
	}
	if len(struck) < len(keys) {
		f.Fix = fixHeld
		if g, fits := p.BestGrip(p.Playing.Hand(n), struck); fits && g.Excess <= 0 {
			if p.PedalDown(p.Score.Notes[n].Part, p.Score.At(n)) {
				return // it keeps what is held
			}
			if f.Severity = lint.Note; amended(p, keys) && bound(p, keys) {
				f.Severity = lint.Warning // an editor's own digit asks for what cannot be
			}
		}
	}
	if help != nil {
		f.Severity = lint.Note
		f.Fix = fmt.Sprintf(fixHelp, list(help.Keys, func(m int) string { return p.Score.Notes[m].Pitch.String() }), help.Hand.Words())
	}
	f.Together += f.Fix // what comes again has one remedy
	remedy := f.Fix
	if help != nil {
		remedy = fixHelps
	}
	*found = append(*found, grip{f, short, remedy})
}

// amended says that an editor gave one of the keys another digit than was suggested.
func amended(p *lint.Inspection, keys []int) bool {
	return slices.ContainsFunc(keys, func(m int) bool { return p.DecidedFinger(m) > 0 && !(m < len(p.Taken) && p.Taken[m]) })
}

// bound says that digits of the text ask for two of the keys: they ask for what cannot be.
func bound(p *lint.Inspection, keys []int) bool {
	count := 0
	for _, m := range keys {
		if p.Given[m] > 0 {
			count++
		}
	}
	return count > 1
}

// held says that a key sounds on from before another is struck, by a tie or because it is longer.
func held(p *lint.Inspection, n, m int) bool {
	return p.Score.At(m) != p.Score.At(n) || p.Score.Notes[m].TiedFrom >= 0
}

// message says which keys are too much, what sounds beside them, and both in short; "" where the keys alone say nothing of it.
func message(p *lint.Inspection, n int, keys []int) (text, beside, short string) {
	named := func(m int) string {
		text := p.Score.Notes[m].Pitch.String()
		if held(p, n, m) {
			text += " (held)"
		}
		return text
	}
	if len(keys) > fingering.Fingers {
		return fmt.Sprintf("%d keys at once for five fingers: %s", len(keys), list(keys, named)), "", list(keys, named)
	}
	g, laid := p.BestGrip(p.Playing.Hand(n), keys)
	if !laid {
		with := list(keys, func(m int) string {
			if f := p.Given[m]; f > 0 {
				return fmt.Sprintf("%s with %d", named(m), f)
			}
			return named(m)
		})
		return fmt.Sprintf("%s: the %s cannot take them with these digits", with, p.HandName), "", with
	}
	if g.Excess <= 0 {
		g = workedOut(p, keys)
	}
	if outer := outermost(p, keys); outer.Excess > 0 {
		g = outer
	}
	if a, b := min(g.LowFinger, g.HighFinger), max(g.LowFinger, g.HighFinger); g.Excess <= 0 ||
		a > 1 && 100*g.Excess < nearly*p.Profile.Practical(a, b) && (held(p, n, g.Low) || held(p, n, g.High)) {
		return "", "", ""
	}
	text = fmt.Sprintf("%s with %d and %s with %d lie farther apart than the %s opens", named(g.Low), g.LowFinger,
		named(g.High), g.HighFinger, p.HandName)
	short = fmt.Sprintf("%s and %s with %d and %d", named(g.Low), named(g.High), g.LowFinger, g.HighFinger)
	others := slices.DeleteFunc(slices.Clone(keys), func(m int) bool { return m == g.Low || m == g.High })
	if len(others) > 0 {
		beside = ", beside " + list(others, named)
	}
	return text, beside, short
}

func list(keys []int, named func(int) string) string {
	words := make([]string, len(keys))
	for i, m := range keys {
		words[i] = named(m)
	}
	return wording.List(words)
}

// outermost is the lowest and the highest key with thumb and fifth finger, unless digits that bind say otherwise: where
// these are too much no other fingers help.
func outermost(p *lint.Inspection, keys []int) lint.Grip {
	low, high := keys[0], keys[len(keys)-1]
	fingers := []int{1, 5}
	if p.Playing.Hand(low) == score.Left {
		fingers = []int{5, 1}
	}
	for i, m := range []int{low, high} {
		if p.Given[m] > 0 {
			fingers[i] = p.Given[m]
		}
	}
	return p.WorstPair([]int{low, high}, fingers)
}

// workedOut is the grip with the fingers that were worked out, as far as they are.
func workedOut(p *lint.Inspection, keys []int) lint.Grip {
	fingers := make([]int, len(keys))
	for i, m := range keys {
		fingers[i] = p.Finger[m]
	}
	return p.WorstPair(keys, fingers)
}
