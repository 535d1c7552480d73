// Package gripoutofreach passes on where no grip fits the hand.
package gripoutofreach

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/lint"
)

// Rule reports notes for which no fingering within the hand was found.
var Rule = &lint.Rule{
	Name:  "grip-out-of-reach",
	Title: "no grip of the hand takes these notes",
	Checks: "Every grip for which no fingers within the limits of the policy's hand are found, or for which the digits in " +
		"the text leave none: the two keys that lie too far apart, with the fingers by which they come nearest to the " +
		"hand. Where only a key that is held is too much it is a note: it is let go. Where the other hand can take what " +
		"is too much it is a note that names these keys, and nothing where they stand on its staff or it strikes them " +
		"too. Rolled chords are left alone. A grip that comes again is named once, with its measures; where a piece has more than four " +
		"grips of one hand with one remedy (two, where they are notes), they are told together, each with its keys, fingers and measures.",
	Why: "The player has to do something here that no digit says: roll the chord, leave a key to the pedal, or " +
		"give a note to the other hand. Wide stretches strain hands.",
	Before:   "left hand: C2 and E3 struck together, fingered for the octave hand",
	After:    "the chord marked to be rolled, or the E3 given to the right hand",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.1",
	Options:  []string{"hand", "span_mm"},
	Run:      run,
}

func run(p *lint.Inspection) {
	var found []grip
	for _, l := range p.Playing.Lines {
		for i := range l.Strokes {
			s := l.Strokes[i].Notes
			// One finding a chord: at its lowest note out of reach.
			k := slices.IndexFunc(s, func(n int) bool { return p.Reason[n] != "" && !tiedFromNowhere(&p.Score.Notes[n]) })
			if k >= 0 && !p.RolledWith(&l.Strokes[i]) && !contradictory(p, s) && !stacked(p, sounding(p, &l.Strokes[i])) &&
				!digitsAtFault(p, s) && !p.SignForOther(s[k]) {
				look(p, &l.Strokes[i], s[k], &found)
			}
		}
	}
	reportAll(p, found)
}

// tiedFromNowhere says that a tie arrives at a note from none: that is the fault, and the key may be held already.
func tiedFromNowhere(n *score.Note) bool { return n.TieStop && n.TiedFrom < 0 }

// handsMixed is an interval, in semitones, that nobody writes for one hand.
const handsMixed = 19

// look reports what is too much at a stroke, unless the other hand has it: it strikes the same keys, or can take those
// that stand on its staff.
func look(p *lint.Inspection, st *playing.Stroke, n int, found *[]grip) {
	keys := sounding(p, st)
	if own := p.WithoutShared(st, keys); len(own) < len(keys) {
		if p.Fits(p.Playing.Hand(n), own) {
			return
		}
		keys = own
	}
	own := slices.DeleteFunc(slices.Clone(keys), func(m int) bool { return p.MayBeOthers(st, m) })
	if len(own) < len(keys) && len(own) > 0 && bound(p, keys) && p.Fits(p.Playing.Hand(n), own) {
		return
	}
	if nearlyFits(p, p.Playing.Hand(n), keys) || ofTwoHands(p, st, keys) || inColumnOfOther(p, st, keys) {
		return
	}
	if p.Fits(p.Playing.Hand(n), keys) || bound(p, keys) {
		switch {
		case bound(p, keys) && p.HandRests(st) && p.FitsByVoices(st):
			// digits of two hands on one staff
		case bound(p, keys), len(keys) > fingering.Fingers && !p.ThumbOnTwo(st, keys):
			report(p, n, keys, nil, found)
		}
		return
	}
	help, can := p.Help(st, keys)
	if !can && p.FitsByStaves(st) {
		return // the voice of the other staff goes over to this one, and its hand with it
	}
	if !can && p.Semitones(keys[0], keys[len(keys)-1]) > handsMixed && p.FitsByVoices(st) {
		return // the hands are read otherwise than they play
	}
	switch {
	case !can:
		report(p, n, keys, nil, found)
	case !help.Written:
		report(p, n, keys, &help, found)
	}
}

// ofTwoHands says that digits stand at two voices of one staff, and that the other hand rests and can have one: they may
// be its digits.
func ofTwoHands(p *lint.Inspection, st *playing.Stroke, keys []int) bool {
	digits := slices.ContainsFunc(keys, func(m int) bool { return p.Given[m] > 0 })
	return digits && p.TwoVoices(keys[0], keys[len(keys)-1]) && p.HandRests(st) && p.FitsByVoices(st)
}

// inColumnOfOther says that several digits stand at one note of the other hand, and a key without one on its staff: they are
// a column over both, and the key is that hand's.
func inColumnOfOther(p *lint.Inspection, st *playing.Stroke, keys []int) bool {
	other := p.Playing.OtherHand(st)
	if other == nil {
		return false
	}
	return slices.ContainsFunc(other.Notes, func(o int) bool {
		return len(p.Score.Notes[o].Indications) > 1 && slices.ContainsFunc(keys, func(m int) bool {
			return p.Score.Notes[m].Staff == p.Score.Notes[o].Staff && len(p.Score.Notes[m].Indications) == 0 && !held(p, st.Notes[0], m)
		})
	})
}

// nearly is by how many percent of its span a pair of inner fingers may be too near for a chord, where no digits bind:
// what inner fingers span is our own estimate, and players open them.
const nearly = 15

