package policies

import (
	"slices"
	"strings"
	"sync"
)

// kind is what a key's value is.
type kind uint8

const (
	text kind = iota
	word      // one of Values
	yesNo
	number // Low to High
	span   // two numbers, [low, high], each Low to High
	size   // points or a CSS size word
	colour // #rrggbb
)

// naming is what may stand in place of the * of a path.
type naming uint8

const (
	anyName naming = iota
	tempoWord
	year
	siglum
	initials
)

// Key describes one key of a policy file. The one table of keys drives
// reading, schema, reference and `policy show`, so none exists without a
// word on what it does. A * in Path stands for a name the user gives.
type Key struct {
	Path   string
	Doc    string // what it does, in an editor's words
	Values []string
	Low    int
	High   int
	kind   kind
	orZero bool   // 0 stands beside Low to High, for "not set"
	named  naming // what the * may be
}

var severities = []string{"error", "warning", "note", "off"}

// Responsibilities whose digits have a look of their own, in the order in
// which a legend names them.
var Responsibilities = []string{"composer", "earlier", "editor", "open"}

// Keys returns every key there is, in the order in which files list them.
func Keys() []Key { return slices.Clone(allKeys()) }

var allKeys = sync.OnceValue(makeKeys)

func makeKeys() []Key {
	keys := []Key{
		{Path: "title", kind: text, Doc: "What this house style is called on pages and in the commentary."},
		{Path: "hand", kind: word, Values: []string{"octave", "ninth", "tenth"}, Doc: "The hand the edition is fingered for, by what it takes with ease: octave (190 mm), ninth (210 mm) or tenth (230 mm). Nothing beyond it is suggested without saying so."},
		{Path: "span_mm", kind: number, Low: 120, High: 300, orZero: true, Doc: "A measured hand in place of a named one: thumb tip to tip of the little finger at full stretch, in millimetres; 0 where `hand` speaks."},
		{Path: "digits", kind: word, Values: []string{"every-note", "study", "performance", "sparse", "composer-only"}, Doc: "How many digits are printed: on every note; many, as for study; few, as for performance; the fewest from which the fingering can be read; or the composer's alone, with nothing that is open (those of witnesses by `witness.prints`)."},
		{Path: "text_digits", kind: word, Values: []string{"composer", "earlier", "editor"}, Doc: "Whose the digits are that stand in the text already, where nothing else says so."},
		{Path: "composer.constrains", kind: yesNo, Doc: "Whether digits that stand in the text bind the suggestion. If not, they still stand in print, and the suggestion goes its own way; what of it is set beside them `beside.composer` says."},
		{Path: "marks.tradition", kind: word, Values: []string{"composer-upright", "composer-italic"}, Doc: "The two traditions of telling the composer's digits from the editor's: the composer upright and bold with the editor in smaller italics, or the composer in italics with the editor upright. Sets the looks below; each can still be set alone."},
	}
	keys = append(keys, makeCourtesyKeys()...)
	for _, who := range Responsibilities {
		m := "marks." + who + "."
		keys = append(keys,
			Key{Path: m + "italic", kind: yesNo, Doc: "Whether digits of " + who + " responsibility are italic."},
			Key{Path: m + "bold", kind: yesNo, Doc: "Whether they are bold."},
			Key{Path: m + "size", kind: size, Doc: "Their size in points (7.5), or a word: small, medium, large; none for the engraver's own."},
			Key{Path: m + "colour", kind: colour, Doc: "Their colour as #rrggbb, none for black. Never the only difference: pages are printed in black."},
			Key{Path: m + "enclosure", kind: word, Values: []string{"none", "parentheses", "brackets"}, Doc: "What stands around them. Digits that stand in the text keep their own."},
			Key{Path: m + "placement", kind: word, Values: placements, Doc: "Where they stand when they are added: as the house places all (`marks.placement`), outside the system, between the staves (inside), above or below the staff, or wherever the engraver puts them."},
		)
	}
	keys = append(keys, makeMarkKeys()...)
	return append(keys,
		Key{Path: "signs.language", kind: word, Values: []string{"it", "fr", "en", "de"}, Doc: "The language of hand signs: m.d./m.s., m.d./m.g., r.h./l.h. or r.H./l.H."},
		Key{Path: "tempo.default", kind: span, Low: 10, High: 400, Doc: "Beats a minute where neither a mark nor a word gives the tempo."},
		Key{Path: "tempo.words.*", kind: span, named: tempoWord, Low: 10, High: 400, Doc: "Beats a minute that a tempo word stands for, the word in small letters; of two that fit a text, the longer counts. Common practice, from memory: set your own."},
		Key{Path: "tempo.practice", kind: number, Low: 20, High: 100, Doc: "The tempo at which a piece is practised, in percent of its own: fingerings that are best there and collapse at the tempo are named."},
		Key{Path: "aims.comfort", kind: number, Low: 0, High: 400, Doc: "How much comfort counts (stretch, position, passing, keys, repetition), in percent of the fitted weight."},
		Key{Path: "aims.line", kind: number, Low: 0, High: 400, Doc: "How much the line counts: joining under slurs, silent changes of finger, the leading voice on fingers that can lead. In percent; 0 leaves it out."},
		Key{Path: "aims.memory", kind: number, Low: 0, High: 400, Doc: "How much memory counts: patterns, handbook runs, passages that return. In percent."},
		Key{Path: "aims.habit", kind: number, Low: 0, High: 400, Doc: "How much the habit of editors counts: what is printed in such places in the fitted material. In percent."},
		Key{Path: "aims.tempo", kind: number, Low: 0, High: 400, Doc: "How much the tempo counts: what is hard at speed. In percent; 0 fingers for slow practice."},
		Key{Path: "aims.reach", kind: number, Low: 0, High: 400, Doc: "How much it counts that many hands can take a grip. In percent."},
		Key{Path: "memory.exact", kind: number, Low: 0, High: 20000, Doc: "What the finger of a note may cost more, in thousandths, so that a passage that returns exactly is fingered as the first time; 0 lets each be fingered for itself. `aims.memory` counts on top."},
		Key{Path: "memory.transposed", kind: number, Low: 0, High: 20000, Doc: "The same for a passage that returns on other keys: a sequence, or a second subject brought home. What black and white keys forbid costs more than this, and gives way."},
		Key{Path: "memory.mirrored", kind: number, Low: 0, High: 20000, Doc: "The same for a passage that the other hand takes up upside down, or plays against it."},
		Key{Path: "hands.octave", kind: number, Low: 0, High: 100, Doc: "Share of octave hands in the mix of hands whose comfort is sought; all three 0: the one `hand`. The limits stay those of `hand`."},
		Key{Path: "hands.ninth", kind: number, Low: 0, High: 100, Doc: "Share of ninth hands in the mix."},
		Key{Path: "hands.tenth", kind: number, Low: 0, High: 100, Doc: "Share of tenth hands in the mix."},
		Key{Path: "smaller_hand", kind: word, Values: []string{"none", "octave", "ninth"}, Doc: "A smaller hand for which an alternative is worked out wherever the fingering exceeds it."},
		Key{Path: "redistribute.reach", kind: yesNo, Doc: "Whether notes are offered to the other hand where a grip is out of reach."},
		Key{Path: "redistribute.speed", kind: yesNo, Doc: "The same where a leap leaves too little time at the marked tempo."},
		Key{Path: "redistribute.line", kind: yesNo, Doc: "The same where a slurred line or bass must connect and cannot."},
		Key{Path: "redistribute.rhythm", kind: yesNo, Doc: "The same where one hand has two rhythms against each other that two hands would make clear."},
		Key{Path: "redistribute.held", kind: yesNo, Doc: "The same where a key cannot be held for as long as it is written and no pedal is marked."},
		Key{Path: "redistribute.collision", kind: yesNo, Doc: "The same where the hands lie between one another or meet on one key."},
		Key{Path: "redistribute.threshold", kind: number, Low: 0, High: 100000, Doc: "What a redistribution has to gain, in thousandths of the effort's unit, both hands and the change itself counted."},
		Key{Path: "redistribute.per_page", kind: number, Low: 0, High: 50, Doc: "How many redistributions a page may have, the best first; 0 for any number."},
		Key{Path: "redistribute.marks", kind: word, Values: []string{"none", "bracket", "sign"}, Doc: "How suggested redistributions stand in the edition: not at all, in a bracket on the side of the hand that may take them, or by hand signs in `signs.language`."},
		Key{Path: "redistribute.notation", kind: word, Values: []string{"as-written", "other-staff"}, Doc: "Where redistributed notes stand: where the text has them, or on the staff of the hand that takes them, each kept in its voice. The second changes the layout of the text."},
		Key{Path: "instrument", kind: word, Values: []string{"grand", "upright", "period"}, Doc: "The instrument that is thought of: it bears on how fast one finger may repeat a key. Provisional, from memory."},
		Key{Path: "change_ms", kind: number, Low: 100, High: 3000, Doc: "The time a silent change of finger needs, in milliseconds; faster ones are not suggested."},
		Key{Path: "touch.finger_pedal", kind: yesNo, Doc: "Whether the keys of broken chords under a slur are held as long as the hand can (finger pedalling), where no pedal is marked."},
		Key{Path: "touch.default", kind: word, Values: touches, Doc: "How notes are joined that no slur, dot or line marks: legato (held for what they are worth), non-legato (a little less) or detached (half)."},
		Key{Path: "touch.before.*", kind: word, named: year, Values: touches, Doc: "How unmarked notes are joined in pieces written before a year (the piece's `year` in the manifest); the nearest year after it counts."},
		Key{Path: "lint.*", kind: word, Values: severities, Doc: "The severity of one rule of `lint`: error, warning, note, or off."},
		Key{Path: "lint_options.reach_share", kind: number, Low: 0, High: 100, Doc: "Grips that fewer adult pianists can take than this share, in percent, are reported; 0 reports none."},
		Key{Path: "lint_options.wide_span", kind: number, Low: 50, High: 100, Doc: "Spans are reported as wide from this share, in percent, of what the two fingers can span at most."},
		Key{Path: "lint_options.returns", kind: word, Values: []string{"none", "exact", "transposed", "all"}, Doc: "Which passages that return should be fingered alike: those on the same keys (exact), transposed ones as well, or all, those that the other hand mirrors included."},
		Key{Path: "fail_on", kind: word, Values: []string{"error", "warning", "note", "never"}, Doc: "The mildest finding that makes `run` and `lint` end with status 1."},
	)
}

