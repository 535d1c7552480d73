package state

import (
	"fmt"
	"strings"
)

// Sentence is a finding in one line that stands alone and names the place as
// a musician would: "m. 42, right hand: …".
func (f Finding) Sentence() string {
	place := "m. " + f.Measure
	switch f.Hand.String() {
	case "R":
		place += ", right hand"
	case "L":
		place += ", left hand"
	}
	return place + ": " + strings.Join(strings.Fields(f.Message), " ")
}

// String says how many findings there are: "2 errors, 1 warning, 14 notes".
func (c Counts) String() string {
	var parts []string
	for _, p := range []struct {
		n    int
		name string
	}{{c.Error, "error"}, {c.Warning, "warning"}, {c.Note, "note"}} {
		switch p.n {
		case 0:
		case 1:
			parts = append(parts, "1 "+p.name)
		default:
			parts = append(parts, fmt.Sprintf("%d %ss", p.n, p.name))
		}
	}
	if len(parts) == 0 {
		return "no findings"
	}
	return strings.Join(parts, ", ")
}

// Total counts findings of any severity.
func (c Counts) Total() int { return c.Error + c.Warning + c.Note }
