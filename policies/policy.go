// Package policies is the door for house styles: YAML files that say for whom
// an edition is fingered, how many digits it prints and how they look.
package policies

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"fingerproof/corpus/printwords"
	"fingerproof/corpus/score"
)

// Policy is a resolved house style: every key has a value, and each value
// knows where it comes from.
type Policy struct {
	File   string // where it was read from; empty for the default
	values map[string]Value
}

// Value is a key's value in its written form and its origin: "policy.yaml:12",
// or "study (shipped)".
type Value struct{ Text, Origin string }

const tempoStem, touchStem = "tempo.words.", "touch.before."

// Range is a range of beats a minute.
type Range struct{ Low, High int }

// Get returns the value of a key and whether it has one.
func (p *Policy) Get(path string) (Value, bool) {
	v, ok := p.values[path]
	return v, ok
}

// Paths lists the paths that have a value, in the order of Keys, names given
// by users sorted.
func (p *Policy) Paths() []string {
	var out []string
	for _, k := range allKeys() {
		stem, star := strings.CutSuffix(k.Path, "*")
		if !star {
			if _, ok := p.values[k.Path]; ok {
				out = append(out, k.Path)
			}
			continue
		}
		var names []string
		for path := range p.values {
			if strings.HasPrefix(path, stem) {
				names = append(names, path)
			}
		}
		sort.Strings(names)
		out = append(out, names...)
	}
	return out
}

func (p *Policy) is(path string) bool { return p.values[path].Text == "true" }

// Title is what the style is called.
func (p *Policy) Title() string { return p.values["title"].Text }

// SpanMM is the measured span, 0 where a hand is named; HandName names it.
func (p *Policy) SpanMM() int { return p.number("span_mm") }

// HandName is octave, ninth or tenth.
func (p *Policy) HandName() string { return p.values["hand"].Text }

// Digits says how many digits are printed.
func (p *Policy) Digits() string { return p.values["digits"].Text }

// Density is at how many notes in a hundred of much music a digit stands where they are chosen; 0: as few as can be read.
func (p *Policy) Density() int {
	if d := p.number("density"); d > 0 {
		return d
	}
	return map[string]int{"study": 44, "performance": 24}[p.Digits()]
}

// FiguresEachTime reports whether a figure that comes again at once has its digits each time.
func (p *Policy) FiguresEachTime() bool { return p.values["figures"].Text == "each" }

// TextDigits is whose the digits in the text are.
func (p *Policy) TextDigits() score.Responsibility {
	var r score.Responsibility
	_ = r.UnmarshalText([]byte(p.values["text_digits"].Text)) // never fails
	return r
}

// SaysTextDigits reports whether a policy file of the house says whose the digits in the text are; else it is what the
// program takes them for.
func (p *Policy) SaysTextDigits() bool {
	return p.values["text_digits"].Origin != byDefault()["text_digits"].Origin
}

// Constrains reports whether digits in the text bind the suggestion.
func (p *Policy) Constrains() bool { return p.is("composer.constrains") }

// Style is how digits of a responsibility look.
func (p *Policy) Style(who score.Responsibility) score.Style {
	m := "marks." + who.String() + "."
	s := score.Style{Italic: p.is(m + "italic"), Bold: p.is(m + "bold")}
	if v := p.values[m+"size"].Text; v != "none" {
		s.Size = v
	}
	if v := p.values[m+"colour"].Text; v != "none" {
		s.Colour = v
	}
	if v := p.values[m+"enclosure"].Text; v != "none" {
		s.Enclosure = score.Enclosure(v)
	}
	return s
}

// PlacesOutside reports whether added digits are placed by hand.
func (p *Policy) PlacesOutside() bool { return p.values["marks.placement"].Text == "outside" }

// SignLanguage is it, fr, en or de.
func (p *Policy) SignLanguage() string { return p.values["signs.language"].Text }

func (p *Policy) span(path string) (Range, bool) {
	var r Range
	v, ok := p.values[path]
	if !ok {
		return r, false
	}
	_, err := fmt.Sscanf(v.Text, "[%d, %d]", &r.Low, &r.High)
	return r, err == nil
}

// DefaultTempo holds where neither mark nor word gives the tempo.
func (p *Policy) DefaultTempo() Range {
	r, _ := p.span("tempo.default")
	return r
}

// TempoOf finds the tempo word a text opens with: the longest of the policy's
// words that stands in it as whole words, the earliest of two as long.
func (p *Policy) TempoOf(words string) (word string, r Range, found bool) {
	text := " " + plainWords(words) + " "
	at := -1
	for path := range p.values {
		w, ok := strings.CutPrefix(path, tempoStem)
		if !ok {
			continue
		}
		i := strings.Index(text, " "+w+" ")
		if i < 0 || found && (len(w) < len(word) || len(w) == len(word) && (i > at || i == at && w > word)) {
			continue
		}
		word, at, found = w, i, true
	}
	if found {
		r, _ = p.span(tempoStem + word)
	}
	return word, r, found
}

// Touch is how unmarked notes are joined in a piece of that year (0: unknown).
func (p *Policy) Touch(year int) string {
	touch, nearest := p.values["touch.default"].Text, 1<<30
	for path, v := range p.values {
		until, dated := strings.CutPrefix(path, touchStem)
		if !dated {
			continue
		}
		if y, err := strconv.Atoi(until); err == nil && year > 0 && year < y && y < nearest {
			touch, nearest = v.Text, y
		}
	}
	return touch
}

// number is the value of a key that is a number.
func (p *Policy) number(path string) int {
	n, _ := strconv.Atoi(p.values[path].Text)
	return n
}