var touches = []string{"legato", "non-legato", "detached"}

// match finds the key that a name below a prefix ("marks.editor.") is written
// for. A name with a dot is one name, never a way into a section.
func match(prefix, name string) (Key, bool) {
	for _, k := range allKeys() {
		if stem, star := strings.CutSuffix(k.Path, "*"); star && stem == prefix && name != "" ||
			!star && k.Path == prefix+name && !strings.Contains(name, ".") {
			k.Path = prefix + name
			return k, true
		}
	}
	return Key{}, false
}

// isSection reports whether keys stand below a name below a prefix.
func isSection(prefix, name string) bool {
	return !strings.Contains(name, ".") && slices.ContainsFunc(allKeys(), func(k Key) bool { return strings.HasPrefix(k.Path, prefix+name+".") })
}

// below lists the names that may follow a path, for hints.
func below(prefix string) []string {
	var out []string
	for _, k := range allKeys() {
		rest, in := strings.CutPrefix(k.Path, prefix)
		if !in {
			continue
		}
		name, _, _ := strings.Cut(rest, ".")
		if !slices.Contains(out, name) && name != "*" {
			out = append(out, name)
		}
	}
	return out
}

// isKey reports whether a path is that of a key, names that users give included.
func isKey(path string) bool {
	return slices.ContainsFunc(allKeys(), func(k Key) bool {
		stem, star := strings.CutSuffix(k.Path, "*")
		return k.Path == path || star && strings.HasPrefix(path, stem) && path != stem
	})
}

// isNamed reports whether a path ends in a name that the user gives.
func isNamed(path string) bool {
	return slices.ContainsFunc(allKeys(), func(k Key) bool {
		stem, star := strings.CutSuffix(k.Path, "*")
		return star && strings.HasPrefix(path, stem) && path != stem
	})
}
