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
	Wrong, Right int // how many measures there are of each
}

var extent = regexp.MustCompile(`<!-- wrong (\d+) right (\d+) -->`)

// ExampleOf gives the example of a rule; false where its fault does not lie in the music of one piece. The score says
// in a comment how many measures belong together, where it is more than one each.
func ExampleOf(r *lint.Rule) (Example, bool) {
	data, err := examples.ReadFile("examples/" + r.Name + ".musicxml")
	if err != nil {
		return Example{}, false
	}
	e := Example{data, 1, 1}
	if m := extent.FindSubmatch(data); m != nil {
		e.Wrong, _ = strconv.Atoi(string(m[1]))
		e.Right, _ = strconv.Atoi(string(m[2]))
	}
	return e, true
}
