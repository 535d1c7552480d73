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
		"and what lies beyond 20 or 320 is a slip of the keyboard or of the note value. A mark in quarters or longer that asks for more than 132 beats beside Largo, Lento, Grave or Adagio, or in quarters or shorter for fewer than 52 beside Allegro, Vivace or Presto. As a note, a mark beside which the file " +
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
			againstWord(p, k, beats)
			againstPlayback(p, k)
			continue
		}
		p.ReportSign(k, lint.Finding{
			Message: fmt.Sprintf("the metronome mark asks for %s beats a minute", d.Text),
			Fix:     "correct the number or the note value", Together: "metronome " + d.Text,
		})
	}
}

// How many thousandths of a beat a minute are too many beside a slow word, and too few beside a fast one (common practice: metronomes
// put adagio below 76 and allegro above 120).
const tooFast, tooSlow = 132_000, 52_000

var (
	slow = regexp.MustCompile(`(?i)^\W*(largo|larghetto|lento|grave|adagio|langsam)\b`)
	fast = regexp.MustCompile(`(?i)^\W*(allegro|presto|prestissimo|vivace|schnell)\b`)
	both = regexp.MustCompile(`(?i)\b(ma|non|quasi|moderato|maestoso|poi|sostenuto|alla|mosso)\b`)
)

// againstWord reports a mark beside whose word of tempo nobody sets such a number.
func againstWord(p *lint.Inspection, k int, beats int64) {
	d := &p.Score.Directions[k]
	for j := range p.Score.Items {
		i := &p.Score.Items[j]
		if i.Measure != d.Measure || i.Onset != d.Onset || i.Kind != score.ItemWords && i.Kind != score.ItemTempo || both.MatchString(i.Reading) {
			continue
		}
		quarter := d.BeatUnit.Cmp(score.Whole(1))
		if slow.MatchString(i.Reading) && quarter >= 0 && beats > tooFast || fast.MatchString(i.Reading) && quarter <= 0 && beats < tooSlow {
			p.ReportSign(k, lint.Finding{
				Message: fmt.Sprintf("the metronome mark asks for %s beats a minute beside %q", d.Text, i.Reading),
				Fix:     "correct the number, the note value or the word", Together: "beside " + i.Reading,
			})
			return
		}
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
