package decision

import (
	"fmt"
	"strings"

	"fingerproof/corpus/wording"
)

// Remove takes entries out of the text of a file of decisions, by the lines at which they begin, counted from 1. What stands
// beside them is left as it is. The outcome is read once more before it is given.
func Remove(file string, data []byte, lines []int) ([]byte, error) {
	all, _, err := Parse(file, data)
	if err != nil {
		return nil, err
	}
	out := map[int]bool{} // lines of the text, from 0
	for _, line := range lines {
		var found *Decision
		var begins []string
		for i := range all {
			begins = append(begins, fmt.Sprint(all[i].Line))
			if all[i].Line == line {
				found = &all[i]
			}
		}
		if found == nil {
			return nil, fmt.Errorf("no entry of %s begins in line %d\nhint: entries begin in lines %s", file, line, wording.List(begins))
		}
		if found.Written == "" {
			return nil, fmt.Errorf("the entry at %s:%d has no lines of its own\nhint: take it out by hand", file, line)
		}
		for k := range strings.Count(found.Written, "\n") {
			out[line-1+k] = true
		}
	}
	var b strings.Builder
	for i, text := range strings.SplitAfter(string(data), "\n") {
		if !out[i] {
			b.WriteString(text)
		}
	}
	left, _, err := Parse(file, []byte(b.String()))
	if err != nil || len(left) != len(all)-len(unique(lines)) {
		return nil, fmt.Errorf("the entry cannot be taken out of %s without harm to what stands beside it\n"+
			"hint: take it out by hand; nothing was written", file)
	}
	return []byte(b.String()), nil
}

func unique(lines []int) map[int]bool {
	out := map[int]bool{}
	for _, l := range lines {
		out[l] = true
	}
	return out
}
