// Package policytest runs the tests that a house style carries: small passages
// with the digits, the printed digits or the findings that the style should
// give. They go through all stages.
package policytest

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/strictyaml"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"

	"gopkg.in/yaml.v3"
)

// Test is one passage with what is expected of it.
type Test struct {
	Name      string
	Right     string // see music
	Left      string
	Time      string // "4/4"
	Tempo     int    // quarters a minute, 0: as the policy says
	Digits    []string
	Printed   []string
	Marks     []string
	Findings  []string
	has       map[string]bool // which expectations stand
	line      int
	file, why string
}

// Example shows a file of tests; the help shows it.
const Example = `policy: study              # a shipped style or a file; left out: the policy asked for
tests:
  - name: five fingers on five keys
    why: the handbook
    right: C4/8 D4 E4 F4 G4/2
    digits: 1 2 3 4 5                # a dot for any; chords from the lowest key: 1+3+5
    printed: x . . . .               # x printed, o not, a dot for either
  - name: a digit on a tie
    right: G4/2=5 ~G4/2=5
    findings: [needless-digit-on-tie]
`

// Outcome is what became of one test.
type Outcome struct {
	Test   *Test
	Faults []string // empty: as expected
}

// Parse reads a file of tests. style is the policy it names, "" for none.
func Parse(file string, data []byte) (tests []Test, style string, err error) {
	r, root, err := strictyaml.Parse(file, data)
	if err != nil {
		return nil, "", err
	}
	none := fmt.Errorf("%s holds no test\nhint: `fingerproof policy test --help` shows how one is written", file)
	if root == nil {
		return nil, "", none
	}
	r.Mapping(root, "a file of tests", func(name string, k, v *yaml.Node) {
		switch name {
		case "policy":
			style, _ = r.Text(v, name)
		case "tests":
			r.List(v, name, func(n *yaml.Node) { tests = append(tests, readTest(r, n, file)) })
		default:
			r.Unknown(k, []string{"policy", "tests"})
		}
	})
	if err := r.Err(); err != nil || len(tests) > 0 {
		return tests, style, err
	}
	return nil, style, none
}

// anything says that an expectation asks for nothing: dots alone, which any outcome meets.
func anything(words []string) bool {
	return !slices.ContainsFunc(words, func(w string) bool { return w != "." })
}

var testKeys = []string{"name", "why", "right", "left", "time", "tempo", "digits", "printed", "marks", "findings"}

func readTest(r *strictyaml.Reader, n *yaml.Node, file string) Test {
	t := Test{Time: "4/4", has: map[string]bool{}, line: n.Line, file: file}
	r.Mapping(n, "a test", func(name string, k, v *yaml.Node) {
		t.has[name] = true
		words := func() []string {
			s, _ := r.Text(v, name)
			return strings.Fields(s)
		}
		switch name {
		case "name":
			t.Name, _ = r.Text(v, name)
		case "why":
			t.why, _ = r.Text(v, name)
		case "right":
			t.Right, _ = r.Text(v, name)
		case "left":
			t.Left, _ = r.Text(v, name)
		case "time":
			t.Time, _ = r.Text(v, name)
		case "tempo":
			t.Tempo, _ = r.Int(v, name, 10, 400)
		case "digits":
			t.Digits = words()
		case "printed":
			t.Printed = words()
		case "marks":
			t.Marks = words()
		case "findings":
			r.List(v, name, func(e *yaml.Node) {
				s, _ := r.Text(e, "a finding")
				if i := slices.IndexFunc(all.Rules(), func(rule *lint.Rule) bool { return rule.Name == s }); i < 0 && s != "" {
					r.Fault(e, "there is no rule of lint "+strictyaml.Quote(s), "`fingerproof explain --list` names the rules")
				}
				t.Findings = append(t.Findings, s)
			})
			slices.Sort(t.Findings)
		default:
			r.Unknown(k, testKeys)
		}
	})
	if n.Kind == yaml.MappingNode {
		switch {
		case t.Name == "":
			r.Fault(n, "a test needs a name", "")
		case t.Right == "" && t.Left == "":
			r.Fault(n, "a test needs music", "right: C4/8 D4 E4")
		case anything(t.Digits) && anything(t.Printed) && anything(t.Marks) && !t.has["findings"]:
			r.Fault(n, "the test expects nothing", "add digits, printed, marks or findings, and not dots alone")
		}
		if _, err := music(&t); err != nil {
			r.Fault(n, err.Error(),
				"notes as C4/8 D4 E4+G4/4, r for a rest, =3 for a digit that stands there, "+
					"~ for a tie from the note before")
		}
	}
	return t
}

