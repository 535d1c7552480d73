// Package wordmisspelt checks the spelling of the terms that stand in words.
package wordmisspelt

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a term of the trade is misspelt.
var Rule = &lint.Rule{
	Name:  "word-misspelt",
	Title: "a term is misspelt, or a dynamic is none",
	Checks: "Words at the staves: a word that differs from a term of the trade, Italian, German, French or English, by one letter or by two " +
		"that changed places, and is no term, no form and no abbreviation of one. Dynamics of letters that no dynamic has in " +
		"this order, as fm. Old spellings are told like others.",
	Why:      "It is printed as it stands, and nobody reads it as often as the notes.",
	Before:   "the word “cresecndo”",
	After:    "the word “crescendo”",
	Severity: lint.Note,
	Since:    "0.21",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

var (
	word     = regexp.MustCompile(`[\p{L}]+`)
	letters  = regexp.MustCompile(`^[b-df-hj-np-tv-xz]{1,4}$`)
	dynamics = regexp.MustCompile(`^(p+|f+|m[pf]|[sr]?f+z?(p+|mp|mf)?|mfz|sp+|m?fp+|p+f+|psfz?|[mrsz])$`)
)

func run(p *lint.Inspection) {
	printed := p.TextParts()
	encoding(p)
	for k := range p.Score.Directions {
		d := &p.Score.Directions[k]
		switch {
		case !printed[d.Part]:
		case d.Kind == score.Dynamics:
			if letters.MatchString(d.Text) && !dynamics.MatchString(d.Text) && !several.MatchString(d.Text) &&
				!unreadable(p, d.Line) {
				p.ReportSign(k, lint.Finding{Message: fmt.Sprintf("%q is no dynamic", d.Text), Fix: "correct it", Together: "dynamic " + d.Text})
			}
		case d.Kind == score.Words:
			for _, at := range word.FindAllStringIndex(d.Text, -1) {
				w := d.Text[at[0]:at[1]]
				term := meant(w)
				if term == "" && strings.HasPrefix(d.Text[at[1]:], ".") {
					term = abbreviation(w)
				}
				if term != "" {
					p.ReportSign(k, lint.Finding{
						Message: fmt.Sprintf("%q is nearly the term %q", w, term), Fix: "correct the spelling", Together: "word " + w,
					})
					break
				}
			}
		}
	}
}

// unreadable says that another rule quotes what stands in a line, since it cannot be read.
func unreadable(p *lint.Inspection, line int) bool {
	return slices.ContainsFunc(p.Score.Oddities, func(o score.Oddity) bool { return o.Kind == score.OddValue && o.Line == line })
}

// several are levels that stand in one sign, which another rule reports.
var several = regexp.MustCompile(`^(p+|m[pf]|f+){2,}$`)

// meant is the term that a word nearly is, "" where it is one, or none.
func meant(w string) string {
	w = folded(w)
	n := utf8.RuneCountInString(w)
	if t := short[w]; t != "" {
		return t
	}
	if m := strings.ReplaceAll(w, "rn", "m"); m != w && (slices.Contains(terms, m) || slices.Contains(abbreviations, m)) {
		return m // r and n print as an m (common knowledge of the trade)
	}
	if known[w] {
		return ""
	}
	if n == shortest-1 {
		return cutInside(w)
	}
	if n < shortest {
		return ""
	}
	found := ""
	for _, t := range terms {
		if strings.HasPrefix(t, w) || strings.HasPrefix(w, t) && n == len(t)+1 && !doubledEnd(w) { // cut short, or a form of it
			return ""
		}
		if found == "" && near(w, t) {
			found = t
		}
	}
	if found == "" {
		return ofForm(w)
	}
	return found
}

// everyday are terms of five letters that stand on every other page; of these a word may lack a letter.
var everyday = []string{"dolce", "tempo", "lento", "molto", "assai", "mosso", "forte", "piano", "anima", "largo"}

// cutInside is the term (no other: con moto) of which a word of four letters lacks one, neither the first nor the last.
func cutInside(w string) string {
	for _, t := range everyday {
		if w != "moto" && w[0] == t[0] && w[len(w)-1] == t[len(t)-1] && without(t, w) {
			return t
		}
	}
	return ""
}

// endings are those of German words beside the form that is a term: bewegter, langsamer, lebhaftes.
var endings = []string{"er", "en", "es", "e"}

// ofForm is the term of which a word is nearly a form, "" for none: one letter of the term is another, and an ending follows.
func ofForm(w string) string {
	for _, e := range endings {
		stem, is := strings.CutSuffix(w, e)
		if !is || len(stem) < longer || known[stem] {
			continue
		}
		for _, t := range terms {
			if len(t) == len(stem) && t[0] == stem[0] && near(stem, t) {
				return t
			}
		}
	}
	return ""
}

// abbreviations are those that are printed with a point (common practice).
var abbreviations = []string{"cresc", "dimin", "decresc", "riten", "ritard", "rallent", "accel", "stacc", "sosten", "espr"}

// abbreviation is the one that a word before a point nearly is, "" where it is one, or none.
func abbreviation(w string) string {
	w = folded(w)
	if w == "rail" {
		return "rall" // i and l print alike
	}
	if len(w) < 4 || known[w] || slices.ContainsFunc(terms, func(t string) bool { return strings.HasPrefix(t, w) }) {
		return ""
	}
	for _, a := range abbreviations {
		same := 0
		for i := range min(len(w), len(a)) {
			if w[i] == a[i] {
				same++
			}
		}
		switch {
		case len(w) == len(a) && len(a) >= 5 && same == len(a)-1,
			len(w)+1 == len(a) && len(a) >= 5 && without(a, w), len(w) == len(a)+1 && without(w, a):
			return a
		}
	}
	return ""
}

// doubledEnd says that a word ends with one letter twice that is no vowel: crescc.
func doubledEnd(w string) bool {
	n := len(w)
	return n > 1 && w[n-1] == w[n-2] && !strings.ContainsRune(vowels, rune(w[n-1]))
}

const (
	shortest = 5 // letters of a word in which two that changed places are a slip
	longer   = 6 // of one with another letter, one too many or one too few
	vowels   = "aeiou"
)

// near says that a word differs from a term by one slip of the keys. One that differs by its last vowel alone is a form
// of it (dolci, marcata).
func near(w, t string) bool {
	switch d := len(w) - len(t); {
	case d == 0:
		first, last, count := -1, -1, 0
		for i := range len(w) {
			if w[i] != t[i] {
				if first < 0 {
					first = i
				}
				last, count = i, count+1
			}
		}
		if count == 2 && last == first+1 && w[first] == t[last] && w[last] == t[first] {
			return true
		}
		if count == 1 && first < len(w)-1 && (oftenMisread[t] || alike[[2]byte{w[first], t[first]}] || alike[[2]byte{t[first], w[first]}]) {
			return true
		}
		return count == 1 && len(w) >= longer && len(t) >= longer &&
			!(strings.ContainsRune(vowels, rune(w[first])) && strings.ContainsRune(vowels, rune(t[first])) && first >= len(w)-2)
	case d == 1:
		return len(w) >= longer && without(w, t)
	case d == -1:
		return len(t) > longer && without(t, w) && t[:len(t)-1] != w
	}
	return false
}

// oftenMisread are short terms near which no other word lies.
var oftenMisread = map[string]bool{"dolce": true, "tempo": true}

// alike are letters that are taken for each other where print is read (common knowledge of the trade).
var alike = map[[2]byte]bool{
	{'i', 'l'}: true, {'c', 'e'}: true, {'n', 'u'}: true, {'f', 't'}: true, {'t', 'l'}: true, {'h', 'b'}: true, {'c', 'o'}: true, {'r', 'n'}: true,
}

// short are slips in terms too short for the rule of one letter: a letter doubled, or one that is single (common spellings).
var short = map[string]string{
	"pocco": "poco", "pocho": "poco", "pocoo": "poco", "menno": "meno", "motto": "molto", "molo": "molto", "assaj": "assai", "asai": "assai",
	"dolcce": "dolce", "dollce": "dolce", "lentto": "lento", "temppo": "tempo", "tempp": "tempo", "cressc": "cresc", "ritt": "rit",
}

// without says that a word is another with one letter taken out.
func without(long, short string) bool {
	i := 0
	for i < len(short) && long[i] == short[i] {
		i++
	}
	return long[i+1:] == short[i:]
}

// folded is a word in small letters without accents, the long s as s.
func folded(w string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(w) {
		if plain, is := accents[r]; is {
			r = plain
		}
		if r < 'a' || r > 'z' {
			return "" // letters that no term has
		}
		b.WriteRune(r)
	}
	return b.String()
}

var accents = map[rune]rune{
	'à': 'a', 'á': 'a', 'â': 'a', 'ä': 'a', 'è': 'e', 'é': 'e', 'ê': 'e', 'ë': 'e', 'ì': 'i', 'í': 'i', 'î': 'i', 'ï': 'i',
	'ò': 'o', 'ó': 'o', 'ô': 'o', 'ö': 'o', 'ù': 'u', 'ú': 'u', 'û': 'u', 'ü': 'u', 'ç': 'c', 'ſ': 's',
}
