package all_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus/shared"
	"fingerproof/rules/lint/all"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Since the scores want whole messages, garbling a text that any of them reaches fails
// TestRulesFindWhatTheScoresWant. This test sees to it that they reach every text: each one in the sources of a rule,
// and each from which others word its findings, must stand in a finding that a score wants of that rule.
func TestScoresWantEveryMessage(t *testing.T) {
	wanted := map[string][]string{}
	for _, file := range testScores(t) {
		for _, e := range expectations(t, file) {
			wanted[e.rule] = append(wanted[e.rule], e.text)
		}
	}
	for _, r := range all.Rules() {
		texts := textsOfRule(t, r.Name)
		for _, text := range notPrinted[r.Name] {
			require.Contains(t, texts, text, "%s: not printed, and not there either", r.Name)
		}
		printed := slices.DeleteFunc(slices.Clone(texts), func(text string) bool {
			return slices.Contains(notPrinted[r.Name], text)
		})
		slices.Sort(printed)
		require.Len(
			t, slices.Compact(slices.Clone(printed)), len(printed),
			"%s: of two places with one text a score may reach only one: %q", r.Name, printed,
		)
		for _, text := range printed {
			assert.True(t, anyHas(wanted[r.Name], text), "no score of testdata/ wants %s to say %q; where no finding prints it, it belongs into notPrinted", r.Name, text)
		}
	}
	for _, w := range wordedElsewhere {
		var texts, wantedOf []string
		for _, rule := range w.rules {
			require.NotNil(t, all.Rule(rule), rule)
			wantedOf = append(wantedOf, wanted[rule]...)
		}
		for _, tree := range sources(t, w.folder) {
			texts = append(texts, textsWhere(t, tree, w.in)...)
		}
		require.NotEmpty(t, texts, "%s words nothing any more", w.folder)
		for _, text := range texts {
			assert.True(t, anyHas(wantedOf, text), "%s: no score wants %q of any of %v", w.folder, text, w.rules)
		}
	}
}

