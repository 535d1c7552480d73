// Package digitastext checks for digits that are no fingering.
package digitastext

import (
	"fmt"
	"regexp"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit is typed as text or as sung text.
var Rule = &lint.Rule{
	Name:  "digit-as-text",
	Title: "a digit is typed as text or as sung text",
	Checks: "Words above or below a staff of the piano that are nothing but digits 1 to 5, in parentheses or not, " +
		"a digit or a change as 4-3 under a note as sung text, figures of a bass where a part has none but 1 to 5, " +
		"the numbers of strings and letters for plucking, and digits as another technical sign, as a dynamic, or as a rehearsal " +
		"mark within a measure.",
	Why: "It looks like a fingering and is none: it moves with the text, not with the note, is lost in every " +
		"conversion, and no program reads it.",
	Before:   "the words “3” above C5",
	After:    "C5 with the fingering 3",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

var onlyDigits = regexp.MustCompile(`^[(\[]?[1-5](?:[-–\s]*[1-5]){0,4}[)\]]?$`)

const fix = "make it the fingering of its note"

func run(p *lint.Inspection) {
	piano := p.PianoParts()
	for i := range p.Score.Directions {
		d := &p.Score.Directions[i]
		if d.Kind == score.Words && piano[d.Part] && onlyDigits.MatchString(d.Text) && !inWords(p, i) &&
			!ofNoFinger(p, d) {
			p.ReportSign(i, lint.Finding{
				Message: fmt.Sprintf("%q is typed as text and looks like a fingering", d.Text),
				Fix:     fix,
			})
		}
	}
	otherSigns(p, piano)
	figures(p, piano)
	ofOtherInstruments(p)
	for _, o := range p.Score.Oddities {
		if o.Kind == score.OddDigitLyric && o.Note >= 0 && p.Playing.Plays(o.Note) {
			p.Report(lint.Finding{Notes: []int{o.Note}, Message: o.Detail, Fix: fix})
		}
	}
}

// otherSigns reports digits that are written as other signs of a place: as dynamics, or as rehearsal marks within a measure,
// where none stands.
func otherSigns(p *lint.Inspection, piano map[int]bool) {
	for i := range p.Score.Directions {
		d := &p.Score.Directions[i]
		what := ""
		switch {
		case !piano[d.Part] || !onlyDigits.MatchString(d.Text):
			continue
		case d.Kind == score.Dynamics:
			what = "a dynamic"
		case d.Kind == score.Rehearsal && d.Onset.Sign() > 0 && d.Onset.Less(p.Score.Measures[d.Measure].Length):
			what = "a rehearsal mark"
		default:
			continue
		}
		p.ReportSign(i, lint.Finding{Message: fmt.Sprintf("%q is written as %s and looks like a fingering", d.Text, what), Fix: fix})
	}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind == score.ItemTechnical && i.Note >= 0 && p.Playing.Plays(i.Note) {
			if text, is := strings.CutPrefix(i.Reading, "other technical "); is && onlyDigits.MatchString(text) {
				p.ReportItem(i, lint.Finding{Message: fmt.Sprintf("%q is written as a technical sign and looks like a fingering", text), Fix: fix})
			}
		}
	}
}

// ofOtherInstruments reports the signs of stringed instruments at notes of the piano: numbers of strings, letters of the
// plucking hand.
func ofOtherInstruments(p *lint.Inspection) {
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemTechnical || i.Note < 0 || !p.Playing.Plays(i.Note) || !ofStrings.MatchString(i.Reading) {
			continue
		}
		p.ReportItem(i, lint.Finding{
			Message: fmt.Sprintf("%q is a sign of stringed instruments or of the organ and looks like a fingering", i.Reading), Fix: fix,
		})
	}
}

var ofStrings = regexp.MustCompile(`^(string|pluck|fret) \S+$|^(toe|heel)\b`)

// figures reports digits that are typed as figures of a bass: of a real one, some say what no finger is. A column of
// figures, as 4 over 3, is one of fingers only where the part has the figure 1 too, which no bass needs (common practice).
func figures(p *lint.Inspection, piano map[int]bool) {
	real, columns, thumbs := map[int]bool{}, map[int]bool{}, map[int]bool{}
	for i := range p.Score.Items {
		item := &p.Score.Items[i]
		if item.Kind != score.ItemFiguredBass {
			continue
		}
		column := strings.Split(item.Reading, ", ")
		columns[item.Part] = columns[item.Part] || len(column) > 1
		for _, figure := range column {
			real[item.Part] = real[item.Part] || !onlyDigits.MatchString(figure)
			thumbs[item.Part] = thumbs[item.Part] || figure == "1"
		}
	}
	for part := range columns {
		real[part] = real[part] || columns[part] && !thumbs[part]
	}
	for i := range p.Score.Items {
		item := &p.Score.Items[i]
		if item.Kind == score.ItemFiguredBass && piano[item.Part] && !real[item.Part] {
			p.ReportItem(item, lint.Finding{
				Message: fmt.Sprintf("%q is typed as a figure of a bass and looks like a fingering", item.Reading), Fix: fix,
			})
		}
	}
}

// inWords says that a text is one piece of longer words, cut where its look
// changes: the 1 of “1er mouvement” with the er raised.
func inWords(p *lint.Inspection, i int) bool {
	d := &p.Score.Directions[i]
	for _, k := range []int{i - 1, i + 1} {
		if k < 0 || k >= len(p.Score.Directions) {
			continue
		}
		o := &p.Score.Directions[k]
		if o.Kind == score.Words && o.Part == d.Part && o.Line == d.Line && o.Column == d.Column && o.Text != "" {
			return true
		}
	}
	return false
}

// ofNoFinger says that a lone digit cannot be meant for a finger: its staff strikes only chords of three or more keys
// there, which are fingered by a column, or it counts the notes of a figure that is not marked.
func ofNoFinger(p *lint.Inspection, d *score.Direction) bool {
	if len(d.Text) != 1 {
		return false
	}
	at := p.Score.Measures[d.Measure].Start.Add(d.Onset)
	struck := 0
	for n := range p.Score.Notes {
		x := &p.Score.Notes[n]
		if x.Part != d.Part || x.Staff != d.Staff || x.Grace > 0 || p.Score.At(n) != at || !x.Struck() {
			continue
		}
		if x.Tuplet.Actual == int(d.Text[0]-'0') {
			return true
		}
		struck++
	}
	return struck > 2
}
