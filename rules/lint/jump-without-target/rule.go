// Package jumpwithouttarget checks that words which send the player elsewhere have a place to go to.
package jumpwithouttarget

import (
	"regexp"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a jump leads nowhere, or a sign is there to which none leads.
var Rule = &lint.Rule{
	Name:  "jump-without-target",
	Title: "a jump leads nowhere, or its sign stands alone",
	Checks: "Da capo and dal segno: what says al Fine needs a Fine, dal segno a segno, and al Coda a coda. As a " +
		"note, the reverse: a segno or a coda of which nothing else speaks, and a Fine within the piece that no da " +
		"capo leads to.",
	Why:      "The player goes back and does not know where to begin, or where to end.",
	Before:   "D.C. al Fine at the end, no Fine in the piece",
	After:    "Fine at the end of m. 16",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.20",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// The words of jumps (common practice).
var (
	fine      = regexp.MustCompile(`(?i)\bfin(e\b|[èé]|\W*$)`)
	alFine    = regexp.MustCompile(`(?i)\b(al|a|alla|au|zum|to)\s+fin(e\b|[èé])`)
	goesOn    = regexp.MustCompile(`(?i)^\W*(rall|rit|dim|decresc|cresc|accel|string|morendo|smorz|perdendo|calando|sempre|pi[uù]|poco)`) // slower, softer to the end: no jump
	coda      = regexp.MustCompile(`(?i)\bcoda\b`)
	toCoda    = regexp.MustCompile(`(?i)\b(al|alla|to|zur|la|à la)\s+coda\b`)
	fromStart = regexp.MustCompile(`(?i)\bd\W{0,3}c(apo)?\b|da\s*capo|von vorn|from the beginning`)
	fromSegno = regexp.MustCompile(`(?i)\bd\W{0,3}s\b|d\W?al\s*segn|from the sign|vom zeichen`)
	ofOther   = regexp.MustCompile(`(?i)^\W*\pL{3,}\W+d(a|al|\W{0,3}[cs])\b`) // “Valse da capo al Fine”: of a piece that is named
	segno     = regexp.MustCompile(`(?i)segn|zeichen|\bsign\b|[𝄋%§$]`)
)

// Readings of the signs, as score.ItemJump has them.
const segnoSign, codaSign = "segno sign", "coda sign"

// place is a moment of the piece: a sign that stands on several staves is one.
type place struct {
	measure int
	onset   score.Fraction
}

func run(p *lint.Inspection) {
	s := p.Score
	at := map[string]map[place]int{} // signs and words by what they are, each moment once, with an item that stands there
	add := func(what string, k int) {
		if at[what] == nil {
			at[what] = map[place]int{}
		}
		i := &s.Items[k]
		if _, is := at[what][place{i.Measure, i.Onset}]; !is {
			at[what][place{i.Measure, i.Onset}] = k
		}
	}
	for k := range s.Items {
		switch i := &s.Items[k]; i.Kind {
		case score.ItemJump, score.ItemWords, score.ItemTempo, score.ItemRehearsal, score.ItemDirection, score.ItemCredit:
			for what, is := range read(i.Reading) {
				if is {
					add(what, k)
				}
			}
		}
	}
	report := func(what string, severity lint.Severity, message, fix string) {
		for k := range s.Items {
			i := &s.Items[k]
			if of, is := at[what][place{i.Measure, i.Onset}]; is && of == k {
				one := lint.Finding{Severity: severity, Message: message, Fix: fix, Together: message}
				if ofOther.MatchString(i.Reading) {
					one.Severity, one.Together = lint.Note, i.Reading
				}
				p.ReportItem(i, one)
			}
		}
	}
	if len(at["fine"]) == 0 && !endsOnFermata(p) {
		report("al fine", lint.Off, "the repetition goes to the Fine, and no Fine stands in the piece",
			"set the Fine, or take out “al Fine”")
	}
	if len(at[segnoSign])+len(at["of segno"]) == 0 {
		report("from segno", lint.Off, "the repetition begins at the segno, and no segno stands in the piece",
			"set the segno")
	}
	if len(at[codaSign])+len(at["coda"]) == 0 {
		report("to coda", lint.Off, "the player is sent to the coda, and no coda stands in the piece",
			"set the sign of the coda")
	}
	if len(at[segnoSign]) == 1 && len(at["of segno"])+len(at["from segno"]) == 0 {
		report(segnoSign, lint.Note, "a segno stands here, and nothing leads to it",
			"say what goes back to it, or take it out")
	}
	if len(at[codaSign]) == 1 && len(at["coda"])+len(at["to coda"]) == 0 {
		report(codaSign, lint.Note, "a sign of a coda stands here, and nothing leads to it or from it",
			"set the other sign, or take it out")
	}
	for x := range at["fine"] {
		if len(at["back"]) > 0 || len(at[segnoSign]) > 0 || x.measure+2 >= len(s.Measures) {
			delete(at["fine"], x)
		}
	}
	report("fine", lint.Note, "a Fine stands within the piece, and no da capo leads to it",
		"set the da capo, or take the Fine out")
}

// read says what words or a sign are.
func read(text string) map[string]bool {
	sign := text == segnoSign || text == codaSign
	return map[string]bool{
		segnoSign: text == segnoSign, codaSign: text == codaSign,
		"fine":       fine.MatchString(text) && !alFine.MatchString(text),
		"al fine":    alFine.MatchString(text) && !goesOn.MatchString(text),
		"coda":       !sign && coda.MatchString(text) && !toCoda.MatchString(text),
		"to coda":    toCoda.MatchString(text),
		"back":       fromStart.MatchString(text) || fromSegno.MatchString(text),
		"from segno": fromSegno.MatchString(text),
		"of segno":   !sign && segno.MatchString(text) && !fromSegno.MatchString(text),
	}
}

// endsOnFermata says that a fermata over a barline within the piece marks the end, as in older print.
func endsOnFermata(p *lint.Inspection) bool {
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind == score.ItemFermata && i.Note < 0 && i.Measure+1 < len(p.Score.Measures) {
			return true
		}
	}
	return false
}
