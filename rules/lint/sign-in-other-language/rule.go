// Package signinotherlanguage checks hand signs.
package signinotherlanguage

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports hand signs in another language than the house style's where a piece has signs of more than one.
var Rule = &lint.Rule{
	Name:  "sign-in-other-language",
	Title: "the hand signs of a piece are of several languages, and one is not the house style's",
	Checks: "Signs for the right and the left hand (m.d., m.s., m.g., r.h., l.h., r.H., l.H.) against the language " +
		"the policy names, in a piece that has signs of more than one language, those that the edition added included. Where all " +
		"are of one language they are the text's own, and are left alone. The Italian and the French m.d. look alike and pass for either.",
	Why: "An edition that says m.s. on one page and l.h. on the next looks unedited. Where the sign is the " +
		"composer's, let it stand.",
	Before:   "house style Italian: “m.d.”, and later “l.h.”",
	After:    "house style Italian: “m.d.”, and later “m.s.”",
	Severity: lint.Note,
	Since:    "0.1",
	Options:  []string{"signs.language"},
	Run:      run,
}

// signs of right and left hand by language (FACTS §5.5).
var signs = map[string][2]string{
	"it": {destra, "m.s."}, "fr": {destra, "m.g."}, "en": {"r.h.", "l.h."}, "de": {"r.H.", "l.H."},
}

const destra = "m.d." // mano destra, main droite

func run(p *lint.Inspection) {
	if ofOneLanguage(p) {
		return
	}
	ours := signs[p.SignLanguage]
	for i := range p.Score.Directions {
		d := &p.Score.Directions[i]
		if d.Kind != score.HandSign || inLanguage(d.Text, p.SignLanguage) {
			continue
		}
		want := ours[0]
		if d.Hand == score.Left {
			want = ours[1]
		}
		p.ReportSign(i, lint.Finding{
			Message: fmt.Sprintf("the hand sign %q is not the house style's %q", d.Text, want),
			Fix:     "set " + want + ", unless the sign is the composer's", Together: d.Text,
		})
	}
}

// ofOneLanguage says that there is a language in which all hand signs of the piece are: the text's own.
func ofOneLanguage(p *lint.Inspection) bool {
	for language := range signs {
		if !slices.ContainsFunc(p.Score.Directions, func(d score.Direction) bool {
			return d.Kind == score.HandSign && !inLanguage(d.Text, language)
		}) {
			return true
		}
	}
	return false
}

// inLanguage looks at the letters of a sign: two of them, or the first
// letters of what is written out.
func inLanguage(text, language string) bool {
	letters := strings.Map(func(c rune) rune {
		if strings.ContainsRune("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", c) {
			return c
		}
		return -1
	}, text)
	if len(letters) != 2 {
		words := map[string]string{"it": "mano", "fr": "main", "en": "hand", "de": "hand"}
		return strings.Contains(strings.ToLower(text), words[language])
	}
	low := strings.ToLower(letters)
	switch language {
	case "it":
		return low == "md" || low == "ms"
	case "fr":
		return low == "md" || low == "mg"
	case "de":
		return letters == "rH" || letters == "lH"
	}
	return (low == "rh" || low == "lh") && letters != "rH" && letters != "lH"
}