// Run tries one passage under a policy.
func Run(t *Test, policy *policies.Policy, weights *pipeline.Weights) Outcome {
	out := Outcome{Test: t}
	data, err := music(t)
	if err != nil {
		out.Faults = []string{err.Error()}
		return out
	}
	piece := &corpus.Piece{ID: "test", Score: "test.musicxml", Scoring: corpus.TwoHands}
	if t.Tempo > 0 {
		piece.Tempo = corpus.Tempo{Low: t.Tempo, High: t.Tempo}
	}
	w := &pipeline.PieceRun{Piece: piece, Data: data, Policy: policy, Weights: weights, Edition: "test.musicxml"}
	if err := pipeline.RunPiece(w); err != nil {
		out.Faults = []string{err.Error()}
		return out
	}
	digits, printed, marks := strokes(w)
	fault := func(what string, want, got []string, same func(want, got string) bool) {
		if !t.has[what] {
			return
		}
		ok := len(want) == len(got)
		for i := 0; ok && i < len(want); i++ {
			ok = same(want[i], got[i])
		}
		if !ok {
			out.Faults = append(out.Faults,
				fmt.Sprintf("%s: expected %q, came out as %q", what, strings.Join(want, " "), strings.Join(got, " ")))
		}
	}
	equal := func(want, got string) bool { return want == "." || want == got }
	fault("digits", t.Digits, digits,
		func(want, got string) bool { return equal(want, got) || slices.Contains(strings.Split(want, "|"), got) })
	fault("printed", t.Printed, printed, equal)
	fault("marks", t.Marks, marks, equal)
	var found []string
	for _, f := range w.Result.Findings {
		found = append(found, f.Rule)
	}
	slices.Sort(found)
	fault("findings", t.Findings, found, equal)
	return out
}

// strokes gives fingers, printing and looks stroke by stroke, chords from the
// lowest key, the right hand before the left.
func strokes(w *pipeline.PieceRun) (digits, printed, marks []string) {
	for _, h := range []score.Hand{score.Right, score.Left} {
		var row []int
		for i := range w.Score.Notes {
			if w.Playing.Plays(i) && w.Playing.Hand(i) == h && w.Score.Notes[i].Struck() {
				row = append(row, i)
			}
		}
		slices.SortStableFunc(row, func(a, b int) int {
			if c := w.Score.At(a).Cmp(w.Score.At(b)); c != 0 {
				return c
			}
			return w.Score.Notes[a].Midi - w.Score.Notes[b].Midi
		})
		at := map[int]int{}
		for i := range w.Result.Notes {
			at[w.Result.Notes[i].N] = i
		}
		for i, n := range row {
			e := &w.Result.Notes[at[n]]
			digit := strconv.Itoa(e.Finger)
			for _, f := range e.Substitution {
				digit += "-" + strconv.Itoa(f)
			}
			stands, look := "o", "o"
			if e.Printed {
				stands, look = "x", lookOf(w, n)
			}
			if i > 0 && w.Score.At(n) == w.Score.At(row[i-1]) {
				k := len(digits) - 1
				digits[k] += "+" + digit
				printed[k] += "+" + stands
				marks[k] += "+" + look
				continue
			}
			digits, printed, marks = append(digits, digit), append(printed, stands), append(marks, look)
		}
	}
	return digits, printed, marks
}

// lookOf says how the digit at a note looks.
func lookOf(w *pipeline.PieceRun, n int) string {
	who := score.Open
	for k := range w.Score.Notes[n].Indications {
		who = w.Whose[n][k]
	}
	return lookWords(w.Policy.Style(who))
}

// lookWords names a look: "italic", "bold", its size, its colour and what
// encloses it, joined by commas; "plain" for none of them.
func lookWords(s score.Style) string {
	var out []string
	if s.Italic {
		out = append(out, "italic")
	}
	if s.Bold {
		out = append(out, "bold")
	}
	if s.Size != "" {
		out = append(out, s.Size)
	}
	if s.Colour != "" {
		out = append(out, s.Colour)
	}
	if s.Enclosure != "" {
		out = append(out, string(s.Enclosure))
	}
	if len(out) == 0 {
		return "plain"
	}
	return strings.Join(out, ",")
}

// Place names a test as an editor finds it.
func (t *Test) Place() string { return fmt.Sprintf("%s:%d: %s", t.file, t.line, t.Name) }
