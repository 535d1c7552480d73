// Package voicelost checks that a held voice is kept.
package voicelost

import (
	"fmt"
	"regexp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a held note is let go before its time.
var Rule = &lint.Rule{
	Name:  "voice-lost",
	Title: "a held note is let go before its time",
	Checks: "Notes that no fingering of the hand can hold for what they are worth under what the same hand strikes " +
		"next, where the pedal cannot keep them either: none is marked, and the hand moves by step meanwhile, so that " +
		"one would blur; nor can the other hand help. Tremolos are left alone. A bass under broken chords or the chords of a waltz is left to the pedal, as players do; short " +
		"notes are nobody's loss.",
	Why: "A voice breaks off that the page holds. A pedal mark, the other hand or a word should say how it " +
		"is kept.",
	Before:   "left hand: C2 held as a whole note, C4 D4 E4 struck above it, no pedal",
	After:    "the same with a pedal mark, or the C2 given to the other hand",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	marked := slices.ContainsFunc(p.Score.Directions, func(d score.Direction) bool { return d.Kind == score.Pedal })
	var lost []int
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if p.Pedal == nil || !p.Pedal[n] || p.Spared[n] || p.Playing.Rolled(n) || note.Tremolo.Strokes > 0 || note.Grace > 0 || !p.Playing.Plays(n) ||
			!note.Struck() {
			continue
		}
		middle := p.Score.At(n).Add(note.Duration.Mul(score.Frac(1, 2)))
		if p.PedalDown(note.Part, p.Score.At(n)) || p.PedalDown(note.Part, middle) || p.Ends[n]-p.Micros[n] < long ||
			note.Duration.Less(score.Frac(1, 2)) || pedalInWords(p, n) || note.Marks&score.LetGo != 0 || !stepsMeanwhile(p, n) || otherHelps(p, n) {
			continue
		}
		lost = append(lost, n)
	}
	if !marked && len(lost) >= everywhere {
		return
	}
	for _, n := range lost {
		note := &p.Score.Notes[n]
		p.Report(lint.Finding{
			Notes: []int{n},
			Message: fmt.Sprintf(
				"%s cannot be held to its end by the hand that strikes it, and no pedal is marked", note.Pitch,
			),
			Fix: "mark the pedal, or give a note to the other hand", Together: lint.OnceAPiece,
		})
	}
}

// pedalWords order the pedal without a sign: con pedale, due pedali, Ped. simile, mit Pedal. Those that forbid it end it.
var pedalWords, withoutPedal = regexp.MustCompile(`(?i)\bp[eé]d(\.|al|$)`), regexp.MustCompile(`(?i)\b(senza|sans|ohne|without|no|una corda)\b`)

// pedalInWords says that words before a note, in its part, order the pedal.
func pedalInWords(p *lint.Inspection, n int) (is bool) {
	at := p.Score.At(n)
	for k := range p.Score.Directions {
		d := &p.Score.Directions[k]
		if d.Kind == score.Words && d.Part == p.Score.Notes[n].Part && pedalWords.MatchString(d.Text) &&
			p.Score.Measures[d.Measure].Start.Add(d.Onset).Cmp(at) <= 0 {
			is = !withoutPedal.MatchString(d.Text)
		}
	}
	return is
}

// everywhere is at how many places of a piece without a pedal mark that is no slip: the pedal is left to the player.
const everywhere = 4

// long is from how many microseconds on a note is missed that breaks off.
const long = 400_000

// stepsMeanwhile says that the hand moves by step while a note is written to sound: a pedal that kept it would blur.
func stepsMeanwhile(p *lint.Inspection, n int) bool {
	st := p.Playing.Stroke(n)
	if st == nil {
		return false
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	end := p.Score.At(n).Add(p.Score.Notes[n].Duration)
	for i := st.Index + 2; i < len(strokes) && strokes[i].At.Less(end); i++ {
		for _, a := range strokes[i-1].Notes {
			for _, b := range strokes[i].Notes {
				if by := p.Semitones(a, b); by == 1 || by == 2 {
					return true
				}
			}
		}
	}
	return false
}

// otherHelps says that the other hand can take all that is too much for the hand while a note is written to sound.
func otherHelps(p *lint.Inspection, n int) bool {
	st := p.Playing.Stroke(n)
	if st == nil {
		return false
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	end := p.Score.At(n).Add(p.Score.Notes[n].Duration)
	helped := false
	for i := st.Index + 1; i < len(strokes) && strokes[i].At.Less(end); i++ {
		keys := p.Sorted(append(slices.Clone(strokes[i].Notes), n))
		if p.Fits(p.Playing.Hand(n), keys) {
			continue
		}
		if _, can := p.Help(&strokes[i], keys); !can {
			return false
		}
		helped = true
	}
	return helped
}
