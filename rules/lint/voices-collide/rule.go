// Package voicescollide checks that voices of one hand keep clear of each other.
package voicescollide

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a voice strikes a key that another voice of the same staff holds.
var Rule = &lint.Rule{
	Name:  "voices-collide",
	Title: "voices of a staff collide: one strikes what another holds, they share a number, or a rest stands on a head",
	Checks: "Keys that one voice strikes while another voice of the same staff is written to hold them for an " +
		"eighth or more to come, or a half or longer note through all of the stroke, told once a piece, with its " +
		"measures. As a warning, a measure, the only one of its staff, in which notes of one voice sound at once and are no chord: two lines " +
		"under one number, in a file that else tells voices apart, or two notes struck at once that should be one; rests in a chord; and rests that the file sets on a head of another voice of the staff, or between the heads of its chord. As a note, a voice that is nothing but a head on another voice's head; two voices with other accidentals on one line at once; and a voice that rests while a note of it sounds.",
	Why:      "The key sounds once, and the held note cannot be heard as written. Mostly one of the two lengths is a slip.",
	Before:   "upper voice: C5 held for four beats; lower voice of the staff: C5 struck on beat 3",
	After:    "the held C5 shortened to two beats",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

var (
	eighth  = score.Frac(1, 2)
	quarter = score.Whole(1) // in which a chord is rolled
	long    = score.Whole(2) // a note that is held through all that another voice strikes on its key
)

func run(p *lint.Inspection) {
	inOneVoice(p)
	restInChord(p)
	restOnHead(p)
	doubled(p)
	onOneLine(p)
	restInVoice(p)
	type key struct{ part, staff, midi int }
	last := map[key]int{}
	for _, n := range p.InOrderOfTime() {
		note := &p.Score.Notes[n]
		if !p.Playing.Plays(n) || !note.Struck() || note.Grace > 0 || note.Cue || note.Hidden || note.Tremolo.Strokes > 0 ||
			len(note.Ornaments) > 0 {
			continue
		}
		k := key{note.Part, note.Staff, note.Midi}
		if m, is := last[k]; is && p.Score.Notes[m].Voice != note.Voice && p.Score.At(m).Less(p.Score.At(n)) {
			left := p.HeldUntil(m).Sub(p.Score.At(n))
			whole := !left.Less(note.Duration) && !p.Score.Notes[m].Duration.Less(long)
			if (!left.Less(eighth) || whole) && !(p.Playing.Rolled(m) && p.Score.At(n).Sub(p.Score.At(m)).Less(quarter)) &&
				p.Score.Notes[m].Marks&score.Fermata == 0 && !p.Found(n, m) { // the fermata's own cadenza; told of the hands already
				p.Report(lint.Finding{
					Severity: lint.Note, Notes: []int{n, m},
					Message: fmt.Sprintf("%s is struck in voice %s while voice %s holds it", note.Pitch, note.Voice,
						p.Score.Notes[m].Voice),
					Fix: "shorten the held note, or take one of the two out", Together: lint.OnceAPiece,
				})
			}
		}
		if m, is := last[k]; !is || !p.Score.At(n).Less(p.HeldUntil(m)) || p.HeldUntil(m).Less(p.HeldUntil(n)) {
			last[k] = n
		}
	}
}
