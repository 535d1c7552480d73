package main

import (
	"fmt"
	"regexp"
	"strconv"

	"fingerproof/pipeline/4_services/keying"
)

// numberRange is a line that takes passages of the sheet together: "#10-20 ok"; a reason holds for all of them.
var numberRange = regexp.MustCompile(`^#(\d{1,6})[-–]#?(\d{1,6})\s+(ok!?|ok: .+|stet: .+)$`)

// oneByOne gives the lines with those on several passages of the sheet written one by one. What is judged with another
// passage of them leaves gaps in the numbers; a line that meets no passage stays as it is, and is refused.
func oneByOne(k *keying.Keying, lines []keyedLine) (out []keyedLine) {
	for _, l := range lines {
		m := numberRange.FindStringSubmatch(l.text)
		if m == nil {
			out = append(out, l)
			continue
		}
		first, _ := strconv.Atoi(m[1])
		last, _ := strconv.Atoi(m[2])
		met := false
		for i := range k.Passages {
			if n := k.Passages[i].Number; first <= n && n <= last {
				out, met = append(out, keyedLine{l.number, fmt.Sprintf("#%d %s", n, m[3])}), true
			}
		}
		if !met {
			out = append(out, l)
		}
	}
	return out
}