// nearlyFits says that thumb and fifth finger take the outer keys of a chord and that only an inner pair goes beyond what
// it spans, by little.
func nearlyFits(p *lint.Inspection, by score.Hand, keys []int) bool {
	if slices.ContainsFunc(keys, func(m int) bool { return p.Given[m] > 0 }) {
		return false
	}
	g, found := p.BestGrip(by, keys)
	if !found || g.Excess <= 0 || outermost(p, keys).Excess > 0 {
		return false
	}
	a, b := min(g.LowFinger, g.HighFinger), max(g.LowFinger, g.HighFinger)
	return 100*g.Excess < nearly*p.Profile.Practical(a, b)
}

// justAfter is how long a key may sound on into a stroke, in quarters, and count as let go for it.
var justAfter = score.Frac(1, 6)

// sounding is what a stroke strikes and what is held into it, lowest key first. What is left to the pedal is named
// where else one key would stand alone: it was too much for the hand together with what is let go.
func sounding(p *lint.Inspection, stroke *playing.Stroke) []int {
	var held, toPedal []int
	for _, n := range stroke.Held {
		switch note := &p.Score.Notes[n]; {
		case note.Grace > 0 || note.Marks&score.LetGo != 0 || !justAfter.Less(p.HeldUntil(n).Sub(stroke.At)):
		case p.Pedal[n]:
			toPedal = append(toPedal, n)
		default:
			held = append(held, n)
		}
	}
	// What is struck just before as a grace note, and again, is left to the pedal when the rest falls.
	struck := slices.DeleteFunc(slices.Clone(stroke.Notes), func(n int) bool {
		return p.GraceBefore(n)
	})
	if len(struck) == 0 {
		struck = stroke.Notes
	}
	held = slices.DeleteFunc(held, func(n int) bool { return sharedWithOther(p, stroke, n) || struckAnew(p, stroke, n) })
	out := oneAKey(p, append(struck, held...))
	if len(out) == 1 {
		out = append(out, toPedal...)
	}
	slices.SortFunc(out, func(a, b int) int {
		return cmp.Or(cmp.Compare(p.Score.Notes[a].Midi, p.Score.Notes[b].Midi), cmp.Compare(a, b))
	})
	return out
}

// sharedWithOther says that a key that is held was struck by the other hand as well, which has it with a finger.
func sharedWithOther(p *lint.Inspection, stroke *playing.Stroke, n int) bool {
	own := p.Playing.Stroke(n)
	if own == nil {
		return false
	}
	other := p.Playing.OtherHand(own)
	return other != nil && slices.ContainsFunc(other.Notes, func(m int) bool {
		return p.Score.Notes[m].Midi == p.Score.Notes[n].Midi && p.Digit(m) > 0 && stroke.At.Less(p.HeldUntil(m))
	})
}

// struckAnew says that the key of a note that is held was struck again by its hand before a stroke: it is held as it was
// struck last.
func struckAnew(p *lint.Inspection, stroke *playing.Stroke, n int) bool {
	own := p.Playing.Stroke(n)
	if own == nil || own.Line != stroke.Line {
		return false
	}
	for i := own.Index + 1; i < stroke.Index; i++ {
		for _, m := range p.Playing.Lines[own.Line].Strokes[i].Notes {
			if p.Score.Notes[m].Midi == p.Score.Notes[n].Midi {
				return true
			}
		}
	}
	return false
}

// oneAKey leaves of notes that stand on one key the first.
func oneAKey(p *lint.Inspection, notes []int) (out []int) {
	for _, n := range notes {
		if !slices.ContainsFunc(out, func(m int) bool { return p.Score.Notes[m].Midi == p.Score.Notes[n].Midi }) {
			out = append(out, n)
		}
	}
	return out
}

// digitsAtFault says that two digits of a chord lie too far apart or in the wrong order:
// that is the same fault, and its own rule names them.
func digitsAtFault(p *lint.Inspection, chord []int) bool {
	if p.Playing.Rolls(chord) {
		return false
	}
	for i, a := range chord {
		for _, b := range chord[i+1:] {
			f, g := p.AskedFinger(a), p.AskedFinger(b)
			if p.BeyondHand(a, b) > 0 || f > 0 && g > 0 && p.Crossed(a, b, f, g) && p.Semitones(a, b) > 2 {
				return true
			}
		}
	}
	return false
}

// contradictory reports whether the text gives one finger to two keys of a
// chord: then the digits are at fault, not the hand, and their own rule says so.
func contradictory(p *lint.Inspection, chord []int) bool {
	seen := [6]bool{}
	for _, n := range chord {
		f := p.Given[n]
		if f > 0 && seen[f] {
			return true
		}
		seen[f] = true
	}
	return false
}

// stacked says that the chord's digits stand in a row at one of its notes: which
// of them is whose is not for this rule to say.
func stacked(p *lint.Inspection, chord []int) bool {
	for _, n := range chord {
		digits := 0
		for k := range p.Score.Notes[n].Indications {
			if ind := &p.Score.Notes[n].Indications[k]; !ind.Hidden && len(ind.Fingers) > 0 {
				digits++
			}
		}
		if digits > 1 && len(chord) > 1 {
			return true
		}
	}
	return false
}
