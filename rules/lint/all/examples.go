package all

import (
	"embed"
	"regexp"
	"strconv"

	"fingerproof/rules/lint"
)

//go:embed examples/*.musicxml
var examples embed.FS

// Example is a short score in whose first measures a rule reports something, and in the next ones, which are the same
// put right, nothing.
type Example struct {
	MusicXML     []byte
	Wrong, Right int    // how many measures there are of each
	Policy       string // the shipped house style under which it is reported; "": the default
	Digits       string // whose its digits are, as a manifest says it
}

var said = regexp.MustCompile(`<!-- (policy|digits) (\w+) -->`)

var extent = regexp.MustCompile(`<!-- wrong (\d+) right (\d+) -->`)

// ExampleOf gives the example of a rule; false where its fault does not lie in the music of one piece. The score says
// in comments how many measures belong together, where it is more than one each, and under what it is linted.
func ExampleOf(r *lint.Rule) (Example, bool) {
	data, err := examples.ReadFile("examples/" + r.Name + ".musicxml")
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