// notPrinted are the texts in the sources of a rule that no finding prints: what is read, and words of the policy.
var notPrinted = map[string][]string{
	"measure-does-not-add-up": {"mei"},
	"barline-doubtful":        {`(?i)^\W*(a tempo|tempo (I|1|primo)\b|pi[uù] |meno |poco |un poco )`, "final barline", `(?i)\b(attac+a|segue|seque)\b`},
	"key-doubtful":            {"CDEFGAB", "key of its own", "flat"}, // letters; what is left alone; half of a pair of words
	"words-contradict": {
		`largo|larghetto|lento|grave|adagio|langsam|lent|lentement`, `allegro|allegretto|presto|prestissimo|vivace|vivo|schnell|lebhaft|vif`,
		`rit|riten|ritard|ritenuto|ritardando|rall|rallent|rallentando|slentando`, `accel|accelerando|string|stringendo|affrettando`,
		`pi[uùú]'? mosso|pi[uùú] vivo|pi[uùú] allegro`, `meno mosso|meno vivo|meno allegro|pi[uùú] lento`, `una corda|u\. ?c\.`, `tre corde|t\. ?c\.`,
		`con sord|con sordin[oi]`, `senza sord|senza sordin[oi]`, `legato|legatissimo`, `staccato|staccatissimo|stacc`,
		`(?i)^\W*((un )?poco |molto |sempre )?(`, `)([\s.,]|$)`,
	},
	"sign-doubled": {`^(\pL{3,})[.,]? (\pL{3,})[.,]?$`, `(?i)^(poco|molto|sempre|più|piu|sehr|très) `, "word "},
	"tempo-doubtful": {
		`(?i)^\W*(largo|larghetto|lento|grave|adagio|langsam)\b`, `(?i)^\W*(allegro|presto|prestissimo|vivace|schnell)\b`,
		`(?i)\b(ma|non|quasi|moderato|maestoso|poi|sostenuto|alla|mosso)\b`,
	},
	"syllables-do-not-join": {`\pL`, `\pL[0-9]|[0-9]\pL`, `^\W*[0-9]+[.:)]?\s*\pL{2}`},
	"digit-as-text":         {`^[(\[]?[1-5](?:[-–\s]*[1-5]){0,4}[)\]]?$`, `^(string|pluck|fret) \S+$|^(toe|heel)\b`, "other technical "},
	"dynamics-contradict": {
		"^(p+|m[pf]|f+)$", "^(p+|m[pf]|f+){2,}$", "fp", "ffp", "fpp", "ffpp", "pf", "mfp", // what is left alone
		`(?i)^(poco )?cresc`, `(?i)^(poco )?(dim|decresc)`, `(?i)\bsub(ito)?\b`, "both ways", "pppp", "ppp", "mp", "mf", "fff", "ffff",
		`(?i)volta|\b(1|2|I|II)[.:]?(ma|da|a|de|me|re)\b|first time|second time|bis`,
	},
	"tuplet-does-not-add-up": {"no number", `^(?:number of the tuplet|both numbers of the tuplet) (\d+)`},
	"line-without-end":       {"8va", "8vb", "15ma", "15mb", `(?i)^\W*(con|col|mit|avec|with|sempre|simile|sim\.)\W*(il\s+)?(p[eé]d\S*)?\W*(simile|sempre)?\W*$`},
	"jump-without-target": {
		`(?i)^\W*(rall|rit|dim|decresc|cresc|accel|string|morendo|smorz|perdendo|calando|sempre|pi[uù]|poco)`,
		`(?i)\bfin(e\b|[èé]|\W*$)`, `(?i)\b(al|a|alla|au|zum|to)\s+fin(e\b|[èé])`, `(?i)\bcoda\b`, `(?i)\b(al|alla|to|zur|la|à la)\s+coda\b`,
		`(?i)\bd\W{0,3}c(apo)?\b|da\s*capo|von vorn|from the beginning`, `(?i)\bd\W{0,3}s\b|d\W?al\s*segn|from the sign|vom zeichen`,
		`(?i)^\W*\pL{3,}\W+d(a|al|\W{0,3}[cs])\b`, `(?i)segn|zeichen|\bsign\b|[𝄋%§$]`, "segno sign", "coda sign", "fine", "al fine", "coda", "to coda", "back", "from segno", "of segno",
	},
	"clef-doubtful":         {"percussion clef", "TAB clef", "none clef", " clef", "8 below", "15 below", `^(baritone|French violin) clef|^[GF] clef on line [1-5]`},
	"spelling-doubtful":     {"CDEFGAB"},
	"change-without-effect": {`(?i)\b(attac+a|segue|seque)\b`, "after all"},
	"word-misspelt": {
		`[\p{L}]+`, `^[b-df-hj-np-tv-xz]{1,4}$`, "pocco", "pocho", "pocoo", "menno", "motto", "molo", "assaj", "asai", "dolcce", "dollce", "lentto", "temppo", "tempp", "cressc", "ritt", "poco", "meno", "molto", "assai", "dolce", "lento", "tempo", "rit", "^(p+|m[pf]|f+){2,}$", `^(p+|f+|m[pf]|[sr]?f+z?(p+|mp|mf)?|mfz|sp+|m?fp+|p+f+|psfz?|[mrsz])$`,
		"forte", "piano", "anima", "largo", "mosso", "moto", "er", "en", "es", "e", "aeiou", `[ÃÂ][\x{80}-\x{BF}]|Ã[ŸŠŽœžšƒ„…†‡ˆ‰‹‘’“”•–—™›]|â€|Å[\x{80}-\x{BF}‚›„]`, "rn", "m", "rail", "encoding", "dynamic ", "word ", "cresc", "dimin", "decresc", "riten", "ritard", "rallent", "accel", "stacc", "sosten", "espr",
	},
	"notation-odd": {
		"x", "slash", "triangle", "square", "cross", "inverted triangle", "circle x", "slashed", "mordent", "inverted-mordent", "staccatissimo", "accent", "strong accent", "tenuto", "portato", "spiccato", "stress", "unstress",
	},
	"voice-lost":               {`(?i)\bp[eé]d(\.|al|$)`, `(?i)\b(senza|sans|ohne|without|no|una corda)\b`},
	"octave-line-doubtful":     {"15mb", "22ma", "22mb", "15m", "8v"},
	"sign-of-other-instrument": {`^(up bow|down bow|open string|harmonic|stopped|open|snap pizzicato|thumb position|double tongue|triple tongue|hammer on|pull off|bend|tap|half muted|brass bend|flip|smear|hole)(\s|$)`, `(?i)^\W*(div(\.|isi\b)|unis(\.|oni\b|$)|arco\b|col legno\b|spicc(\.|ato\b)|sul (ponticello|tasto|[gdae]\b)|punta d'arco|am steg|gestrichen|a (2|due) archi)`, `(?i)^\W*pizz(\.|icat[oi]\b|$)`}, // what is read
	"repeat-without-end":       {`(?i)^\W*(trio\b|var(iation|iazione|\.|:)|finale\b|coda\b)`, `(?i)^\W*fine\W*$`, "barline of a repeat", "heavy and light barline", "double barline", "final barline", "double heavy barline"},
	"return-differs":           {"exact", "transposed", "all"},
	"sign-in-other-language": {
		"it", "fr", "en", "de", "mano", "main", "hand", "md", "ms", "mg", "rh", "lh", "rH", "lH",
		"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ",
	},
}

