// Package tempodoubtful checks the numbers of metronome marks.
package tempodoubtful

import (
	"fmt"
	"regexp"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a metronome mark asks for what no metronome shows.
var Rule = &lint.Rule{
	Name:  "tempo-doubtful",
	Title: "a metronome mark asks for a speed that no metronome shows",
	Checks: "The number of beats a minute of each metronome mark: the scale of metronomes goes from 40 to 208, " +
		"and what lies beyond 20 or 320 is a slip of the keyboard or of the note value. As a note, a mark beside which the file " +
		"tells playback another tempo, by a fifth and more.",
	Why:      "The speed of the piece is taken from it, and everything that is said of time.",
	Before:   "quarter = 1200",
	After:    "quarter = 120",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.20",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// The scale of metronomes is 40 to 208 (common practice); composers go a little beyond it.
const slowest, fastest = 20_000, 320_000 // thousandths of a beat a minute

// number is what a mark says in figures alone; what else stands there is no number that could be read.
var number = regexp.MustCompile(`^[^0-9]*[0-9]+([.,][0-9]+)?$`)

func run(p *lint.Inspection) {
	for k := range p.Score.Directions {
		d := &p.Score.Directions[k]
		if d.Kind != score.TempoMark || d.MilliQuarters == 0 || d.BeatUnit.Sign() == 0 || !number.MatchString(d.Text) {
			continue
		}
		beats := int64(d.MilliQuarters) * d.BeatUnit.Den() / d.BeatUnit.Num()
		if beats >= slowest && beats <= fastest {
			againstPlayback(p, k)
			continue
		}
		p.ReportSign(k, lint.Finding{
			Message: fmt.Sprintf("the metronome mark asks for %s beats a minute", d.Text),
			Fix:     "correct the number or the note value", Together: "metronome " + d.Text,
		})
	}
}

// againstPlayback reports a mark beside which the file tells playback another tempo, by more than a rounding or a shade.
func againstPlayback(p *lint.Inspection, k int) {
	d := &p.Score.Directions[k]
	low, high := min(d.MilliQuarters, d.PlayedMilli), max(d.MilliQuarters, d.PlayedMilli)
	if low <= 0 || 5*high < 6*low {
		return
	}
	p.ReportSign(k, lint.Finding{
		Severity: lint.Note,
		Message:  fmt.Sprintf("the metronome mark says %s, and playback is told %d quarters a minute in place of %d", d.Text, d.PlayedMilli/1000, d.MilliQuarters/1000),
		Fix:      "correct the one that is wrong", Together: "playback",
	})
}
