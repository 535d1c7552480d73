package all

import (
	"embed"
	"regexp"
	"strconv"
	"strings"

	"fingerproof/rules/lint"
)

//go:embed examples
var examples embed.FS

// Example is a short score in whose first measures a rule reports something, and in the next ones, which are the same
// put right, nothing. Where the fault lies in the piece as a whole, what is put right is a score of its own.
type Example struct {
	MusicXML     []byte
	Wrong, Right int    // how many measures there are of each
	Policy       string // the shipped house style under which it is reported; "": the default
	Digits       string // whose its digits are, as a manifest says it
	Beside       []Beside
	// PutRight is the same put right where that is a score of its own: it begins with its measures, and nothing is wrong
	// in it. Nil: MusicXML goes on with them.
	PutRight *Example
}

// Beside is a file that stands beside the score of an example, without which there would be no fault.
type Beside struct {
	Kind BesideKind
	Name string // the initials of the editor who decided, the siglum of the witness
	Text []byte
}

// BesideKind says what stands beside a score.
type BesideKind int

// What stands beside a score, and how its file is named in examples: RULE.policy.yaml, RULE.INITIALS.yaml and
// RULE.SIGLUM.musicxml.
const (
	HouseStyle BesideKind = iota
	Decisions
	Witness
)

var said = regexp.MustCompile(`<!-- (policy|digits) (\w+) -->`)

var extent = regexp.MustCompile(`<!-- wrong (\d+) right (\d+) -->`)

// ExampleOf gives the example of a rule; false where there is none. The score says
// in comments how many measures belong together, where it is more than one each, and under what it is linted.
func ExampleOf(r *lint.Rule) (Example, bool) {
	e, is := exampleIn(r.Name + ".musicxml")
	if !is {
		return Example{}, false
	}
	e.Beside = besides(r.Name)
	if right, own := exampleIn(r.Name + putRight); own {
		right.Wrong, right.Right = 0, e.Right
		e.PutRight = &right
	}
	return e, true
}

// putRight ends the name of a score that is the example of a rule put right.
const putRight = ".right.musicxml"

// exampleIn reads the score of an example; false where there is none of the name.
func exampleIn(file string) (Example, bool) {
	data, err := examples.ReadFile("examples/" + file)
	if err != nil {
		return Example{}, false
	}
	e := Example{MusicXML: data, Wrong: 1, Right: 1}
	for _, m := range said.FindAllSubmatch(data, -1) {
		if string(m[1]) == "policy" {
			e.Policy = string(m[2])
		} else {
			e.Digits = string(m[2])
		}
	}
	if m := extent.FindSubmatch(data); m != nil {
		e.Wrong, _ = strconv.Atoi(string(m[1]))
		e.Right, _ = strconv.Atoi(string(m[2]))
	}
	return e, true
}

// besides lists what stands beside the example of a rule, sorted by name.
func besides(rule string) (out []Beside) {
	entries, err := examples.ReadDir("examples")
	if err != nil {
		panic(err) // embedded
	}
	for _, entry := range entries {
		rest, own := strings.CutPrefix(entry.Name(), rule+".")
		name, ending, more := strings.Cut(rest, ".")
		if !own || !more || "."+rest == putRight {
			continue
		}
		text, err := examples.ReadFile("examples/" + entry.Name())
		if err != nil {
			panic(err) // embedded
		}
		b := Beside{Decisions, name, text}
		switch {
		case ending == "musicxml":
			b.Kind = Witness
		case name == "policy":
			b.Kind, b.Name = HouseStyle, ""
		}
		out = append(out, b)
	}
	return out
}
