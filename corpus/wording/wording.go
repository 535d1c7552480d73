// Package wording puts numbers and lists into the words of messages and pages.
package wording

import (
	"fmt"
	"strings"
)

// Count says how many there are of what a noun names: "1 note", "2 notes", "0 notes".
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// List joins words as a sentence does: "a", "a and b", "a, b and c".
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// CostsMore says what a choice costs above the best, in milli-nats: "costs more by 0.31", and "costs the same" where
// two digits after the point show no difference. Below 0 it is what the choice costs less, at least.
func CostsMore(milliNats int) string {
	switch {
	case milliNats <= -5:
		return fmt.Sprintf("costs less, by %.2f at least", float64(-milliNats)/1000)
	case milliNats < 5:
		return "costs the same"
	}
	return fmt.Sprintf("costs more by %.2f", float64(milliNats)/1000)
}