// wordedElsewhere are the places outside the rules' folders where findings get their words.
var wordedElsewhere = []struct {
	folder string
	in     func(ast.Node) bool // what holds the texts
	rules  []string
}{
	{"pipeline", function("", "remarksOf"), []string{"decision-query", "decision-stale"}},
	{"pipeline", function("", "contradiction"), []string{"decision-contradiction"}},
	{"pipeline", function("", "expired"), []string{"decision-stale"}},
	{"pipeline", function("", "idle"), []string{"decision-stale"}},
	{"pipeline", function("", "unplaced"), []string{"decision-unplaced"}},
	{"pipeline", function("placer", "notes"), []string{"decision-unplaced"}},
	{"pipeline", function("placer", "lastWords"), []string{"decision-stale"}},
	{"pipeline", function("Finder", "Find"), []string{"decision-unplaced"}},
	{"pipeline", constant("noteGone"), []string{"decision-unplaced"}},
	{"pipeline", function("Finder", "byContext"), []string{"decision-unplaced"}},
	{"corpus/musicxml", callOf("odd"), []string{
		"beam-against-value", "syllables-do-not-join", "digit-as-text", "gets-no-digits", "measure-does-not-add-up", "notation-odd", "repeat-without-end", "line-without-end",
		"tuplet-does-not-add-up", "value-unreadable",
	}},
	{"corpus/musicxml", callOf("except"), []string{"beam-against-value", "line-without-end", "notation-odd", "syllables-do-not-join", "tuplet-does-not-add-up", "value-unreadable"}},
	{"corpus/musicxml", callOf("unreadable"), []string{"value-unreadable"}},
	{"corpus/musicxml", callOf("number"), []string{"value-unreadable"}},
	{"corpus/musicxml", callOf("missing"), []string{"value-unreadable"}},
	{"corpus/musicxml", function("", "staffName"), []string{"measure-does-not-add-up"}},
	{"corpus/musicxml", function("", "quarters"), []string{"measure-does-not-add-up"}},
	{"corpus/musicxml", function("reader", "measureLengths"), []string{"measure-does-not-add-up"}},
	{"corpus/score", function("Hand", "Words"), []string{"redistribution-without-sign"}},
	{"corpus/wording", function("", "Count"), []string{"old-numbering-suspected"}},
	{"corpus/wording", function("", "List"), []string{"grip-out-of-reach"}},
}

// function says of a node that it is the function of a name: a method of a type, or a plain function where that is "".
func function(of, name string) func(ast.Node) bool {
	return func(n ast.Node) bool {
		f, is := n.(*ast.FuncDecl)
		if !is || f.Name.Name != name {
			return false
		}
		if f.Recv == nil {
			return of == ""
		}
		receiver := f.Recv.List[0].Type
		if star, is := receiver.(*ast.StarExpr); is {
			receiver = star.X
		}
		ident, is := receiver.(*ast.Ident)
		return is && ident.Name == of
	}
}

// callOf says of a node that it calls a method of a name.
func callOf(name string) func(ast.Node) bool {
	return func(n ast.Node) bool {
		call, is := n.(*ast.CallExpr)
		if !is {
			return false
		}
		s, is := call.Fun.(*ast.SelectorExpr)
		return is && s.Sel.Name == name
	}
}

// constant says of a node that it declares the constant of a name.
func constant(name string) func(ast.Node) bool {
	return func(n ast.Node) bool {
		v, is := n.(*ast.ValueSpec)
		return is && v.Names[0].Name == name
	}
}

// textsOfRule lists the texts in the sources of a rule, its documentation left out.
func textsOfRule(t *testing.T, rule string) (out []string) {
	for _, tree := range sources(t, "rules/lint/"+rule) {
		out = append(out, textsWhere(t, tree, func(n ast.Node) bool { return n == tree })...)
	}
	return out
}

// sources parses the Go files of a folder of the project and of those below it, tests left out.
func sources(t *testing.T, folder string) (out []*ast.File) {
	require.NoError(t, filepath.WalkDir(shared.InProject(folder), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		tree, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		out = append(out, tree)
		return err
	}))
	return out
}

var (
	letter = regexp.MustCompile(`\pL`)
	verb   = regexp.MustCompile(`%[-+ #0]*[0-9]*(\.[0-9]+)?[a-zA-Z%]`)
)

// textsWhere lists the texts with a letter in them below the nodes that are meant, imports and the documentation of
// rules left out.
func textsWhere(t *testing.T, tree ast.Node, meant func(ast.Node) bool) (out []string) {
	ast.Inspect(tree, func(n ast.Node) bool {
		if n == nil || !meant(n) {
			return true
		}
		ast.Inspect(n, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.CompositeLit:
				if s, is := n.Type.(*ast.SelectorExpr); is && s.Sel.Name == "Rule" {
					return false
				}
			case *ast.BasicLit:
				if n.Kind != token.STRING {
					return true
				}
				text, err := strconv.Unquote(n.Value)
				require.NoError(t, err)
				if letter.MatchString(verb.ReplaceAllString(text, "")) {
					out = append(out, text)
				}
			}
			return true
		})
		return false
	})
	return out
}

// anyHas says that a text, with anything in the place of its verbs, stands in one of some messages, as whole words.
func anyHas(messages []string, text string) bool {
	pattern := ""
	for _, part := range verb.Split(text, -1) {
		if pattern != "" {
			pattern += ".*"
		}
		pattern += regexp.QuoteMeta(part)
	}
	if letter.MatchString(text[:1]) {
		pattern = `\b` + pattern
	}
	if letter.MatchString(text[len(text)-1:]) {
		pattern += `\b`
	}
	is := regexp.MustCompile(pattern)
	return slices.ContainsFunc(messages, is.MatchString)
}