// Aim is how much an aim of the fingering counts, in percent: comfort, line, memory, habit, tempo or reach.
func (p *Policy) Aim(name string) int { return p.number("aims." + name) }

// Memory is what the finger of a note may cost more, in milli-nats, to be that of the passage's first time: kind is
// exact, transposed or mirrored.
func (p *Policy) Memory(kind string) int { return p.number("memory." + kind) }

// HandShare is the weight of a named hand in the mix, 0 where there is none.
func (p *Policy) HandShare(name string) int { return p.number("hands." + name) }

// SmallerHand names the hand for which alternatives are worked out, "none" where there is none.
func (p *Policy) SmallerHand() string { return p.values["smaller_hand"].Text }

// Instrument is grand, upright or period.
func (p *Policy) Instrument() string { return p.values["instrument"].Text }

// ChangeMillis is the time a silent change of finger needs, in milliseconds.
func (p *Policy) ChangeMillis() int { return p.number("change_ms") }

// PracticePercent is the tempo of practice in percent of the piece's own.
func (p *Policy) PracticePercent() int { return p.number("tempo.practice") }

// FingerPedal reports whether broken chords under a slur are held by the fingers.
func (p *Policy) FingerPedal() bool { return p.is("touch.finger_pedal") }

// LintSeverity gives a rule's severity where the policy sets one.
func (p *Policy) LintSeverity(rule string) (string, bool) {
	v, ok := p.values["lint."+rule]
	return v.Text, ok
}

// LintRules lists the rules the policy speaks of, sorted.
func (p *Policy) LintRules() []string {
	var out []string
	for path := range p.values {
		if rule, ok := strings.CutPrefix(path, "lint."); ok {
			out = append(out, rule)
		}
	}
	slices.Sort(out)
	return out
}

// FailOn is the mildest severity that makes a run end with status 1, or never.
func (p *Policy) FailOn() string { return p.values["fail_on"].Text }

// Canonical is the resolved policy without origins, as JSON with sorted keys:
// equal policies give equal bytes.
func (p *Policy) Canonical() []byte {
	plain := make(map[string]string, len(p.values))
	for path, v := range p.values {
		plain[path] = v.Text
	}
	b, err := json.Marshal(plain) // maps marshal with sorted keys
	if err != nil {
		panic(err) // strings always marshal
	}
	return b
}

// Sum is the SHA-256 of Canonical in hexadecimal.
func (p *Policy) Sum() string {
	sum := sha256.Sum256(p.Canonical())
	return hex.EncodeToString(sum[:])
}

// LooksField is the name of the field in which an edition says how its digits
// of each responsibility look.
const LooksField = "looks"

// Looks of digits that are told apart from the others of their responsibility:
// alternatives, open and the editor's, and the composer's of a single witness.
const (
	LookOfAlternative       = "alternative"
	LookOfEditorAlternative = "editor's alternative"
	LookOfSingleWitness     = "single witness"
)

// Looks spells how digits of each responsibility look, for an edition's head:
// a JSON object of styles by responsibility, and of the further looks that the
// policy prints.
func (p *Policy) Looks() string {
	table := map[string]score.Style{}
	for _, who := range []score.Responsibility{score.Composer, score.Earlier, score.Editor, score.Open} {
		table[who.String()] = p.Style(who)
	}
	if p.PrintsAlternatives() {
		table[LookOfAlternative] = p.AlternativeStyle(score.Open)
	}
	table[LookOfEditorAlternative] = p.BesideStyle() // beside an earlier hand's, whatever the policy says of the composer's
	if p.WitnessPrints() != "none" {
		table[LookOfSingleWitness] = p.SingleStyle()
	}
	b, err := json.Marshal(table)
	if err != nil {
		panic(err) // plain strings
	}
	return string(b)
}

// Redistributes reports whether notes are offered to the other hand for a reason.
func (p *Policy) Redistributes(reason string) bool { return p.is("redistribute." + reason) }

// RedistributeThreshold is what a redistribution has to gain, in milli-nats.
func (p *Policy) RedistributeThreshold() int { return p.number("redistribute.threshold") }

// RedistributeThresholdOf is the threshold of a reason that has its own: line, crossing, clarity, evenness or turns.
func (p *Policy) RedistributeThresholdOf(reason string) int {
	return p.number("redistribute." + reason + "_threshold")
}

// RedistributePerPage is how many a page may have, 0 for any number.
func (p *Policy) RedistributePerPage() int { return p.number("redistribute.per_page") }

// Words are those of the language in which the edition prints legend, preface and commentary.
func (p *Policy) Words() *printwords.Words { return printwords.In(p.values["language"].Text) }

// ChangeSigns is brackets, plain or none: how it is shown that notes go over to the hand of the other staff.
func (p *Policy) ChangeSigns() string { return p.values["signs.changes"].Text }

// RedistributeMarks is none, bracket or sign.
func (p *Policy) RedistributeMarks() string { return p.values["redistribute.marks"].Text }

// RedistributedCross says that redistributed notes go over to the staff of the hand that takes them.
func (p *Policy) RedistributedCross() bool {
	return p.values["redistribute.notation"].Text == "other-staff"
}

// WordStyle is how words that are offered look: the look of open digits, in italics.
func (p *Policy) WordStyle() score.Style {
	s := p.Style(score.Open)
	s.Italic, s.Bold, s.Enclosure = true, false, score.NoEnclosure
	return s
}

// PrintsOpen reports whether anything that is open is marked: not for press,
// nor where the composer's digits stand alone.
func (p *Policy) PrintsOpen(press bool) bool { return !press && p.Digits() != "composer-only" }
