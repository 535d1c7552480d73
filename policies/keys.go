package policies

import (
	"slices"
	"strings"
	"sync"

	"fingerproof/corpus/printwords"
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

// makeKeys puts the keys together; its order is that of the reference.
func makeKeys() []Key {
	return slices.Concat(
		makeStyleKeys(), makeCourtesyKeys(), makeLookKeys(), makeMarkKeys(),
		makeTempoKeys(), makeAimKeys(), makeRedistributionKeys(), makeRollKeys(), makeTouchKeys(), makeLintKeys(),
	)
}

// makeStyleKeys are the keys that say what an edition is.
func makeStyleKeys() []Key {
	return []Key{
		{Path: "title", kind: text, Doc: "What this house style is called on pages and in the commentary."},
		{
			Path: "language", kind: word, Values: printwords.Languages,
			Doc: "The language in which the edition prints: legend, preface, commentary with its reasons. Hand signs have " +
				"`signs.language`, and what editors write stands as they wrote it.",
		},
		{
			Path: "hand", kind: word, Values: []string{"octave", "ninth", "tenth"},
			Doc: "The hand the edition is fingered for, by what it takes with ease: octave (190 mm), ninth (210 mm) " +
				"or tenth (230 mm). Nothing beyond it is suggested without saying so.",
		},
		{
			Path: "span_mm", kind: number, Low: 120, High: 300, orZero: true,
			Doc: "A measured hand in place of a named one: thumb tip to tip of the little finger at full stretch, " +
				"in millimetres; 0 where `hand` speaks.",
		},
		{
			Path: "digits", kind: word,
			Values: []string{"every-note", "study", "performance", "sparse", "composer-only"},
			Doc: "How many digits are printed: on every note; many, as for study; few, as for performance; the " +
				"fewest from which the fingering can be read; or the composer's alone, with nothing that is open " +
				"(those of witnesses by `witness.prints`).",
		},
		{
			Path: "density", kind: number, Low: 1, High: 100, orZero: true,
			Doc: "At how many notes in a hundred a digit stands, in study, performance and sparse: where editors print " +
				"them most, and where the fingering could not be read otherwise. It is the mean of much music: as in print, " +
				"a piece in which the hand moves much has more digits and an easy one fewer. 0 for the usual: 44 in " +
				"study, 24 in performance; in sparse as few as the fingering can be read from, in much music about 20. No style " +
				"prints fewer than those, whatever is asked for.",
		},
		{
			Path: "figures", kind: word, Values: []string{"first", "each"},
			Doc: "A figure that comes again at once, as in an accompaniment, has its digits the first time only, or " +
				"each time.",
		},
		{
			Path: "text_digits", kind: word, Values: []string{"composer", "earlier", "editor"},
			Doc: "Whose the digits are that stand in the text already, where nothing else says so.",
		},
		{
			Path: "composer.constrains", kind: yesNo,
			Doc: "Whether digits that stand in the text bind the suggestion. If not, they still stand in print, and " +
				"the suggestion goes its own way; what of it is set beside them `beside.composer` says.",
		},
		{
			Path: "marks.tradition", kind: word, Values: []string{"composer-upright", "composer-italic"},
			Doc: "The two traditions of telling the composer's digits from the editor's: the composer upright and " +
				"bold with the editor in smaller italics, or the composer in italics with the editor upright. Sets " +
				"the looks below; each can still be set alone.",
		},
	}
}

// makeLintKeys are the keys of findings.
func makeLintKeys() []Key {
	return []Key{
		{
			Path: "lint.*", kind: word, Values: severities,
			Doc: "The severity of one rule of `lint`: error, warning, note, or off.",
		},
		{
			Path: "lint_options.reach_share", kind: number, Low: 0, High: 100,
			Doc: "Grips that fewer adult pianists can take than this share, in percent, are reported; 0 reports none.",
		},
		{
			Path: "lint_options.wide_span", kind: number, Low: 50, High: 100,
			Doc: "Spans are reported as wide from this share, in percent, of what the two fingers can span at most.",
		},
		{
			Path: "lint_options.returns", kind: word, Values: []string{"none", "exact", "transposed", "all"},
			Doc: "Which passages that return should be fingered alike: those on the same keys (exact), transposed " +
				"ones as well, or all, those that the other hand mirrors included.",
		},
		{
			Path: "lint_options.personal", kind: number, Low: 500, High: 50000, orZero: true,
			Doc: "How personal an edition may be: what a passage that an editor fingered may cost most hands more than the best " +
				"for them, in thousandths of the effort's unit, before it is reported; less for a volume for amateurs, more for " +
				"studies for professionals; 0 reports none. 3000 is a fingering that hardly one in twenty would choose.",
		},
		{
			Path: "lint_options.text", kind: yesNo,
			Doc: "Whether `lint` looks at the text as well: slurs, hairpins, accidentals, note values, numbers of measures and " +
				"the like. An edition that adds fingering alone may leave it; a rule whose severity is set is run all the same.",
		},
		{
			Path: "fail_on", kind: word, Values: []string{"error", "warning", "note", "never"},
			Doc: "The mildest finding that makes `run` and `lint` end with status 1, and for which `pass` holds a piece back.",
		},
	}
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
	return !strings.Contains(name, ".") &&
		slices.ContainsFunc(allKeys(), func(k Key) bool { return strings.HasPrefix(k.Path, prefix+name+".") })
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
